import type { ShippedLesson } from '../../model/lessons.ts'

/** Everything that a lesson says, figures in braces. */
export function lessonTextsOf({
  title,
  learns,
  steps,
}: Pick<ShippedLesson, 'title' | 'learns' | 'steps'>): readonly string[] {
  return [
    title,
    learns,
    ...steps.flatMap(({ text, see, question }) => [
      text,
      see,
      ...(question ? [question.why, ...question.choices] : []),
    ]),
  ]
}
