import type { LikeTables } from './likeTables.ts'

/** One number for the classes of tables t … t + on, the same for every like chain and for no other. */
export type ChainNumber = (t: number, on: number) => number

/** Numbers chains as they are asked for. O(on). */
export function chainNumbers({ classOf, classCount }: LikeTables): ChainNumber {
  const known = new Map<number, number>()
  return (t, on) => {
    let number = classOf[t]
    for (let k = 1; k <= on; k++) {
      const key = (number + 1) * (classCount + 1) + classOf[t + k]
      let next = known.get(key)
      if (next === undefined) {
        next = classCount + known.size
        known.set(key, next)
      }
      number = next
    }
    return number
  }
}

const mostLocal = 1 << 14

/** One number for two parts by their numbers in their tables. */
export function localPair(one: number, other: number): number {
  return one * mostLocal + other
}
