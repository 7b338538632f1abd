/**
 * Current of one photovoltaic module against its volts, from short-circuit current and open-circuit volts alone. With v the
 * volts in parts of the open-circuit ones and G the share of standard light,
 *
 *   I(v) = Isc [ G − (1 − s) (e^{v/α} − 1)/(e^{1/α} − 1) − s v ]
 *
 * the single-diode equation without series resistance: light current, diode, shunt (textbook form; cf. Jain and Kapoor 2004,
 * "Exact analytical solutions of the parameters of real solar cells using Lambert W-function", Solar Energy Materials and
 * Solar Cells 81, 269–277). It falls everywhere, passes Isc at 0 and 0 at Voc in full light, and goes on to negative
 * currents: what parallel strings push backwards through a module.
 */
export interface PvCurve {
  /** Of one module. */
  readonly openCircuitV: number
  readonly shortCircuitA: number
  readonly light: number
}

/** n kT/q over the open-circuit volts of a cell, 1.2 · 25.7 mV / 0.68 V: a fill factor of some 0.81 (judgement). */
const alpha = 0.045
/** Share of the short-circuit current that a module loses in its shunt at open circuit (judgement). */
const shuntShare = 0.01
/** Above e^so many the diode goes on along its tangent: 22 000 times the light current is beyond any question. */
const mostExponent = 10

const full = Math.expm1(1 / alpha)

/** Amperes out of the positive terminal at `volt` across the module. */
export function pvCurrentA({ openCircuitV, shortCircuitA, light }: PvCurve, volt: number): number {
  const v = volt / openCircuitV
  return shortCircuitA * (light - (1 - shuntShare) * diode(v) - shuntShare * v)
}

/** −dI/dV in siemens, above 0 everywhere. */
export function pvSlopeS({ openCircuitV, shortCircuitA }: PvCurve, volt: number): number {
  const v = volt / openCircuitV
  return (shortCircuitA / openCircuitV) * ((1 - shuntShare) * diodeSlope(v) + shuntShare)
}

/** Volts at which the module gives no current: its open-circuit volts in this light. Bisection, to the last digit. */
export function pvOpenV(curve: PvCurve): number {
  let low = 0
  let high = 2 * curve.openCircuitV
  for (let step = 0; step < 80; step++) {
    const middle = (low + high) / 2
    if (pvCurrentA(curve, middle) > 0) low = middle
    else high = middle
  }
  return (low + high) / 2
}

/** (e^{v/α} − 1)/(e^{1/α} − 1), along its tangent above e^(1/α + 10). */
function diode(v: number): number {
  const beyond = v / alpha - (1 / alpha + mostExponent)
  if (beyond <= 0) return Math.expm1(v / alpha) / full
  return (Math.exp(1 / alpha + mostExponent) * (1 + beyond) - 1) / full
}

function diodeSlope(v: number): number {
  return Math.exp(Math.min(v / alpha, 1 / alpha + mostExponent)) / alpha / full
}
