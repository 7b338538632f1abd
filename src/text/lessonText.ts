import { doesHold, type LessonQuestion, type LessonValue, type ShippedLesson } from '../model/lessons.ts'
import type { Lesson } from '../model/schema/faults.ts'
import { fillFigures } from './lessons/fillFigures.ts'
import { quoted } from './where.ts'

/** Labels and sentences of the lessons. */
export const lessonTexts = {
  title: 'Lessons',
  about: 'Short lessons for a crew, on the demo sites. Figures are worked out on the site that is open.',
  shipped: 'Come with the program',
  own: 'Kept in this site',
  learns: 'What one learns',
  open: (title: string) => `Open ${quoted(title)}`,
  onDemo: (name: string) => `On the demo ${name}`,
  close: 'All lessons',
  earlier: 'Back',
  later: 'Next',
  isFirst: 'it is the first step',
  isLast: 'it is the last step',
  isUnanswered: 'choose an answer first',
  show: 'Show on map',
  question: 'Question',
  right: 'Right.',
  wrong: 'Not so.',
  rightIs: (choice: string) => `Right is: ${choice}.`,
  otherwise:
    'On this site, as it is drawn now, the figures do not bear this answer out: it was marked for the demo as it comes.',
  otherSite: 'This lesson is about another site. Open it to see its figures and what it shows on the map.',
  openSite: (name: string) => `Open ${name}`,
  working: 'Working out the figures',
  older: 'Figures are from before the last change.',
  stop: { read: 'Stop', spoken: 'working out the figures' },
  stopped: 'Stopped before the figures were worked out.',
  goOn: 'Go on',
  keep: 'Keep a copy in this site',
  copied: (title: string) => `${quoted(title)} is kept in this site; its texts can be changed.`,
  edit: 'Change the texts',
  editEnd: 'Done',
  lessonTitle: 'Title',
  stepText: (number: number) => `Step ${number}`,
  braces: 'What is in braces is a figure that the program puts in.',
  remove: 'Remove this copy',
  sheet: 'Sheet for the crew',
  name: 'Name',
  date: 'Date',
  signature: 'Signature',
  answers: 'Answers',
  words: 'Words used here',
  onMap: 'On the map',
  cautions: 'Before anybody touches anything',
  noFigures:
    'Figures are missing: they are worked out on the demo site of this lesson. Open it before you print the sheet.',
} as const

/** What a view that prints says. */
export const printTexts = { print: 'Print', close: 'Close', preview: 'Pages' } as const

/** Names of the steps that can be undone. */
export const lessonSteps = {
  keep: (title: string) => `Lesson ${quoted(title)} kept`,
  rename: (title: string) => `Lesson ${quoted(title)} renamed`,
  change: (number: number, title: string) => `Step ${number} of lesson ${quoted(title)}`,
  remove: (title: string) => `Lesson ${quoted(title)} removed`,
} as const

/** `Step 2 of 5` */
export function describePlace(step: number, steps: number): string {
  return `Step ${step + 1} of ${steps}`
}

/**
 * The shipped lesson that a lesson of the site is a copy of: its id, with or without a number behind it; null where it is
 * none. The copy has texts of its own, faults and questions are those of the shipped one, step by step.
 */
export function shippedOf(
  lessons: readonly ShippedLesson[],
  { id }: Pick<Lesson, 'id'>,
): ShippedLesson | null {
  return lessons.find((each) => id === each.id || id.replace(/-\d+$/, '') === each.id) ?? null
}

/** The text of a step: of the copy where there is one and it has the step, with figures put in. */
export function stepText(
  lesson: ShippedLesson,
  copy: Lesson | null,
  step: number,
  values: Readonly<Record<string, LessonValue>>,
): string {
  const text = copy?.steps.at(step)?.text ?? lesson.steps[step].text
  return fillFigures(text, lesson, values)
}

/** What is said after a choice: whether it is right, which one is, and why. */
export function describeChoice(
  question: LessonQuestion,
  chosen: number,
  lesson: ShippedLesson,
  values: Readonly<Record<string, LessonValue>>,
): readonly string[] {
  const { right, choices, why, claims } = question
  const isRight = chosen === right
  const head = isRight ? [lessonTexts.right] : [lessonTexts.wrong, lessonTexts.rightIs(choices[right])]
  const known = claims.every(({ figure }) => Object.hasOwn(values, figure))
  const doubt = known && !claims.every((claim) => doesHold(claim, values)) ? [lessonTexts.otherwise] : []
  return [...head, fillFigures(why, lesson, values), ...doubt]
}
