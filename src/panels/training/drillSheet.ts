import type { DrillAnswer, DrillQuestion, DrillSheet } from '../../model/drill.ts'
import type { AppState } from '../../state/appState.ts'
import type { Identity } from '../../state/identity.ts'
import { nameDrillKit } from '../../text/drillText.ts'
import { nameJoint } from '../../text/jointNames.ts'
import type { NameBook } from '../../text/places.ts'

/** A number that nobody chose: of the digits of a fresh id. */
export function newSeed(identity: Identity): number {
  return Number.parseInt(identity.newId().replaceAll('-', '').slice(-8), 16)
}

/** The line of the sheet for a drill that is over; null while it goes on. */
export function sheetOf(
  { session, drillSheets, identity }: Pick<AppState, 'session' | 'drillSheets' | 'identity'>,
  { revealed, seed, by, kit, readings, minutes, called, mayAsk, asked, score }: DrillAnswer,
  book: NameBook,
): DrillSheet | null {
  if (revealed === null) return null
  const askedOf = (question: DrillQuestion) =>
    mayAsk[question] ? asked.filter((each) => each.question === question).length : null
  return {
    at: identity.now(),
    site: session.site?.name ?? '',
    trainee: drillSheets.trainee,
    trainer: drillSheets.trainer,
    seed,
    by,
    kit: nameDrillKit(kit),
    isFound: revealed.isFound,
    joint: nameJoint(book, revealed.joint),
    readings: readings.length,
    minutes: Number(minutes.toFixed(1)),
    wrongCalls: called.filter(({ isRight }) => !isRight).length,
    badTests: called.filter(({ call, isRight }) => call === 'badTest' && isRight).length,
    asked: { suspects: askedOf('suspects'), next: askedOf('next') },
    points: score.total,
  }
}
