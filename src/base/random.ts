/** A seeded stream of pseudo-random numbers; the same seed always gives the same stream. */
export interface RandomStream {
  /** Uniform in [0, 1), 53 random bits. */
  uniform(): number
  /** Standard normal. */
  normal(): number
  /** Uniform integer in [0, below). */
  integer(below: number): number
  /** Uniform 32-bit unsigned integer. */
  bits(): number
}

/**
 * xoshiro128** by Blackman and Vigna (2018, "Scrambled linear pseudorandom number generators"), state
 * spread from one 32-bit seed by the finaliser of MurmurHash3. Normals by the Marsaglia polar method (1964).
 */
export function randomStream(seed: number): RandomStream {
  const state = new Uint32Array(4)
  let h = seed >>> 0
  for (let i = 0; i < 4; i++) {
    h = (h + 0x9e3779b9) >>> 0
    let z = h
    z = Math.imul(z ^ (z >>> 16), 0x85ebca6b)
    z = Math.imul(z ^ (z >>> 13), 0xc2b2ae35)
    state[i] = z ^ (z >>> 16)
  }
  const rotl = (x: number, k: number) => (x << k) | (x >>> (32 - k))
  const bits = () => {
    const result = Math.imul(rotl(Math.imul(state[1], 5), 7), 9) >>> 0
    const t = state[1] << 9
    state[2] ^= state[0]
    state[3] ^= state[1]
    state[1] ^= state[2]
    state[0] ^= state[3]
    state[2] ^= t
    state[3] = rotl(state[3], 11)
    return result
  }
  const uniform = () => ((bits() >>> 5) * 67108864 + (bits() >>> 6)) / 9007199254740992
  let spare: number | undefined
  const normal = () => {
    if (spare !== undefined) {
      const value = spare
      spare = undefined
      return value
    }
    for (;;) {
      const u = 2 * uniform() - 1
      const v = 2 * uniform() - 1
      const s = u * u + v * v
      if (s > 0 && s < 1) {
        const f = Math.sqrt((-2 * Math.log(s)) / s)
        spare = v * f
        return u * f
      }
    }
  }
  return { uniform, normal, bits, integer: (below) => Math.floor(uniform() * below) }
}
