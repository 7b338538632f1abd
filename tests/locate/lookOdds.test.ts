import { describe, expect, it } from 'vitest'
import { foundByLooking, lookOdds } from '../../src/locate/lookOdds.ts'
import type { EntryOf } from '../../src/model/schema/record.ts'
import { locateIn, prepare, rowSite, starOfRows, uuid, withReadings } from './rowSite.ts'

const bare = rowSite()
const prepared = prepare(bare)
const jumper = 'R1/T5+T6~1'
const identity = (n: number) => ({
  id: uuid(n),
  device: uuid(3),
  counter: n,
  at: new Date(Date.UTC(2031, 4, 4, 11, n - 900)).toISOString(),
  visit: uuid(10),
})
const look = (
  n: number,
  finding: EntryOf<'look'>['findings'][number],
  torque: number | null = null,
): EntryOf<'look'> => ({
  ...identity(n),
  entry: 'look',
  joint: jumper,
  findings: [finding],
  torqueAskedNm: torque === null ? null : 20,
  torqueFoundNm: torque,
  torqueSetNm: null,
  photos: [],
  note: '',
})
const repair = (n: number): EntryOf<'repair'> => ({
  ...identity(n),
  entry: 'repair',
  joint: jumper,
  done: 'retorqued',
  torqueSetNm: null,
  coating: 'notTouched',
  photos: [],
  by: '',
  note: '',
})
const oddsAfter = (...entries: Parameters<typeof withReadings>[2] & readonly unknown[]) => [
  ...lookOdds(withReadings(bare, [], entries), prepared.network).values(),
]

/** One high reading at the end of the row, read once: the jumper before it, or a poor contact. */
const high = starOfRows((row, table) => (row === 1 && table === 6 ? 0.6 : 0.02))
const chanceWith = (...entries: readonly EntryOf<'look'>[]) => {
  const answer = locateIn(withReadings(bare, high, entries))
  return answer.groups.find(({ joints }) => joints.some(({ joint }) => joint === jumper))?.probability ?? 0
}

describe('looks and torque as evidence', () => {
  it('a finding raises the odds, a sound look lowers them, an open joint more than a raised one', () => {
    const [sound] = oddsAfter(look(901, 'sound'))
    expect(sound.logOpen).toBeLessThan(sound.logRaised)
    expect(sound.logRaised).toBeLessThan(0)
    const [broken] = oddsAfter(look(901, 'broken'))
    expect(broken.logOpen).toBeGreaterThan(broken.logRaised)
    expect(broken.logRaised).toBeGreaterThan(0)
    const [loose] = oddsAfter(look(901, 'loose', 5))
    expect(loose.logRaised).toBeGreaterThan(oddsAfter(look(901, 'loose'))[0].logRaised)
  })

  it('the same finding twice is one witness; a repair ends what was found before it', () => {
    expect(oddsAfter(look(901, 'loose'), look(902, 'loose'))).toEqual(oddsAfter(look(901, 'loose')))
    const [repaired] = oddsAfter(look(901, 'broken'), repair(902))
    expect(repaired.logOpen).toBeLessThan(0)
    expect(
      foundByLooking(lookOdds(withReadings(bare, [], [look(901, 'broken'), repair(902)]), prepared.network)),
    ).toHaveLength(0)
    expect(
      foundByLooking(lookOdds(withReadings(bare, [], [look(901, 'broken')]), prepared.network)),
    ).toHaveLength(1)
  })

  it('a joint that no reading crosses is a suspect once a look found it broken', () => {
    const clamp = 'R1/T6/F1.1~L1.2'
    const entry = { ...look(901, 'broken'), joint: clamp }
    const named = ({ groups }: ReturnType<typeof locateIn>) =>
      groups.flatMap(({ joints }) => joints).find(({ joint }) => joint === clamp)
    const low = starOfRows(() => 0.02)
    expect(named(locateIn(withReadings(bare, low)))).toBeUndefined()
    const found = locateIn(withReadings(bare, low, [entry]))
    expect(named(found)?.probability).toBeGreaterThan(0.2)
    expect(found.nothingBrokenProbability).toBeLessThan(0.8)
  })

  it('moves the ranking the way it should', () => {
    const before = chanceWith()
    expect(before).toBeGreaterThan(0.02)
    expect(before).toBeLessThan(0.8)
    expect(chanceWith(look(901, 'sound', 20))).toBeLessThan(before)
    expect(chanceWith(look(901, 'loose'))).toBeGreaterThan(before)
    expect(chanceWith(look(901, 'broken'))).toBeGreaterThan(0.85)
  })
})
