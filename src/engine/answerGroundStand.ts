import { portion, staged } from '../base/portion.ts'
import { fail, ok, type Result } from '../base/result.ts'
import { personAnswer, type TouchedPlaces } from '../faultcurrent/body/personAnswer.ts'
import { permittedSteps } from '../faultcurrent/body/permittedVolts.ts'
import { clearedWithinS } from '../faultcurrent/devices/deviceActs.ts'
import { insulationOf } from '../faultcurrent/deviceSights.ts'
import { largestStep, steepestMetre } from '../faultcurrent/groundSteps.ts'
import { surfaceOf, type Surface } from '../faultcurrent/surfaceVolts.ts'
import { fromGround, voltsToGround } from '../faultcurrent/touchedPlaces.ts'
import { metalNear, type NearMetal } from '../layout/metalNear.ts'
import { partAddressAt } from '../layout/partIndex.ts'
import { partPositionM } from '../layout/positions.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { writePartAddress } from '../model/address.ts'
import type {
  GroundPlace,
  GroundStand,
  GroundStep,
  GroundStandAnswer,
  GroundStandInput,
  GroundTouch,
} from '../model/faultAnswers.ts'
import { problem, type Problem } from '../model/problem.ts'
import type { PointM } from '../model/schema/primitives.ts'
import type { Site } from '../model/schema/site.ts'
import { isBuriedPart } from '../network/drawnPieces.ts'
import { devicesOf, leaksOf, solveFault } from './answerFaultCurrent.ts'
import { basisOf } from './basis.ts'
import { wrongOfPerson } from './faultPerson.ts'
import type { Progress } from './progress.ts'
import { resolvePart } from './resolvePart.ts'
import { indexOf, type SiteCache, type SolvedFault } from './siteCache.ts'

/**
 * The ground while a fault's current passes through soil: the largest step of the site, and, where somebody stands on it, the
 * volts there, the steepest metre, and those against the metal in reach.
 */
export function* answerGroundStand(
  input: GroundStandInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<GroundStandAnswer, readonly Problem[]>> {
  const index = yield* indexOf(site.drawing, cache)
  if (!index.ok) return index
  const problems = [...wrongOfPerson(input), ...wrongPlace(index.value, input.place)]
  if (problems.length > 0) return fail(problems)
  const solved = yield* solveFault(input, site, cache)
  if (!solved.ok) return solved
  const leaks = yield* staged('ground', portion(leaksOf(solved.value, cache), 0, 0.2))
  const surface = surfaceOf(leaks)
  const mostStep = yield* staged('ground', portion(largestStep(leaks, surface), 0.2, 0.7))
  const { circuit, flow } = solved.value
  const insulation = insulationOf(input.drive, flow, circuit.earthedPart)
  const durationS = clearedWithinS(devicesOf(input, site, flow, insulation))
  const kind = input.drive.form === 'pv' ? 'dc' : 'ac'
  const ground = { soilOhmM: site.drawing.facts.soilOhmM, surface: input.surface }
  const atM = input.place && placeM(index.value, input.place, surface)
  return ok({
    basis: basisOf(site),
    throughEarthA: flow.throughEarthA,
    mostStep,
    mostStepBeside: mostStep && besideOf(index.value, mostStep),
    durationS,
    permittedSteps: permittedSteps({ kind, durationS, ground }),
    stand: atM && standAt(input, solved.value, surface, atM, { kind, durationS, soilOhmM: ground.soilOhmM }),
  })
}

function wrongPlace(index: SiteIndex, place: GroundPlace | null): readonly Problem[] {
  if (place === null) return []
  if ('atM' in place) {
    const { x, y } = place.atM
    if (Number.isFinite(x + y)) return []
    return [problem('value.outOfRange', { expected: 'a place in metres', found: `${x} ${y}` })]
  }
  const part = resolvePart(index, place.besidePart)
  return part.ok ? [] : [part.error]
}

const besideM = 2.5

/** The metal nearest to either end of a step, posts and electrodes before frames above them. */
function besideOf(index: SiteIndex, { fromM, toM }: GroundStep): string | null {
  const near = [fromM, toM]
    .flatMap((endM) => metalNear(index, endM, besideM, true))
    .map(({ part, distanceM }) => ({
      part,
      distanceM: distanceM + (isBuriedPart(index, part) ? 0 : besideM),
    }))
    .sort((a, b) => a.distanceM - b.distanceM)
    .at(0)
  return near ? writePartAddress(partAddressAt(index, near.part)) : null
}

const directions = 32

/** One metre from a part, where the ground has the fewest volts of the sign that it has nearer. */
function placeM(index: SiteIndex, place: GroundPlace, surface: Surface): PointM | null {
  if ('atM' in place) return place.atM
  const part = resolvePart(index, place.besidePart)
  const atM = part.ok ? partPositionM(index, part.value) : null
  if (atM === null) return null
  const sign = surface(atM.x, atM.y) < 0 ? -1 : 1
  const round = Array.from({ length: directions }, (_, k) => {
    const turn = (2 * Math.PI * k) / directions
    const point = { x: atM.x + Math.cos(turn), y: atM.y + Math.sin(turn) }
    return { point, volt: sign * surface(point.x, point.y) }
  })
  return round.reduce((least, one) => (one.volt < least.volt ? one : least)).point
}

/** Other metal in reach is told of too where it has so much more than the nearest. */
const worthMore = 1.01

function standAt(
  input: GroundStandInput,
  { flow }: SolvedFault,
  surface: Surface,
  atM: PointM,
  world: Pick<TouchedPlaces, 'kind' | 'durationS' | 'soilOhmM'>,
): GroundStand {
  const { index } = flow.reduced.prepared.network
  const volt = surface(atM.x, atM.y)
  const near = metalNear(index, atM, input.armReachM)
  const against = ({ part }: NearMetal) => voltsToGround(flow, part, volt)
  let worst: NearMetal | undefined = near.at(0)
  for (const one of near) if (worst && against(one) > worthMore * against(worst)) worst = one
  const told = worst && worst !== near[0] ? [near[0], worst] : near.slice(0, 1)
  const touch = told.map(({ part, distanceM }): GroundTouch => ({
    part: writePartAddress(partAddressAt(index, part)),
    distanceM,
    partV: flow.nodeV[part],
    person: personAnswer({ ...world, ...fromGround(flow, part, volt) }, { ...input, other: null }),
  }))
  return { atM, volt, step: steepestMetre(surface, atM), touch }
}
