import type { LocateAnswer } from '../model/answers.ts'
import { formatChance } from './units.ts'

/** From here on it is told that not everything was weighed. */
const leastUnexplored = 0.05

/** What stands against all chances of an answer, for beside its head; none where the readings fit and all was weighed. */
export function describeDoubts({ headline, trust, unexplored }: LocateAnswer): readonly string[] {
  if (headline === 'noReadings') return []
  const misfit =
    headline === 'doesNotFit'
      ? 'All chances below were toned down for that.'
      : 'The site does not behave as it is drawn: the readings scatter more than instrument, clips and sound joints ' +
        'account for. All chances here were toned down for that.'
  return [
    ...(trust < 1 ? [misfit] : []),
    ...(unexplored > leastUnexplored
      ? [
          `Not all combinations of bad joints were tried: about ${formatChance(unexplored)} of what may be the case was ` +
            'left out, and counts as some other joint that is bad. Put right what is sure, read again and ask again.',
        ]
      : []),
  ]
}

/** By how much the readings were taken to be less certain than entered; null where they were not. */
export function describeToningDown({ trust }: LocateAnswer): string | null {
  if (!(trust < 1)) return null
  const wider = (1 / Math.sqrt(trust)).toPrecision(2)
  return (
    `The site does not behave as it is drawn, so every reading was taken to be ${wider} times as uncertain as its ` +
    'instrument, clips and joints make it, and all chances were toned down by that. Look for what is built otherwise: ' +
    'a part, a joint or a conductor that is not there or not drawn, soil unlike that entered.'
  )
}
