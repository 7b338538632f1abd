import { fail, ok, type Result } from '../base/result.ts'
import { acCircuit } from '../faultcurrent/acCircuit.ts'
import type { Circuit } from '../faultcurrent/circuit.ts'
import { pvCircuit } from '../faultcurrent/pvCircuit.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import type { FaultDrive } from '../model/faultAnswers.ts'
import { problem, type Problem } from '../model/problem.ts'
import { resolvePart } from './resolvePart.ts'

/** The circuit of a question by part numbers; every problem with what was asked is told. */
export function resolveCircuit(
  index: SiteIndex,
  at: string,
  drive: FaultDrive,
): Result<Circuit, readonly Problem[]> {
  const problems = [...wrongNumbers(drive)]
  const part = (text: string | null): number => {
    if (text === null) return index.remoteEarth
    const found = resolvePart(index, text)
    if (!found.ok) problems.push(found.error)
    return found.ok ? found.value : -1
  }
  const places = { at: part(at), other: -1, second: null as number | null }
  places.other = part(drive.form === 'ac' ? drive.source.returnPart : drive.earthedAt)
  if (drive.form === 'pv' && drive.second) places.second = part(drive.second.part)
  if (problems.length > 0) return fail(problems)
  if (drive.form === 'ac') return ok(acCircuit(drive, places.at, places.other))
  return ok(pvCircuit(drive, { at: places.at, second: places.second, earthed: places.other }))
}

function wrongNumbers(drive: FaultDrive): Problem[] {
  const found: Problem[] = []
  const check = (isRight: boolean, expected: string, value: number) => {
    if (!isRight) found.push(problem('value.outOfRange', { expected, found: String(value) }))
  }
  const isOhm = (ohm: number) => ohm >= 0 && ohm < Infinity
  if (drive.form === 'ac') {
    check(isOhm(drive.conductorOhm), 'ohms of the conductor, 0 or more', drive.conductorOhm)
    return found
  }
  const { modulesInSeries, stringsInParallel } = drive.source
  const places = [drive.moduleFromNegative, ...(drive.second ? [drive.second.moduleFromNegative] : [])]
  for (const place of places) {
    const isPlace = Number.isInteger(place) && place >= 0 && place <= modulesInSeries
    check(isPlace, `modules from the negative pole, 0 to ${modulesInSeries}`, place)
  }
  if (drive.second && !drive.second.sameString)
    check(stringsInParallel > 1, 'more than one string for a second fault on another', stringsInParallel)
  check(isOhm(drive.earthingOhm), 'ohms of the earthing connection, 0 or more', drive.earthingOhm)
  check(drive.insulationOhm > 0, 'ohms of insulation above 0', drive.insulationOhm)
  check(isOhm(drive.capacitanceF), 'a capacitance of 0 or more', drive.capacitanceF)
  check(drive.light > 0 && drive.light <= 1.5, 'a share of standard light above 0, at most 1.5', drive.light)
  return found
}
