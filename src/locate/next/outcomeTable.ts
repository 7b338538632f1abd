import { assert } from '../../base/assert.ts'
import { cellEnds, type Peak } from './cells.ts'
import { shownBelow, type Predictive, type Showing } from './shown.ts'

/** Predictions that lie within this share of a spread of each other, spreads included, are taken as one. */
const sameShare = 0.05

/** Hypotheses with one and the same prediction, and the weight of each class among them. */
interface Cluster extends Peak {
  readonly weights: Float64Array
}

/** Chance of each class together with each outcome: `joint[c × cells + k]`; they add up to 1. */
export interface OutcomeTable {
  readonly classes: number
  /** The last one: over range. */
  readonly cells: number
  /** Upper end of each cell but the last; the first has no lower end. */
  readonly endOhm: Float64Array
  readonly joint: Float64Array
}

export interface Foreseen {
  readonly classes: number
  readonly clusters: readonly Cluster[]
  readonly showing: Showing
}

/** Gathers predictions that are the same. The order they come in does not matter. O(n log n). */
export function foresee(classes: number, predictives: readonly Predictive[], showing: Showing): Foreseen {
  const sorted = predictives.toSorted(
    (a, b) =>
      (a.meanOhm === b.meanOhm ? 0 : a.meanOhm - b.meanOhm) ||
      a.sdOhm - b.sdOhm ||
      a.classOf - b.classOf ||
      a.weight - b.weight,
  )
  const clusters: Cluster[] = []
  for (const { meanOhm, sdOhm, classOf, weight } of sorted) {
    assert(meanOhm === Infinity || sdOhm > 0, 'a prediction has a spread')
    const same = clusters.find((cluster) => isSame(cluster, meanOhm, sdOhm))
    if (same) same.weights[classOf] += weight
    else {
      const weights = new Float64Array(classes)
      weights[classOf] = weight
      clusters.push({ meanOhm, sdOhm, weights })
    }
  }
  return { classes, clusters, showing }
}

function isSame(cluster: Cluster, meanOhm: number, sdOhm: number): boolean {
  if (cluster.meanOhm === Infinity || meanOhm === Infinity) return cluster.meanOhm === meanOhm
  return (
    Math.abs(cluster.meanOhm - meanOhm) < sameShare * cluster.sdOhm &&
    Math.abs(cluster.sdOhm - sdOhm) < sameShare * cluster.sdOhm
  )
}

/** Chance of each class together with a reading of at most `ohm`. */
export function classesBelow({ classes, clusters, showing }: Foreseen, ohm: number): Float64Array {
  const below = new Float64Array(classes)
  for (const cluster of clusters) {
    const chance = shownBelow(cluster, showing, ohm)
    for (let c = 0; c < classes; c++) below[c] += chance * cluster.weights[c]
  }
  return below
}

/** Sorts what may be read into cells. O(clusters × (cells + classes)). */
export function tabulate({ classes, clusters, showing }: Foreseen): OutcomeTable {
  const endOhm = cellEnds(clusters, showing.mostOhm)
  const cells = endOhm.length + 1
  const joint = new Float64Array(classes * cells)
  for (const cluster of clusters) {
    let before = 0
    for (let k = 0; k < cells; k++) {
      const below = k < endOhm.length ? shownBelow(cluster, showing, endOhm[k]) : 1
      const chance = Math.max(0, below - before)
      before = below
      for (let c = 0; c < classes; c++) joint[c * cells + k] += chance * cluster.weights[c]
    }
  }
  return { classes, cells, endOhm, joint }
}
