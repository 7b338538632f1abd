/** The finaliser of MurmurHash3 over two numbers: 32 bits. */
export function mixed(a: number, b: number): number {
  let h = Math.imul(a + 1, 0x9e3779b1) ^ Math.imul(b, 0x85ebca6b)
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b)
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35)
  return h ^ (h >>> 16)
}

/** Two sums of hashes as one number of 53 bits. */
export function signOf(low: number, high: number): number {
  return (low >>> 0) * 2 ** 21 + (high >>> 11)
}
