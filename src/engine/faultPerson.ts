import { fail, ok, type Result } from '../base/result.ts'
import { personAnswer } from '../faultcurrent/body/personAnswer.ts'
import type { FaultFlow } from '../faultcurrent/faultFlow.ts'
import { betweenHands, fromHandToFeet } from '../faultcurrent/touchedPlaces.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import type { PersonAnswer, PersonInput } from '../model/faultAnswers.ts'
import type { CurrentKind } from '../model/faultRules.ts'
import { problem, type Problem } from '../model/problem.ts'
import { resolvePair, resolvePart } from './resolvePart.ts'

/** A person by part numbers; `other` null: the feet. */
export interface ResolvedPerson {
  readonly hand: number
  readonly other: number | null
}

/** What is wrong with shoes, reach and ground of a person. */
export function wrongOfPerson({
  surface,
  shoeOhm,
  armReachM,
}: Pick<PersonInput, 'surface' | 'shoeOhm' | 'armReachM'>): Problem[] {
  const problems: Problem[] = []
  const check = (isRight: boolean, expected: string, value: number) => {
    if (!isRight) problems.push(problem('value.outOfRange', { expected, found: String(value) }))
  }
  check(shoeOhm >= 0, 'ohms of a shoe, 0 or more', shoeOhm)
  check(armReachM > 0 && armReachM <= 10, 'metres of reach above 0, at most 10', armReachM)
  if (surface) {
    check(surface.ohmM > 0 && surface.ohmM < Infinity, 'ohm metres of the ground above 0', surface.ohmM)
    const isThick = surface.thicknessM >= 0 && surface.thicknessM < Infinity
    check(isThick, 'metres of a layer, 0 or more', surface.thicknessM)
  }
  return problems
}

/** Where a person stands and what they hold; every problem with it is told. */
export function resolvePerson(
  index: SiteIndex,
  person: PersonInput,
): Result<ResolvedPerson, readonly Problem[]> {
  const { hand, other } = person
  const problems = wrongOfPerson(person)
  if (other === null) {
    const part = resolvePart(index, hand)
    if (!part.ok) problems.push(part.error)
    return part.ok && problems.length === 0 ? ok({ hand: part.value, other: null }) : fail(problems)
  }
  const pair = resolvePair(index, hand, other)
  if (!pair.ok) problems.push(...pair.error)
  return pair.ok && problems.length === 0 ? ok({ hand: pair.value.a, other: pair.value.b }) : fail(problems)
}

/** What one who touches carries for as long as no device has surely acted. */
export function* answerPerson(
  input: PersonInput,
  { hand, other }: ResolvedPerson,
  flow: FaultFlow,
  kind: CurrentKind,
  durationS: number | null,
): Generator<number, PersonAnswer> {
  const touched =
    other === null ? yield* fromHandToFeet(flow, hand, input.armReachM) : betweenHands(flow, hand, other)
  const { soilOhmM } = flow.reduced.prepared.network.index.drawing.facts
  return personAnswer({ ...touched, kind, durationS, soilOhmM }, input)
}
