import type { QuantityUnit } from '../../ui/parseQuantity.ts'

export const torqueUnit: QuantityUnit = { symbol: 'N·m', names: ['Nm', 'N m', 'N*m'] }

/** As far as an entry takes them; a required torque of nothing says nothing. */
export const torqueLimits = { asked: { least: 0.1, most: 10_000 }, found: { least: 0, most: 10_000 } }
