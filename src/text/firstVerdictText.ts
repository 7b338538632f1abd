import type { FirstVerdict } from '../compare/firstVerdict.ts'
import type { EntryOf } from '../model/schema/record.ts'
import { formatOhm, formatReadOhm } from './ohms.ts'
import { describePath } from './pathText.ts'
import { formatCounted } from './units.ts'
import type { Words } from './words.ts'

type Reading = Pick<EntryOf<'reading'>, 'result' | 'method'>

/** The verdict in a few words: what is told first. */
export function nameFirstVerdict(verdict: FirstVerdict): string {
  switch (verdict.kind) {
    case 'inLine':
      return verdict.peers > 0 ? 'In line with its peers and the model' : 'In line with the model'
    case 'investigate':
      return 'To investigate'
    case 'unlikePeers':
      return verdict.by === 'peers'
        ? 'Within its criterion or model, but unlike its peers'
        : 'Within its criterion, but above what the model explains'
    case 'belowResolution':
      return 'Below what the instrument resolves'
    case 'noMetalPath':
      return 'No metal path'
    case 'unlikely':
      return 'Unlikely, check first'
    case 'electrode':
      return verdict.verdict === 'within' ? 'Within its criterion' : 'To investigate'
    case 'unjudged':
      return 'No criterion'
  }
}

/** What is behind it, in one or two sentences. */
export function describeFirstVerdict(
  verdict: FirstVerdict,
  reading: Reading,
  expectedOhm: number | null,
  words: Words,
): string {
  const { result, method } = reading
  const read = result.form === 'ohm' ? formatReadOhm(result.ohm) : 'over range'
  const expected = expectedOhm === null ? '' : `, where ${formatOhm(expectedOhm)} is expected`
  switch (verdict.kind) {
    case 'inLine': {
      const peers =
        verdict.peers > 0 ? ` Held against ${formatCounted(verdict.peers, 'peer')} of the visit.` : ''
      return `It reads ${read}${expected}.${peers}`
    }
    case 'investigate': {
      const level = formatOhm(verdict.levelOhm)
      const than =
        verdict.by === 'criterion' ? `more than the ${level} of its criterion` : `more than ${level}`
      const reject = verdict.isReject ? ', from which it is rejected' : ''
      const sound = verdict.isExpected ? ' A sound array reads as much here: look at the criterion, too.' : ''
      return `It reads ${read}${expected}: ${than}${reject}.${sound}`
    }
    case 'unlikePeers':
      return (
        `It reads ${read}${expected}; ` +
        (verdict.by === 'peers'
          ? `readings like it in this visit stay below ${formatOhm(verdict.limitOhm)}.`
          : `sound joints explain no more than ${formatOhm(verdict.limitOhm)}.`)
      )
    case 'belowResolution':
      return (
        `It reads ${read}: below ${formatOhm(verdict.boundOhm)} the instrument tells no value from nought, and a ` +
        `sound pair lies there. It shows no open joint; how good the joints are it cannot show.`
      )
    case 'noMetalPath':
      return method === 'loopClamp'
        ? `It reads ${read}, but as drawn no loop leads through this joint.`
        : `It reads ${read}. ${describePath(verdict.path, words)}`
    case 'unlikely':
      return `It reads ${read}${expected}. ${unlikelyBecause[verdict.why]}`
    case 'electrode':
      return verdict.verdict === 'within'
        ? `It reads ${read}; the criterion for electrodes is ${formatOhm(verdict.levelOhm)}.`
        : `It reads ${read}, more than the ${formatOhm(verdict.levelOhm)} of the criterion for electrodes.`
    case 'unjudged':
      return `It reads ${read}. No criterion for electrodes is drawn, and criteria for bonds do not apply to it.`
  }
}

const unlikelyBecause = {
  over: 'A fallen clip, a broken lead or open jaws read the same as an open joint.',
  tooLow: 'No sound array reads so little: is it the right part, and are the leads nulled too far?',
  leadIn: 'The lead is not nulled, and its own ohms are in the value: null it, then read again.',
  farHigh: 'So much is more often a clip on a coating than a joint.',
} as const
