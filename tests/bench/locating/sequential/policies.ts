import { assert } from '../../../../src/base/assert.ts'
import { ask } from '../../../../src/headless/ask.ts'
import { pairPotentials } from '../../../../src/network/solve.ts'
import type { Pair } from '../generator/drawPairs.ts'
import { nodeOf } from '../generator/solveOhms.ts'
import { halvingCandidates, showsFrom } from '../methods/halving.ts'
import { nearestToHighest } from '../methods/nearestHighest.ts'
import { judge } from '../methods/passFail.ts'
import type { TypedSite } from '../typedSite.ts'
import { halvingTest } from './halving.ts'
import { lookedAt, type Action, type Policy } from './policy.ts'

export const adviceName = 'this program’s advice'
export const halvingName = 'half-splitting'

/** The pairs of a first test that were not read yet, in order: what everybody does until something is high. */
function nextOfPlan({ readings }: TypedSite, plan: readonly Pair[]): Action {
  const read = new Set(readings.map(({ entry }) => `${entry.from.part} ${entry.to.part}`))
  const open = plan.find(({ from, to }) => !read.has(`${from} ${to}`))
  return open ? { do: 'read', ...open } : { do: 'leaveOff' }
}

const byRate = (rate: Float64Array, edges: readonly number[]) =>
  edges.toSorted((a, b) => rate[b] - rate[a] || a - b)

/**
 * Pass or fail: once a reading has failed, the joints that every failed and no passed reading shows are halved by
 * pairs from where that reading stood to the points of the plan, until no pair halves them; then they are looked at,
 * those that go bad most often first.
 */
export function halfSplitting(plan: readonly Pair[]): Policy {
  return {
    name: halvingName,
    next(typed) {
      const { prepared, readings, address } = typed
      const { network, solver } = prepared
      const looked = lookedAt(typed)
      const { edges, followed } = halvingCandidates(typed, judge(typed))
      const candidates = edges.filter((e) => !looked.has(address[e]))
      if (candidates.length === 0 || followed === null) return nextOfPlan(typed, plan)
      const read = new Set(readings.map(({ entry }) => `${entry.from.part} ${entry.to.part}`))
      const volts = new Float64Array(network.graph.nodeCount)
      const parts = [...new Set(plan.flatMap(({ from, to }) => [from, to]))]
      const from = readings[followed].entry.from.part
      const tests = parts
        .filter((to) => to !== from && !read.has(`${from} ${to}`))
        .map((to) => {
          pairPotentials(solver.factor, nodeOf(network, from), nodeOf(network, to), volts)
          const squared = (e: number) =>
            (prepared.conductanceS[e] * (volts[network.graph.from[e]] - volts[network.graph.to[e]])) ** 2
          return { to, shows: new Set(candidates.filter((e) => squared(e) >= showsFrom)) }
        })
      const test = halvingTest(candidates, tests)
      if (test) return { do: 'read', from, to: test.to }
      return { do: 'look', joints: [address[byRate(network.defectRate, candidates)[0]]], withTorque: true }
    },
  }
}

/** The plan until a reading fails; then a look at the joint nearest to the highest one's far end. */
export function nearestHighest(plan: readonly Pair[]): Policy {
  return {
    name: 'nearest to the highest reading',
    next(typed) {
      if (judge(typed).fails.length === 0) return nextOfPlan(typed, plan)
      const { joint } = nearestToHighest(typed)
      const looked = lookedAt(typed)
      const order = [...joint.keys()].filter((e) => joint[e] > 0.3 && !looked.has(typed.address[e]))
      if (order.length === 0) return nextOfPlan(typed, plan)
      return { do: 'look', joints: [typed.address[order[0]]], withTorque: true }
    },
  }
}

/** No reading after the first: a look at one joint after the other, those that go bad most often first. */
export function priorOrder(): Policy {
  return {
    name: 'order of the rates',
    next({ prepared, address }) {
      const { defectRate } = prepared.network
      const edges = byRate(
        defectRate,
        [...defectRate.keys()].filter((e) => defectRate[e] > 0),
      )
      return { do: 'look', joints: edges.map((e) => address[e]), withTorque: true }
    },
  }
}

/** What the program advises; the plan while it has no readings to go by or finds nothing worth its minutes. */
export function advised(plan: readonly Pair[]): Policy {
  return {
    name: adviceName,
    next(typed) {
      const answer = ask('next', { countIncidental: true, asBuilt: false }, typed.site, 'benchmark')
      assert(answer.ok, 'the site has problems')
      const looked = lookedAt(typed)
      const checked = lookedAt(typed, true)
      const { stop, actions } = answer.value
      if (stop === 'noReadings') return nextOfPlan(typed, plan)
      for (const action of actions) {
        const { from, to, entry, joint } = action
        if (action.kind === 'pair' && from !== undefined && to !== undefined) return { do: 'read', from, to }
        if (action.kind === 'repeat' && entry !== undefined) return { do: 'repeat', reading: entry }
        if (action.kind === 'shortLeads') return { do: 'shortLeads' }
        const isDone = action.kind === 'retorque' ? checked : looked
        const joints = (action.joints ?? (joint === undefined ? [] : [joint])).filter(
          (each) => !isDone.has(each),
        )
        if (joints.length > 0) return { do: 'look', joints, withTorque: action.kind === 'retorque' }
      }
      return nextOfPlan(typed, plan)
    },
  }
}
