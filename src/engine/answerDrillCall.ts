import { fail, ok, type Result } from '../base/result.ts'
import { callBadTest, callJoint, giveUp, nullLeads, seatingOf, type Drill } from '../drill/drill.ts'
import { jointAddressAt } from '../layout/jointIndex.ts'
import { writeJointAddress } from '../model/address.ts'
import type { DrillAnswer, DrillCallInput } from '../model/drill.ts'
import { problem, type Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { keepDrill, nothingTold, runningDrill } from './drillAnswer.ts'
import type { Progress } from './progress.ts'
import { resolveJoint } from './resolveJoint.ts'
import type { SiteCache } from './siteCache.ts'

/** Calls that change nothing of what the readings say. */
const leavesReadings: ReadonlySet<DrillCallInput['call']> = new Set(['joint', 'giveUp', 'look'])

/** A call, and what it made of the drill: a wrong one is told and counted, the right joint ends it. */
// eslint-disable-next-line require-yield -- an answerer that never needs to pause
export function* answerDrillCall(
  input: DrillCallInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<DrillAnswer, readonly Problem[]>> {
  const running = runningDrill(site, cache)
  if (!running.ok) return running
  const next = called(running.value.drill, input)
  if (!next.ok) return next
  const told = leavesReadings.has(input.call) ? running.value.told : nothingTold
  return ok(keepDrill({ ...running.value, drill: next.value, told }, site, cache))
}

function called(drill: Drill, input: DrillCallInput): Result<Drill, readonly Problem[]> {
  switch (input.call) {
    case 'nullLeads':
      return ok(nullLeads(drill))
    case 'look':
      return ok(drill)
    case 'giveUp':
      return ok(giveUp(drill))
    case 'joint':
      return jointCalled(drill, input.joint)
    case 'badTest':
      return badTestCalled(drill, input.reading)
  }
}

function jointCalled(drill: Drill, text: string): Result<Drill, readonly Problem[]> {
  const { index, edgeOfJoint } = drill.network
  const found = resolveJoint(index, text)
  if (!found.ok) return fail([found.error])
  const joint = writeJointAddress(jointAddressAt(index, found.value))
  const isKnown = drill.called.some((each) => each.call === 'joint' && each.joint === joint)
  if (isKnown) return fail([problem('drill.calledBefore', { what: `Joint ${joint}.` }, { address: joint })])
  return ok(callJoint(drill, edgeOfJoint[found.value], joint))
}

function badTestCalled(drill: Drill, reading: number): Result<Drill, readonly Problem[]> {
  const readings = drill.readings.length
  if (!(Number.isInteger(reading) && reading >= 1 && reading <= readings))
    return fail([problem('drill.noSuchReading', { reading, readings })])
  const seating = seatingOf(drill, reading)
  const isKnown = drill.called.some((each) => each.call === 'badTest' && each.reading === seating)
  if (isKnown) return fail([problem('drill.calledBefore', { what: `The clips of reading ${seating}.` })])
  return ok(callBadTest(drill, reading))
}
