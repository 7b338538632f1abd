import type { BodyPercentile } from '../../model/faultAnswers.ts'
import type { CurvePoints } from '../../base/throughPoints.ts'

type Row = readonly [volt: number, ohm5: number, ohm50: number, ohm95: number]

/*
 * IEC 60479-1:2005 (2018 has the same figures), total impedance of the body from hand to hand, large areas of contact
 * (some 100 cm²), 50/60 Hz, ohm not exceeded by 5, 50 and 95 % of people. From memory. The edition of 1994 differs by up
 * to a third: tests/outside says where.
 */
const dryAlternating: readonly Row[] = [
  [25, 1750, 3250, 6100],
  [50, 1375, 2500, 4600],
  [75, 1125, 2000, 3600],
  [100, 990, 1725, 3125],
  [125, 900, 1550, 2675],
  [150, 850, 1400, 2350],
  [175, 825, 1325, 2175],
  [200, 800, 1275, 2050],
  [225, 775, 1225, 1900],
  [400, 700, 950, 1275],
  [500, 625, 850, 1150],
  [700, 575, 775, 1050],
  [1000, 575, 775, 1050],
]

/** The same, wet with water (Table 2): from memory. From 125 V on it makes no difference. */
const wetAlternating: readonly Row[] = [
  [25, 1175, 2175, 4100],
  [50, 1100, 2000, 3675],
  [75, 1025, 1825, 3275],
  [100, 975, 1675, 2950],
  ...dryAlternating.slice(4),
]

/**
 * The same for direct current, dry (Table 10): from memory. What was measured is the row of 25 V; the others were
 * calculated by those who wrote the table.
 */
const dryDirect: readonly Row[] = [
  [25, 2100, 3875, 7275],
  [50, 1600, 2900, 5325],
  [75, 1275, 2275, 4100],
  [100, 1100, 1900, 3350],
  [125, 975, 1675, 2875],
  [150, 875, 1475, 2475],
  [175, 825, 1350, 2225],
  ...dryAlternating.slice(7),
]

const columnOf: Readonly<Record<BodyPercentile, 1 | 2 | 3>> = { 5: 1, 50: 2, 95: 3 }

function curves(rows: readonly Row[]): Readonly<Record<BodyPercentile, CurvePoints>> {
  const curve = (percentile: BodyPercentile): CurvePoints =>
    rows.map((row) => [row[0], row[columnOf[percentile]]])
  return { 5: curve(5), 50: curve(50), 95: curve(95) }
}

/** Ohm by volts across the body, hand to hand; a table for wet skin and direct current does not exist. */
export const bodyCurves = {
  dryAlternating: curves(dryAlternating),
  wetAlternating: curves(wetAlternating),
  dryDirect: curves(dryDirect),
} as const
