import type { LessonFigure, LessonValue, ShippedLesson } from '../../model/lessons.ts'
import { zoneTexts } from '../faultBodyText.ts'
import { verdictWords } from '../faultDeviceText.ts'
import { formatAmpere } from '../criteriaText.ts'
import { formatOhm, formatVolt } from '../ohms.ts'
import { formatSeconds } from '../units.ts'

/** Stands where a figure is not known yet, or its set-up has none. */
export const noFigure = '…'

/** Less than this many volts is told as none. */
const leastV = 1e-6

/** A figure in words with its unit. */
export function formatFigure({ of }: LessonFigure, value: LessonValue): string {
  if (value === null) return noFigure
  if (typeof value === 'boolean') return value ? 'yes' : 'no'
  if (typeof value === 'number') return formatNumber(of, value)
  if (of === 'zone') return zoneTexts[value as keyof typeof zoneTexts].word
  if (of === 'verdict') return verdictWords[value as keyof typeof verdictWords]
  return value
}

function formatNumber(of: LessonFigure['of'], value: number): string {
  if (of === 'ratio') return String(Number(value.toPrecision(2)))
  if (of.endsWith('Ohm')) return formatOhm(value)
  if (of.endsWith('S')) return formatSeconds(value)
  if (of.endsWith('V')) return value < leastV ? '0 V' : formatVolt(value)
  return formatAmpere(value)
}

/**
 * A text with every `{name}` replaced by its figure. What is in braces and names no figure stays as it is written: it is
 * somebody’s own text.
 */
export function fillFigures(
  text: string,
  { figures }: Pick<ShippedLesson, 'figures'>,
  values: Readonly<Record<string, LessonValue>>,
): string {
  return text.replaceAll(/\{(\w+)\}/g, (written, name: string) => {
    if (!Object.hasOwn(figures, name)) return written
    return Object.hasOwn(values, name) ? formatFigure(figures[name], values[name]) : noFigure
  })
}
