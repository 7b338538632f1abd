import { present } from '../base/assert.ts'
import type { Confidence } from './materials.ts'

/** IEC 60228: the most ohms per km at 20 °C that a conductor of this nominal area may have. */
export interface MetricSize {
  readonly system: 'metric'
  readonly id: MetricSizeId
  readonly areaMm2: number
  /** Classes 1 and 2, except that solid copper of 185 mm² and more is allowed a little more. */
  readonly copperClass2MaxOhmPerKm: number
  readonly tinnedCopperClass2MaxOhmPerKm: number
  readonly copperClass5MaxOhmPerKm: number
  readonly tinnedCopperClass5MaxOhmPerKm: number
  /** The standard gives stranded aluminium from 10 mm² up. */
  readonly aluminiumMaxOhmPerKm: number | null
}

/** NEC Chapter 9 Table 8: ohms per 1000 ft at 75 °C for one size and one way of building it. */
export interface AmericanRow {
  readonly strands: 'solid' | 'stranded'
  readonly copperOhmPerKft: number
  readonly coatedCopperOhmPerKft: number
  readonly aluminiumOhmPerKft: number
  readonly confidence: Confidence
}

export interface AmericanSize {
  readonly system: 'american'
  readonly id: AmericanSizeId
  readonly label: string
  readonly circularMils: number
  /** Circular mils turned into mm². */
  readonly areaMm2: number
  /** 14 to 8 AWG have a solid and a 7-strand row, 6 AWG and larger are stranded. */
  readonly rows: readonly AmericanRow[]
}

export type ConductorSize = MetricSize | AmericanSize

export const metricSource = 'IEC 60228:2004 (ed. 3) Tables 1 to 3'
export const americanSource = 'NFPA 70 (NEC) 2014, Chapter 9 Table 8'

/** A circle of one thousandth of an inch across, in mm². */
export const circularMilMm2 = (Math.PI / 4) * 0.0254 * 0.0254

// Id, mm², then Ω/km: copper class 2 plain, tinned, class 5 plain, tinned, aluminium.
// At 50 mm² class 5 may have less resistance than class 2: so printed, because the nominal 50 mm² of
// class 2 is in truth some 47 mm².
const metricTable = [
  ['mm2-1.5', 1.5, 12.1, 12.2, 13.3, 13.7, null],
  ['mm2-2.5', 2.5, 7.41, 7.56, 7.98, 8.21, null],
  ['mm2-4', 4, 4.61, 4.7, 4.95, 5.09, null],
  ['mm2-6', 6, 3.08, 3.11, 3.3, 3.39, null],
  ['mm2-10', 10, 1.83, 1.84, 1.91, 1.95, 3.08],
  ['mm2-16', 16, 1.15, 1.16, 1.21, 1.24, 1.91],
  ['mm2-25', 25, 0.727, 0.734, 0.78, 0.795, 1.2],
  ['mm2-35', 35, 0.524, 0.529, 0.554, 0.565, 0.868],
  ['mm2-50', 50, 0.387, 0.391, 0.386, 0.393, 0.641],
  ['mm2-70', 70, 0.268, 0.27, 0.272, 0.277, 0.443],
  ['mm2-95', 95, 0.193, 0.195, 0.206, 0.21, 0.32],
  ['mm2-120', 120, 0.153, 0.154, 0.161, 0.164, 0.253],
  ['mm2-150', 150, 0.124, 0.126, 0.129, 0.132, 0.206],
  ['mm2-185', 185, 0.0991, 0.1, 0.106, 0.108, 0.164],
  ['mm2-240', 240, 0.0754, 0.0762, 0.0801, 0.0817, 0.125],
] as const

