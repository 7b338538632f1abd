import { present } from '../base/assert.ts'
import { portion, staged } from '../base/portion.ts'
import { fail, ok, type Result } from '../base/result.ts'
import { largestStep } from '../faultcurrent/groundSteps.ts'
import { surfaceOf } from '../faultcurrent/surfaceVolts.ts'
import { partPositionM } from '../layout/positions.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import type { FaultAnswer } from '../model/faultAnswers.ts'
import type {
  LessonAnswer,
  LessonFigure,
  LessonInput,
  LessonSetup,
  LessonValue,
  PlainFigure,
} from '../model/lessons.ts'
import type { Problem } from '../model/problem.ts'
import type { Site } from '../model/schema/site.ts'
import { answerFaultCurrent, leaksOf, solveFault } from './answerFaultCurrent.ts'
import { basisOf } from './basis.ts'
import { drawnJoint } from './drawnJoint.ts'
import type { Progress } from './progress.ts'
import { resolveJoint } from './resolveJoint.ts'
import { resolvePart } from './resolvePart.ts'
import { indexOf, replaceDrawing, type SiteCache } from './siteCache.ts'

/**
 * Every figure of a lesson: each of its faults is answered once, on the drawing as it is, with the lesson's devices before it
 * instead of those of the drawing. Nothing of it is stored.
 */
export function* answerLesson(
  { setups, figures }: LessonInput,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Result<LessonAnswer, readonly Problem[]>> {
  const index = yield* indexOf(site.drawing, cache)
  if (!index.ok) return index
  const answers = new Map<string, FaultAnswer>()
  for (const [name, { fault, devices }] of Object.entries(setups)) {
    const taught = { ...site, drawing: { ...site.drawing, devices } }
    replaceDrawing(cache, site.drawing, taught.drawing)
    const answer = yield* answerFaultCurrent(fault, taught, cache)
    if (!answer.ok) return answer
    answers.set(name, answer.value)
  }
  const values: Record<string, LessonValue> = {}
  const problems: Problem[] = []
  for (const [name, figure] of Object.entries(figures)) {
    const found =
      figure.of === 'ratio'
        ? ok(ratio(values[figure.top], values[figure.bottom]))
        : figure.of === 'stepV'
          ? yield* stepVolts(index.value, figure, setupOf(setups, figure.in), site, cache)
          : valueOf(index.value, figure, present(answers.get(figure.in), 'a figure is of a set-up'))
    if (found.ok) values[name] = found.value
    else problems.push(...found.error)
  }
  return problems.length > 0 ? fail(problems) : ok({ basis: basisOf(site), values })
}

function setupOf(setups: LessonInput['setups'], name: string): LessonSetup {
  return present(setups[name], 'a figure is of a set-up')
}

function ratio(top: LessonValue | undefined, bottom: LessonValue | undefined): number | null {
  if (typeof top !== 'number' || typeof bottom !== 'number' || bottom === 0) return null
  const value = Math.abs(top / bottom)
  return Number.isNaN(value) ? null : value
}

type Found = Result<LessonValue, readonly Problem[]>

function valueOf(
  index: SiteIndex,
  figure: Exclude<LessonFigure, { of: 'ratio' | 'stepV' }>,
  answer: FaultAnswer,
): Found {
  switch (figure.of) {
    case 'jointA':
    case 'jointV': {
      const joint = resolveJoint(index, figure.joint)
      if (!joint.ok) return fail([joint.error])
      if (figure.of === 'jointA') return ok(Math.abs(answer.currentA[joint.value]))
      const { from, to } = drawnJoint(index, joint.value, true)
      return ok(Math.abs(voltsAt(index, from, answer) - voltsAt(index, to, answer)))
    }
    case 'partV': {
      const part = resolvePart(index, figure.part)
      return part.ok ? ok(Math.abs(answer.partV[part.value])) : fail([part.error])
    }
    case 'verdict':
    case 'leastS':
    case 'mostS': {
      const device = answer.devices.find((each) => each.device === figure.device)
      return ok(device?.[figure.of] ?? null)
    }
    default:
      return ok(plainValue(figure.of, answer))
  }
}

function voltsAt(index: SiteIndex, address: string, { partV }: FaultAnswer): number {
  const part = resolvePart(index, address)
  return part.ok ? partV[part.value] : 0
}

function plainValue(of: PlainFigure, { person, insulation, ...answer }: FaultAnswer): LessonValue {
  switch (of) {
    case 'insulationOhm':
      return insulation?.readsOhm ?? null
    case 'alarmBelowOhm':
    case 'alarms':
    case 'isHidden':
      return insulation?.[of] ?? null
    case 'prospectiveV':
      return person && Math.abs(person.prospectiveV)
    case 'bodyA':
    case 'zone': {
      const middle = person?.currents.find(({ percentile }) => percentile === 50)
      return middle ? (of === 'bodyA' ? middle.currentA : middle.zone) : null
    }
    case 'limitedBy':
      return answer.limitedBy
    default:
      return Math.abs(answer[of])
  }
}

/** The largest step that begins at metal within so many metres of a part, east or west and north or south. */
function* stepVolts(
  index: SiteIndex,
  { round, withinM }: Extract<LessonFigure, { of: 'stepV' }>,
  { fault }: LessonSetup,
  site: Site,
  cache: SiteCache,
): Generator<Progress, Found> {
  const part = resolvePart(index, round)
  if (!part.ok) return fail([part.error])
  const at = partPositionM(index, part.value) ?? { x: 0, y: 0 }
  const solved = yield* solveFault(fault, site, cache)
  if (!solved.ok) return solved
  const leaks = yield* staged('ground', portion(leaksOf(solved.value, cache), 0, 0.3))
  const isNear = (p: number) =>
    Math.max(Math.abs(leaks.xM[p] - at.x), Math.abs(leaks.yM[p] - at.y)) <= withinM
  const most = yield* staged('ground', portion(largestStep(leaks, surfaceOf(leaks), isNear), 0.3, 0.7))
  return ok(most?.volt ?? 0)
}
