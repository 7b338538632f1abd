import { describe, expect, it } from 'vitest'
import { locate } from '../../src/locate/locate.ts'
import { bookAt, emptyLocateCache } from '../../src/locate/locateCache.ts'
import { covarianceOf, rowsOfPairs } from '../../src/locate/pairBook.ts'
import { scatterOfJoints } from '../../src/reading/jointScatter.ts'
import { predictPair, scatteringOhm } from '../../src/reading/pairPrediction.ts'
import { rowsFromPotentials } from '../../src/network/jointSweep.ts'
import { pairPotentials } from '../../src/network/solve.ts'
import { levelLnSd } from '../../src/reading/assumptions.ts'
import { finish, prepare, rowSite, starOfRows, withReadings, type Taken } from './rowSite.ts'

const site = rowSite()
const prepared = prepare(site)
const star = starOfRows((row, table) => (row === 1 && table > 3 ? 0.3 : 0.01))

/** Same text, same bits: numbers are written so that they read back as themselves. */
const text = (value: unknown) => JSON.stringify(value)

describe('a ranking with what earlier ones left behind', () => {
  it('is the same to the last bit, reading by reading, also in another order', () => {
    const cache = emptyLocateCache()
    const backwards = emptyLocateCache()
    finish(locate(withReadings(site, star.toReversed()), prepared, backwards))
    for (let count = 0; count <= star.length; count += 3) {
      const taken = withReadings(site, star.slice(0, count))
      const alone = text(finish(locate(taken, prepared)))
      expect(text(finish(locate(taken, prepared, cache)))).toBe(alone)
      expect(text(finish(locate(taken, prepared, cache)))).toBe(alone)
      expect(text(finish(locate(taken, prepared, backwards)))).toBe(alone)
    }
  })

  it('is the same after readings were taken back, and with a pair read from its other end', () => {
    const cache = emptyLocateCache()
    finish(locate(withReadings(site, star), prepared, cache))
    const turned = star.slice(2, 7).map(({ from, to, ohm }): Taken => ({ from: to, to: from, ohm }))
    const taken = withReadings(site, turned)
    expect(text(finish(locate(taken, prepared, cache)))).toBe(text(finish(locate(taken, prepared))))
  })

  it('of which one was stopped half way is the same', () => {
    const cache = emptyLocateCache()
    const job = locate(withReadings(site, star), prepared, cache)
    for (let k = 0; k < 12; k++) job.next()
    job.return(undefined as never)
    const taken = withReadings(site, star.slice(0, 6))
    expect(text(finish(locate(taken, prepared, cache)))).toBe(text(finish(locate(taken, prepared))))
  })

  it('solves nothing anew for pairs that were read before', () => {
    const cache = emptyLocateCache()
    finish(locate(withReadings(site, star), prepared, cache))
    const steps = (cached: boolean) => {
      let count = 0
      const job = locate(withReadings(site, star), prepared, cached ? cache : emptyLocateCache())
      for (let step = job.next(); !step.done; step = job.next()) if (step.value.stage === 'readings') count++
      return count
    }
    expect(steps(true)).toBe(0)
    expect(steps(false)).toBeGreaterThan(star.length)
  })
})

describe('the book of pairs', () => {
  const node = (k: number) => (k * 37) % prepared.network.graph.nodeCount
  const pairs = [0, 1, 2, 3, 4, 5].map((k) => ({ a: node(k + 1), b: node(3 * k + 11) }))

  it('gives mean and variance of a pair as the prediction of that pair has them', () => {
    const book = finish(bookAt(emptyLocateCache(), prepared, 0))
    const rows = finish(rowsOfPairs(book, pairs))
    const earthPath = prepared.network.kinds.findIndex(({ id }) => id === 'earthPath')
    const scatters = scatteringOhm(prepared)
    pairs.forEach(({ a, b }, p) => {
      const prediction = finish(predictPair(prepared, a, b))
      // what is not followed comes to some nano-ohms together
      expect(Math.abs(rows[p].meanOhm - prediction.expectedOhm)).toBeLessThan(1e-8)
      // the prediction has the level of the soil in its spread too
      const current = currentsOf(a, b)
      let soil = 0
      current.forEach((squared, e) => {
        if (prepared.network.isEarthPath[e] === 1) soil += squared * scatters[e]
      })
      expect(prepared.network.kinds[earthPath].id).toBe('earthPath')
      const variance = covarianceOf(rows[p], rows[p]) + (levelLnSd('earthPath') * soil) ** 2
      expect(Math.abs(Math.sqrt(variance) - prediction.spreadOhm)).toBeLessThan(1e-6)
    })
  })

  it('gives two pairs the covariance of all joints that both cross, summed the plain way', () => {
    const book = finish(bookAt(emptyLocateCache(), prepared, 0))
    const rows = finish(rowsOfPairs(book, pairs))
    const { network } = prepared
    const scatters = scatteringOhm(prepared)
    const scatter = scatterOfJoints(scatters, network.lnSpread, prepared.loopS)
    for (let p = 0; p < pairs.length; p++) {
      for (let q = 0; q < pairs.length; q++) {
        const one = currentsOf(pairs[p].a, pairs[p].b)
        const other = currentsOf(pairs[q].a, pairs[q].b)
        let plain = 0
        const ofKind = network.kinds.map(() => [0, 0])
        for (let e = 0; e < one.length; e++) {
          plain += one[e] * other[e] * scatter.varianceOhm2[e]
          if (network.isEarthPath[e] === 1) continue
          ofKind[network.kind[e]][0] += one[e] * scatters[e]
          ofKind[network.kind[e]][1] += other[e] * scatters[e]
        }
        network.kinds.forEach(({ id }, k) => (plain += levelLnSd(id) ** 2 * ofKind[k][0] * ofKind[k][1]))
        const spread = Math.sqrt(covarianceOf(rows[p], rows[p]) * covarianceOf(rows[q], rows[q]))
        expect(Math.abs(covarianceOf(rows[p], rows[q]) - plain)).toBeLessThan(1e-6 * spread)
        expect(covarianceOf(rows[p], rows[q])).toBe(covarianceOf(rows[q], rows[p]))
      }
    }
  })

  function currentsOf(a: number, b: number): Float64Array {
    const { network, solver, conductanceS } = prepared
    const potentialV = pairPotentials(solver.factor, a, b, new Float64Array(network.graph.nodeCount))
    const squared = new Float64Array(conductanceS.length)
    const fill = rowsFromPotentials(network.graph, conductanceS, network.electrical.blocks.isBridge, [
      potentialV,
    ])
    fill({ first: 0, count: squared.length, readingCount: 1, squared })
    return squared
  }
})
