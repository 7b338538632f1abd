import { fail, ok, type Result } from '../../base/result.ts'
import type { CellFault } from './readOhms.ts'

/** Which comes first where the year stands last: 5/12 is a day in December or one in May. */
export type DateOrder = 'dayFirst' | 'monthFirst'

/** A day and a time of the clock on the wall. */
export interface WallTime {
  readonly year: number
  /** From 1. */
  readonly month: number
  readonly day: number
  readonly hour: number
  readonly minute: number
  readonly second: number
}

/** Minutes by which a clock is ahead of universal time at that moment: those of the device that reads the list. */
export type ZoneOf = (wall: WallTime) => number

const iso = /^(\d{4})[-/.](\d{1,2})[-/.](\d{1,2})(?:[T\s]+(.+))?$/
const yearLast = /^(\d{1,2})[-/.\s](\d{1,2})[-/.\s](\d{4})(?:[,T\s]+(.+))?$/
const clock =
  /^(\d{1,2}):(\d{2})(?::(\d{2})(?:[.,](\d{1,3})\d*)?)?\s*(am|pm|a\.m\.|p\.m\.)?\s*(z|utc|[+-]\d{2}:?\d{2})?$/i

/** Noon stands for a day without a time. */
const noon = '12:00'

/**
 * An instant, ISO 8601 with its zone, from one cell or from a day and a clock in two. Without a zone of its own the time is that
 * of the device. The order of day and month is never guessed here.
 */
export function readInstant(
  dateCell: string,
  timeCell: string,
  order: DateOrder | null,
  zoneOf: ZoneOf,
): Result<string, CellFault> {
  const text = `${dateCell.trim()} ${timeCell.trim()}`.trim().replace(/^'/, '')
  const day = dayIn(text, order)
  if (!day.ok) return day
  const [year, month, date, rest] = day.value
  const time = clock.exec(rest === '' ? noon : rest)
  const wrong: CellFault = { code: 'value.wrong', expected: 'a time such as 14:05 or 2:05 pm' }
  if (!time) return fail(wrong)
  const hour = hourOf(Number(time[1]), time[5])
  const minute = Number(time[2])
  const second = Number(time[3] ?? 0)
  if (hour === null || minute > 59 || second > 59) return fail(wrong)
  const check = new Date(Date.UTC(year, month - 1, date))
  if (year < 1990 || year > 2200 || check.getUTCMonth() !== month - 1 || check.getUTCDate() !== date) {
    return fail({ code: 'value.wrong', expected: 'a day of the calendar, such as 2031-05-12' })
  }
  const wall = { year, month, day: date, hour, minute, second }
  return ok(`${written(wall, time[4])}${zoneText(time[6], wall, zoneOf)}`)
}

function dayIn(
  text: string,
  order: DateOrder | null,
): Result<readonly [number, number, number, string], CellFault> {
  const first = iso.exec(text)
  if (first) return ok([Number(first[1]), Number(first[2]), Number(first[3]), (first[4] ?? '').trim()])
  const last = yearLast.exec(text)
  if (!last) {
    const expected = 'a day with its year in four digits, such as 2031-05-12 or 12.05.2031'
    return fail({ code: 'value.wrong', expected })
  }
  const [one, other] = [Number(last[1]), Number(last[2])]
  if (order === null && one !== other) {
    return fail({ code: 'value.wrong', expected: 'a day whose order is clear (choose day or month first)' })
  }
  const [date, month] = order === 'monthFirst' ? [other, one] : [one, other]
  return ok([Number(last[3]), month, date, (last[4] ?? '').trim()])
}

function hourOf(hour: number, half: string | undefined): number | null {
  if (half === undefined) return hour <= 23 ? hour : null
  if (hour < 1 || hour > 12) return null
  return (hour % 12) + (/^p/i.test(half) ? 12 : 0)
}

function written({ year, month, day, hour, minute, second }: WallTime, fraction: string | undefined): string {
  const two = (value: number) => String(value).padStart(2, '0')
  const part = fraction === undefined ? '' : `.${fraction.padEnd(3, '0')}`
  return `${year}-${two(month)}-${two(day)}T${two(hour)}:${two(minute)}:${two(second)}${part}`
}

function zoneText(named: string | undefined, wall: WallTime, zoneOf: ZoneOf): string {
  if (named !== undefined)
    return /^(z|utc)$/i.test(named) ? 'Z' : named.replace(/(?<=\d{2}):?(?=\d{2}$)/, ':')
  const ahead = zoneOf(wall)
  const size = Math.abs(ahead)
  const two = (value: number) => String(value).padStart(2, '0')
  return ahead === 0 ? 'Z' : `${ahead < 0 ? '-' : '+'}${two(Math.floor(size / 60))}:${two(size % 60)}`
}

/** What the days say of their order: a number above 12 decides; null where none does, or where they contradict each other. */
export function guessOrder(cells: Iterable<string>): DateOrder | null {
  let dayFirst = false
  let monthFirst = false
  for (const cell of cells) {
    const found = yearLast.exec(cell.trim().replace(/^'/, ''))
    if (!found) continue
    if (Number(found[1]) > 12) dayFirst = true
    if (Number(found[2]) > 12) monthFirst = true
  }
  if (dayFirst === monthFirst) return null
  return dayFirst ? 'dayFirst' : 'monthFirst'
}
