import { describe, expect, it } from 'vitest'
import { PairDraft } from '../../src/panels/pairDraft.svelte.ts'

const clip = { part: 'R1/T1/F1.1', spot: 'face', surface: 'bare' } as const

/** Everything that can be typed or chosen differs from how a draft begins. */
function full(): PairDraft {
  const draft = new PairDraft()
  draft.type('0,03', 'Ω')
  draft.isOver = true
  Object.assign(draft, { repeats: 'entry', kit: 'meter', lead: 'long', fromText: 'R1', toText: 'R2' })
  Object.assign(draft, { fromClip: clip, toClip: { ...clip, spot: 'boltHead' }, leftUnnulled: 'meter long' })
  draft.noteDown({
    ...{ reverseOhm: 0.02, leastOhm: 0.01, mostOhm: 0.03, testCurrentA: 0.2, metalC: 31, trackerDeg: -20 },
    ...{
      spikeCurrentM: 40,
      spikePotentialM: 24.7,
      note: 'wet',
      photos: ['a'.repeat(64)],
      around: 'R1/T1~T2',
    },
    ...{
      trying: 'clip',
      plan: 'first',
      planPair: 4,
      walkedAfter: 'entry',
      passedOver: [2],
      checking: 'entry',
    },
  })
  return draft
}

describe('a draft that is kept', () => {
  it('comes back whole through plain JSON', () => {
    const kept = full().snapshot()
    const back = new PairDraft()
    back.restore(JSON.parse(JSON.stringify(kept)))
    expect(back.snapshot()).toEqual(kept)
    expect(back.unitOr('mΩ')).toBe('Ω')
  })

  it('keeps every field: none of a full one is as in an empty one', () => {
    const [kept, empty] = [full().snapshot(), new PairDraft().snapshot()]
    const unchanged = Object.keys(kept).filter(
      (key) => kept[key as keyof typeof kept] === empty[key as keyof typeof empty],
    )
    expect(unchanged).toEqual(['chosenUnit'])
    const noted = Object.entries(kept.extras)
    expect(noted.filter(([key, value]) => value === empty.extras[key as keyof typeof empty.extras])).toEqual(
      [],
    )
  })

  it.each([
    ['nothing', null],
    ['a text', 'ohms'],
    ['another shape', { ohms: 3, isOver: 'yes', fromClip: { part: 1 }, added: true }],
  ])('of %s is an empty one', (_, kept) => {
    const draft = full()
    draft.restore(kept)
    expect(draft.snapshot()).toEqual(new PairDraft().snapshot())
  })

  it('of an older program gives what it has', () => {
    const draft = new PairDraft()
    draft.restore({ ohms: '12', typedUnit: 'mΩ' })
    expect(draft.snapshot()).toEqual({ ...new PairDraft().snapshot(), ohms: '12', typedUnit: 'mΩ' })
  })

  it('is begun by what is typed, not by the choice of an instrument', () => {
    const draft = new PairDraft()
    draft.kit = 'meter'
    expect(draft.isBegun).toBe(false)
    draft.toText = 'R2'
    expect(draft.isBegun).toBe(true)
  })
})
