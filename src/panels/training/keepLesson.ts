import {
  addLesson,
  canAddLesson,
  canChangeLesson,
  canRemoveLesson,
  changeLesson,
  removeLesson,
} from '../../model/edits/faults.ts'
import type { ShippedLesson } from '../../model/lessons.ts'
import type { Lesson } from '../../model/schema/faults.ts'
import type { AppState } from '../../state/appState.ts'
import { lessonSteps, lessonTexts } from '../../text/lessonText.ts'
import { changeOf, makeChange } from '../draw/change.ts'

/** The id of a copy tells which lesson it is of: that of the lesson, with a number behind it where it is taken. */
function freeId(id: string, taken: readonly Lesson[]): string {
  const used = new Set(taken.map((each) => each.id))
  if (!used.has(id)) return id
  for (let n = 2; ; n++) if (!used.has(`${id}-${n}`)) return `${id}-${n}`
}

/** Puts a copy of a lesson into the site, as one step that can be undone; why not where it cannot. */
export function keepLesson(app: AppState, { id, title, steps }: ShippedLesson): string | null {
  const { site } = app.session
  if (!site) return null
  const copy: Lesson = {
    id: freeId(id, site.drawing.lessons),
    title,
    steps: steps.map(({ text, about }) => ({ text, about })),
  }
  const trouble = makeChange(app, changeOf(canAddLesson, addLesson, copy, lessonSteps.keep(title)))
  if (trouble !== null) return trouble
  app.lessonDesk.showCopy(copy.id)
  app.announcer.say(lessonTexts.copied(title))
  return null
}

export function renameLesson(app: AppState, { id }: Lesson, title: string): string | null {
  const args = { id, changes: { title } }
  return makeChange(app, changeOf(canChangeLesson, changeLesson, args, lessonSteps.rename(title)))
}

export function changeStep(app: AppState, lesson: Lesson, step: number, text: string): string | null {
  const steps = lesson.steps.map((each, k) => (k === step ? { ...each, text } : each))
  const args = { id: lesson.id, changes: { steps } }
  const label = lessonSteps.change(step + 1, lesson.title)
  return makeChange(app, changeOf(canChangeLesson, changeLesson, args, label))
}

export function dropLesson(app: AppState, { id, title }: Lesson): string | null {
  const trouble = makeChange(app, changeOf(canRemoveLesson, removeLesson, { id }, lessonSteps.remove(title)))
  if (trouble === null) app.lessonDesk.close()
  return trouble
}
