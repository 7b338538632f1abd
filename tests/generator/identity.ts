import type { RandomStream } from '../../src/base/random.ts'

/** A version 4 UUID (RFC 9562, 5.4) out of a seeded stream. */
export function drawUuid(random: RandomStream): string {
  const hex = Array.from({ length: 4 }, () => random.bits().toString(16).padStart(8, '0')).join('')
  const variant = '89ab'[Number.parseInt(hex[16], 16) % 4]
  return [
    hex.slice(0, 8),
    hex.slice(8, 12),
    `4${hex.slice(13, 16)}`,
    `${variant}${hex.slice(17, 20)}`,
    hex.slice(20, 32),
  ].join('-')
}

/** The watch of a working party: starts at an instant and goes on by what is done. */
export interface Watch {
  passS(seconds: number): void
  /** As an instant with zone, in whole seconds. */
  now(): string
  hours(): number
}

export function startWatch(instant: string): Watch {
  const startMs = Date.parse(instant)
  let passedS = 0
  return {
    passS(seconds) {
      passedS += seconds
    },
    now: () => `${new Date(startMs + Math.round(passedS) * 1000).toISOString().slice(0, 19)}Z`,
    hours: () => passedS / 3600,
  }
}
