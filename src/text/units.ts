import { assert } from '../base/assert.ts'

export type Units = 'metric' | 'us'

/** A chance in per cent. Never 0 % and never 100 %: `< 1 %`, `> 99 %`. */
export function formatChance(probability: number): string {
  assert(probability >= -1e-9 && probability <= 1 + 1e-9, `${probability} is no probability`)
  if (probability < 0.01) return '< 1 %'
  if (probability > 0.99) return '> 99 %'
  return `${Math.round(probability * 100)} %`
}

/** A share of something counted or carried: here 0 % and 100 % are facts, and stay so only when exact. */
export function formatShare(share: number): string {
  if (share === 0) return '0 %'
  if (share === 1) return '100 %'
  if (share > 0.995 && share < 1) return '> 99 %'
  if (share < 0.01) return share < 0.001 ? '< 0.1 %' : `${(share * 100).toFixed(1)} %`
  return `${Math.round(share * 100)} %`
}

/** A rate such as a share found bad in a new array: `0.3 %`. */
export function formatRate(rate: number): string {
  return `${Number((rate * 100).toPrecision(2))} %`
}

/** Whole numbers with groups of three, by the English comma from five figures on: 4,800 is written 4800. */
export function formatCount(count: number): string {
  const text = Math.round(count).toString()
  return text.length <= 4 ? text : text.replace(/\B(?=(\d{3})+$)/g, ',')
}

/** `1 joint`, `2 joints`, `12,480 joints`; the plural where it is not formed by an s. */
export function formatCounted(count: number, one: string, many = `${one}s`): string {
  return `${formatCount(count)} ${count === 1 ? one : many}`
}

/** An expected number of things, which need not be whole: `0.4`, `12`, `< 0.01`. */
export function formatExpected(value: number): string {
  if (value < 0.01) return value === 0 ? '0' : '< 0.01'
  return value < 10 ? String(Number(value.toPrecision(2))) : formatCount(value)
}

/** A length given in metres, in the site's units: `12.5 m`, `40 mm`; `41 ft`, `1.6 in`. */
export function formatLength(lengthM: number, units: Units): string {
  if (units === 'us') {
    const inches = lengthM / 0.0254
    return inches < 36 ? `${Number(inches.toPrecision(2))} in` : `${Number((inches / 12).toPrecision(3))} ft`
  }
  return lengthM < 1 ? `${Number((lengthM * 1000).toPrecision(2))} mm` : `${Number(lengthM.toPrecision(3))} m`
}

/** A temperature to the degree, in °F on a US site. */
export function formatTemperature(celsius: number, units: Units): string {
  return units === 'us' ? `${Math.round(celsius * 1.8 + 32)} °F` : `${Math.round(celsius)} °C`
}

/** Current for one ampere through the pair: `0.31 A/A` says more than a bare number. */
export function formatPerAmpere(perAmpere: number): string {
  const sign = perAmpere < 0 ? '−' : ''
  const magnitude = Math.abs(perAmpere)
  if (magnitude > 0 && magnitude < 0.0001) return `${sign}< 0.0001`
  return `${sign}${magnitude.toFixed(4)}`
}

/** Evidence in bits, whole from ten on: `9.2 bits`, `34 bits`; beyond 100 no model is that good. */
export function formatBits(bits: number): string {
  const magnitude = Math.abs(bits)
  if (magnitude < 0.05) return 'less than 0.1 bits'
  if (magnitude > 100) return 'more than 100 bits'
  const text = magnitude < 9.95 ? magnitude.toFixed(1) : Math.round(magnitude).toString()
  return `${text.replace(/\.0$/, '')} ${text === '1.0' ? 'bit' : 'bits'}`
}

/** 1 → 1st, 2 → 2nd, 3 → 3rd, 11 → 11th … */
export function ordinal(number: number): string {
  const tens = number % 100
  const ending = tens >= 11 && tens <= 13 ? 'th' : (['th', 'st', 'nd', 'rd'][number % 10] ?? 'th')
  return `${number}${ending}`
}

/** `a`, `a and b`, `a, b and c`. */
export function inWords(items: readonly string[]): string {
  if (items.length <= 1) return items.join('')
  return `${items.slice(0, -1).join(', ')} and ${items[items.length - 1]}`
}

/** First letter large, for names that begin a sentence. */
export function capital(sentence: string): string {
  return sentence.charAt(0).toUpperCase() + sentence.slice(1)
}

/** Seconds as one says them, two figures: `40 ms`, `0.4 s`, `90 s`, `10 min`, `2 h`. */
export function formatSeconds(seconds: number): string {
  const two = (value: number) => Number(value.toPrecision(2))
  if (seconds < 0.0995) return `${two(seconds * 1000)} ms`
  if (two(seconds) <= 120) return `${two(seconds)} s`
  return two(seconds / 60) < 60 ? `${two(seconds / 60)} min` : `${two(seconds / 3600)} h`
}
