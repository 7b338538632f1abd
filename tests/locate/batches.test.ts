import { describe, expect, it } from 'vitest'
import { batchesOf, crowdingAt, factorAt } from '../../src/locate/batches.ts'
import { soundTail, type Choice } from '../../src/locate/choices.ts'
import { locateIn, prepare, rowSite, starOfRows, withReadings } from './rowSite.ts'
import { severitiesOf } from '../../src/locate/severities.ts'

const prepared = prepare(rowSite())
const { network } = prepared

/** The jumpers of both rows as candidates, each bad with odds of 0.7 %. */
function jumpers() {
  const kind = network.kinds.findIndex(({ id }) => id === 'jumper')
  const edge = Int32Array.from(network.kind.keys()).filter((e) => network.kind[e] === kind)
  const choices = Array.from(edge, (): Choice[] => [
    { addedOhm: Infinity, logPrior: Math.log(0.007), badShare: 1 },
  ])
  return { edge, choices, batches: batchesOf(network, { edge }, choices) }
}

describe('common causes of bad joints', () => {
  it('leave one bad joint about as likely as the catalogue has it, and make the next some times likelier', () => {
    const { batches } = jumpers()
    const step = (k: number) => Math.exp(crowdingAt(batches, k + 1) - crowdingAt(batches, k))
    expect(step(0)).toBeGreaterThan(0.5)
    expect(step(0)).toBeLessThan(3)
    expect(step(1)).toBeGreaterThan(2 * step(0))
    expect(step(2)).toBeGreaterThan(step(1))
    expect(crowdingAt(batches, 100)).toBeGreaterThan(crowdingAt(batches, 99))
  })

  it('have a row and a kind that go bad together among them, and no factor takes odds beyond evens', () => {
    const { batches, edge } = jumpers()
    const scoped = batches.all.flatMap(({ scope, lnFactor }, b) => (scope && lnFactor > 4 ? [b] : []))
    const partly = scoped.filter((b) => {
      const factors = Array.from(edge, (_, k) => factorAt(batches, b, k))
      return Math.max(...factors) > 50 && Math.min(...factors) === 1
    })
    expect(partly.length).toBeGreaterThan(0)
    for (let b = 0; b < batches.all.length; b++)
      for (let k = 0; k < edge.length; k++)
        expect(0.007 * factorAt(batches, b, k)).toBeLessThanOrEqual(1 + 1e-12)
  })

  it('show where one row has several bad joints', () => {
    // every jumper of the row adds as much again: five bad joints and not one
    const steps = starOfRows((row, table) => (row === 1 ? 0.8 * (table - 1) + 0.012 : 0.02))
    const { badCount } = locateIn(withReadings(rowSite(), steps))
    const several = badCount.slice(3).reduce((sum, p) => sum + p, 0)
    expect(several).toBeGreaterThan(0.9)
  })
})

describe('sound joints with more ohms than most', () => {
  it('have the share of the log-normal tail that the normal lacks, less the further out', () => {
    const e = network.kind.findIndex((k) => network.kinds[k].id === 'frameClamp')
    const tail = severitiesOf(network.medianOhm[e]).map(({ addedOhm }) => soundTail(network, e, addedOhm))
    const first = tail.findIndex((p) => p > 0)
    expect(tail[first]).toBeGreaterThan(1e-3)
    for (let k = first + 1; k < tail.length; k++) expect(tail[k]).toBeLessThanOrEqual(tail[k - 1])
    expect(tail.at(-1)).toBe(0)
  })
})
