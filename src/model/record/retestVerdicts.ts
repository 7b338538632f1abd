import type { JudgedReading, ReadingAnswer } from '../answers.ts'

/** `good`: not above its criterion's levels, and as a sound array would read. */
export type RetestVerdict = 'good' | 'bad'

/**
 * What each reading says as a retest, by entry. One that both answers do not know yet, or that does not count, has none.
 * Where no criterion applies (a clamp, an electrode) the network's expectation alone decides.
 */
export function retestVerdicts(
  judged: readonly Pick<JudgedReading, 'entry' | 'verdict'>[],
  located: readonly Pick<ReadingAnswer, 'entry' | 'verdict'>[],
): ReadonlyMap<string, RetestVerdict> {
  const byCriterion = new Map(judged.map(({ entry, verdict }) => [entry, verdict]))
  const verdicts = new Map<string, RetestVerdict>()
  for (const { entry, verdict } of located) {
    const held = byCriterion.get(entry)
    if (held === undefined || verdict === 'setAside') continue
    const isWithin = held === 'within' || held === 'none'
    verdicts.set(entry, isWithin && verdict === 'inLine' ? 'good' : 'bad')
  }
  return verdicts
}
