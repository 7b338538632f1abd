const months = ['January', 'February', 'March', 'April', 'May', 'June', 'July'].concat([
  'August',
  'September',
  'October',
  'November',
  'December',
])
const dayMs = 86_400_000
const zone = /([+-])(\d\d):(\d\d)$/

/** How far the clock of an ISO 8601 instant is ahead of universal time. */
function zoneMs(instant: string): number {
  const found = zone.exec(instant)
  if (!found) return 0
  const [, sign, hours, minutes] = found
  return (sign === '-' ? -1 : 1) * (Number(hours) * 60 + Number(minutes)) * 60_000
}

function dayNumber(instant: string, shiftMs: number): number {
  return Math.floor((Date.parse(instant) + shiftMs) / dayMs)
}

/** Whether both instants fall on one calendar day, by the clock of the second. */
export function isSameDay(instant: string, now: string): boolean {
  const shiftMs = zoneMs(now)
  return dayNumber(instant, shiftMs) === dayNumber(now, shiftMs)
}

/** Time from one instant to another; negative where the second is the earlier one. */
export function hoursBetween(from: string, to: string): number {
  return (Date.parse(to) - Date.parse(from)) / 3_600_000
}

/** `12 May`, with the year where it is not that of `now`, by the clock that the instant was written with. */
export function formatDay(instant: string, now: string): string {
  const day = new Date(Date.parse(instant) + zoneMs(instant))
  const year = day.getUTCFullYear()
  const name = `${day.getUTCDate()} ${months[day.getUTCMonth()]}`
  return now.startsWith(`${year}-`) ? name : `${name} ${year}`
}

/** `08:05`, by the clock that the instant was written with. */
export function formatClock(instant: string): string {
  return instant.slice(11, 16)
}
