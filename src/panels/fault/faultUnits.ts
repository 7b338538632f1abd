import type { QuantityUnit } from '../../ui/parseQuantity.ts'

export const ampereUnit: QuantityUnit = { symbol: 'A', names: ['amp', 'amps', 'ampere'], takesPrefix: true }
export const faradUnit: QuantityUnit = { symbol: 'F', names: ['farad'], takesPrefix: true }
export const metreUnit: QuantityUnit = { symbol: 'm', names: ['metre', 'metres'] }
export const percentUnit: QuantityUnit = { symbol: '%' }
export const ohmMetreUnit: QuantityUnit = { symbol: 'Ω·m', names: ['ohm m', 'ohmm'] }
export const hertzUnit: QuantityUnit = { symbol: 'Hz', names: ['hertz'] }