// Id, label, circular mils, strands, then Ω per 1000 ft at 75 °C: copper uncoated, coated, aluminium.
// Copies of the table differ in which figures of 14 to 8 AWG they call solid; the area decides (the solid
// row is the resistivity over the area, the stranded row 2 % more).
const americanTable = [
  ['awg-14', '14 AWG', 4110, 'solid', 3.07, 3.19, 5.06, 'published'],
  ['awg-14', '14 AWG', 4110, 'stranded', 3.14, 3.26, 5.17, 'from memory'],
  ['awg-12', '12 AWG', 6530, 'solid', 1.93, 2.01, 3.18, 'published'],
  ['awg-12', '12 AWG', 6530, 'stranded', 1.98, 2.05, 3.25, 'from memory'],
  ['awg-10', '10 AWG', 10380, 'solid', 1.21, 1.26, 2.0, 'published'],
  ['awg-10', '10 AWG', 10380, 'stranded', 1.24, 1.29, 2.04, 'from memory'],
  ['awg-8', '8 AWG', 16510, 'solid', 0.764, 0.786, 1.26, 'published'],
  ['awg-8', '8 AWG', 16510, 'stranded', 0.778, 0.809, 1.28, 'from memory'],
  ['awg-6', '6 AWG', 26240, 'stranded', 0.491, 0.51, 0.808, 'published'],
  ['awg-4', '4 AWG', 41740, 'stranded', 0.308, 0.321, 0.508, 'published'],
  ['awg-3', '3 AWG', 52620, 'stranded', 0.245, 0.254, 0.403, 'published'],
  ['awg-2', '2 AWG', 66360, 'stranded', 0.194, 0.201, 0.319, 'published'],
  ['awg-1', '1 AWG', 83690, 'stranded', 0.154, 0.16, 0.253, 'published'],
  ['awg-1-0', '1/0 AWG', 105600, 'stranded', 0.122, 0.127, 0.201, 'published'],
  ['awg-2-0', '2/0 AWG', 133100, 'stranded', 0.0967, 0.101, 0.159, 'published'],
  ['awg-3-0', '3/0 AWG', 167800, 'stranded', 0.0766, 0.0797, 0.126, 'published'],
  ['awg-4-0', '4/0 AWG', 211600, 'stranded', 0.0608, 0.0626, 0.1, 'published'],
  ['kcmil-250', '250 kcmil', 250000, 'stranded', 0.0515, 0.0535, 0.0847, 'published'],
  ['kcmil-300', '300 kcmil', 300000, 'stranded', 0.0429, 0.0446, 0.0707, 'from memory'],
  ['kcmil-350', '350 kcmil', 350000, 'stranded', 0.0367, 0.0382, 0.0605, 'from memory'],
  ['kcmil-400', '400 kcmil', 400000, 'stranded', 0.0321, 0.0331, 0.0529, 'from memory'],
  ['kcmil-500', '500 kcmil', 500000, 'stranded', 0.0258, 0.0265, 0.0424, 'from memory'],
] as const

export type MetricSizeId = (typeof metricTable)[number][0]
export type AmericanSizeId = (typeof americanTable)[number][0]
export type ConductorSizeId = MetricSizeId | AmericanSizeId

export const metricSizes: readonly MetricSize[] = metricTable.map(
  ([id, areaMm2, class2, tinned2, class5, tinned5, aluminium]) => ({
    system: 'metric',
    id,
    areaMm2,
    copperClass2MaxOhmPerKm: class2,
    tinnedCopperClass2MaxOhmPerKm: tinned2,
    copperClass5MaxOhmPerKm: class5,
    tinnedCopperClass5MaxOhmPerKm: tinned5,
    aluminiumMaxOhmPerKm: aluminium,
  }),
)

export const americanSizes: readonly AmericanSize[] = [...new Set(americanTable.map(([id]) => id))].map(
  (id) => {
    const rows = americanTable.filter((row) => row[0] === id)
    const [, label, circularMils] = rows[0]
    return {
      system: 'american',
      id,
      label,
      circularMils,
      areaMm2: circularMils * circularMilMm2,
      rows: rows.map(([, , , strands, copper, coated, aluminium, confidence]) => ({
        strands,
        copperOhmPerKft: copper,
        coatedCopperOhmPerKft: coated,
        aluminiumOhmPerKft: aluminium,
        confidence,
      })),
    }
  },
)

const byId: ReadonlyMap<ConductorSizeId, ConductorSize> = new Map<ConductorSizeId, ConductorSize>([
  ...metricSizes.map((size) => [size.id, size] as const),
  ...americanSizes.map((size) => [size.id, size] as const),
])

/** Every size id, metric first, each system from thin to thick. */
export const conductorSizeIds: readonly ConductorSizeId[] = [...byId.keys()]

/** The size with this id; a metric one where the id is known to be metric. An id that is none is a bug. */
export function conductorSize(id: MetricSizeId): MetricSize
export function conductorSize(id: AmericanSizeId): AmericanSize
export function conductorSize(id: ConductorSizeId): ConductorSize
export function conductorSize(id: ConductorSizeId): ConductorSize {
  return present(byId.get(id), `no conductor size is called ${id}`)
}
