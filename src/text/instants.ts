import { printable } from './where.ts'

const form = /^(\d{4}-\d\d-\d\d)T(\d\d:\d\d)/

/** Day and minute of an ISO 8601 instant in the zone that it was written in: `2031-05-04 08:05`. */
export function formatInstant(instant: string): string {
  const found = form.exec(instant)
  return found ? `${found[1]} ${found[2]}` : printable(instant)
}
