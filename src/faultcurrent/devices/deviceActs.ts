import { fail, ok, type Result } from '../../base/result.ts'
import type { DeviceActs, InsulationSeen } from '../../model/faultAnswers.ts'
import type { CurrentKind, FaultRule, RuleRefusal } from '../../model/faultRules.ts'
import type { ProtectiveDevice } from '../../model/schema/faults.ts'
import { inverterResidualActs } from '../insulation/inverterResidual.ts'
import type { Acting } from './acting.ts'
import { breakerActs, type BreakerType } from './circuitBreaker.ts'
import { generalFuseActs, pvFuseActs } from './fuse.ts'
import { groundFaultFuseActs } from './groundFaultFuse.ts'
import { parsedResidual, residualActs } from './residualCurrent.ts'

/** What a device has before it. */
export interface DeviceSight {
  readonly kind: CurrentKind
  /** Amperes where it sits (rms for alternating current): overcurrent, or what does not come back for residual current. */
  readonly seesA: number
  /** Whether that current came at once. */
  readonly isSudden: boolean
  /** What insulation monitoring reads; null where there is none. */
  readonly insulation: InsulationSeen | null
}

/** Whether and when a device acts. One that the rules here do not cover says so and why, and never a time. */
export function deviceActs(device: ProtectiveDevice, sight: DeviceSight): DeviceActs {
  const answer = actingOf(device, sight)
  const { seesA } = sight
  return answer.ok
    ? { device: device.id, seesA, ...answer.value, refusal: null }
    : {
        device: device.id,
        seesA,
        verdict: 'notCovered',
        leastS: null,
        mostS: null,
        rule: ruleOf[device.form],
        refusal: answer.error,
      }
}

/** Seconds by which the first device that surely acts has acted; null where none does: the fault stays without end. */
export function clearedWithinS(devices: readonly DeviceActs[]): number | null {
  const times = devices.flatMap(({ verdict, mostS }) => (verdict === 'acts' && mostS !== null ? [mostS] : []))
  return times.length === 0 ? null : Math.min(...times)
}

/** The rule that is named where none applies. */
const ruleOf: Readonly<Record<ProtectiveDevice['form'], FaultRule>> = {
  fuse: 'fuseConventional',
  circuitBreaker: 'breaker',
  residualCurrent: 'residualGeneral',
  groundFaultFuse: 'groundFaultFuse',
  insulationMonitor: 'insulationAtStart',
}

function actingOf(device: ProtectiveDevice, sight: DeviceSight): Result<Acting, RuleRefusal> {
  const { kind, seesA } = sight
  const { form, ratedA } = device
  const written = device.characteristic.trim().toLowerCase()
  if (form === 'insulationMonitor') return monitorActs(sight)
  if (form === 'residualCurrent' && written === 'inverter')
    return ok(inverterResidualActs({ continuousA: ratedA ?? 0.3, isSudden: sight.isSudden }, seesA))
  if (ratedA === null) return fail({ refused: 'noRating' })
  switch (form) {
    case 'fuse':
      if (written === 'gg') return ok(generalFuseActs(ratedA, seesA))
      if (written === 'gpv') return pvFuseActs(ratedA, seesA, kind)
      return fail({ refused: 'unknownCharacteristic', known: ['gG', 'gPV'] })
    case 'circuitBreaker':
      if (written === 'b' || written === 'c' || written === 'd')
        return breakerActs(written.toUpperCase() as BreakerType, ratedA, seesA, kind)
      return fail({ refused: 'unknownCharacteristic', known: ['B', 'C', 'D'] })
    case 'residualCurrent': {
      const type = parsedResidual(device.characteristic)
      return type.ok ? ok(residualActs(type.value, ratedA, seesA, kind)) : type
    }
    case 'groundFaultFuse':
      return groundFaultFuseActs(ratedA, seesA, kind)
  }
}

/** A monitor alarms, or keeps an inverter from starting: it interrupts nothing, so there is no time by which it has. */
function monitorActs({ insulation }: DeviceSight): Result<Acting, RuleRefusal> {
  if (insulation === null) return fail({ refused: 'alternatingCurrent' })
  const { alarms, isHidden } = insulation
  return ok({
    verdict: alarms ? 'acts' : 'never',
    leastS: alarms ? 0 : null,
    mostS: null,
    rule: isHidden ? 'insulationHidden' : 'insulationAtStart',
  })
}
