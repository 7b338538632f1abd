import { formatAmpere } from './criteriaText.ts'
import { formatVolt } from './ohms.ts'

/** Amperes without a sign; what is as good as none is 0. */
export function faultAmpere(ampere: number): string {
  const size = Math.abs(ampere)
  if (size === 0) return '0 A'
  return size < 1e-6 ? 'below 0.001 mA' : formatAmpere(size)
}

/** Volts without a sign: which of two places has more of them is said in words. */
export function faultVolt(volt: number): string {
  const size = Math.abs(volt)
  return size === 0 ? '0 V' : size < 1e-6 ? 'below 0.001 mV' : formatVolt(size)
}

/** With its sign: between a part above the soil and one below there is the sum of both. */
export function faultVoltSigned(volt: number): string {
  return `${volt <= -1e-6 ? '−' : ''}${faultVolt(volt)}`
}

export function faultJoule(joule: number): string {
  if (joule === 0) return '0 J'
  const milli = 1000 * joule
  return joule < 1 ? `${Number(milli.toPrecision(2))} mJ` : `${Number(joule.toPrecision(2))} J`
}

export function faultFarad(farad: number): string {
  if (farad === 0) return '0 µF'
  return farad < 1e-6
    ? `${Number((farad * 1e9).toPrecision(3))} nF`
    : `${Number((farad * 1e6).toPrecision(3))} µF`
}
