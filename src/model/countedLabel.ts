import { limits } from './limits.ts'

/** What stands before, in and after the last number of a label. */
interface Counted {
  readonly before: string
  readonly number: number
  /** Digits that the number is filled up to with noughts. */
  readonly digits: number
  readonly after: string
}

/** Numbers of more digits are no counts but dates or serial numbers, and are left as they are. */
const mostDigits = 9

function lastNumber(label: string): Counted {
  const found = /^(.*?)([0-9]+)([^0-9]*)$/s.exec(label)
  if (!found || found[2].length > mostDigits) {
    const before = `${label.slice(0, limits.nameLength - mostDigits - 1)} `
    return { before, number: 1, digits: 1, after: '' }
  }
  const [, before, digits, after] = found
  return { before, number: Number(digits), digits: digits.startsWith('0') ? digits.length : 1, after }
}

function write({ before, digits, after }: Counted, number: number): string {
  const counted = String(number).padStart(digits, '0') + after
  return before.slice(0, limits.nameLength - counted.length) + counted
}

/**
 * Gives labels for copies, none twice: a label that is free stays as it is; of one that is taken the last number is
 * counted up to the next that is free (`Row 1` → `Row 2`, `A-09` → `A-10`); one without a number gets ` 2`. No label
 * stays none. Cost of a label is nearly constant, also of the thousandth copy.
 */
export function labelCounter(taken: Iterable<string>): (label: string) => string {
  const used = new Set(taken)
  // For each series of labels: from a number that is taken to one behind it that may be free.
  const series = new Map<string, Map<number, number>>()

  return (label) => {
    if (label === '' || !used.has(label)) {
      used.add(label)
      return label
    }
    const counted = lastNumber(label)
    const key = JSON.stringify([counted.before, counted.digits, counted.after])
    const skips = series.get(key) ?? new Map<number, number>()
    series.set(key, skips)
    const passed: number[] = []
    let number = counted.number + 1
    for (;;) {
      const skip = skips.get(number)
      if (skip === undefined && !used.has(write(counted, number))) break
      passed.push(number)
      number = skip ?? number + 1
    }
    for (const before of passed) skips.set(before, number)
    const made = write(counted, number)
    used.add(made)
    return made
  }
}
