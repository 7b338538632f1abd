import type { RandomStream } from '../../base/random.ts'

/** So many of the numbers 0 … count − 1, every set of them as likely as any other, ascending. Partial shuffle. O(count). */
export function drawByLot(count: number, drawn: number, random: RandomStream): readonly number[] {
  const numbers = Array.from({ length: count }, (_, k) => k)
  for (let k = 0; k < drawn; k++) {
    const at = k + random.integer(count - k)
    const [one, other] = [numbers[at], numbers[k]]
    numbers[k] = one
    numbers[at] = other
  }
  return numbers.slice(0, drawn).toSorted((a, b) => a - b)
}
