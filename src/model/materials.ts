/** How a figure came to stand here: read in a publication, or known of it without the page at hand. */
export type Confidence = 'published' | 'from memory'

/** The metals that conductors, structure and electrodes are made of. */
export type MaterialId =
  | 'copper'
  | 'tinned-copper'
  | 'aluminium-conductor'
  | 'aluminium-extrusion'
  | 'galvanised-steel'
  | 'copper-clad-steel'
  | 'stainless-304'

export interface Material {
  readonly resistivityOhmM: number
  /** Per kelvin, at 20 °C: resistance at T is that at 20 °C times 1 + coefficient · (T − 20). */
  readonly temperatureCoefficientPerK: number
  readonly source: string
  readonly confidence: Confidence
}

/**
 * Resistivity (Ω·m) and temperature coefficient (1/K), both at 20 °C.
 *
 * Pure heat adds about the same ohm metres per kelvin to every alloy of one metal (Matthiessen 1864), so
 * resistivity times coefficient should agree within a metal: 6.2–6.4e-10 for the steels of IEC 60287-1-1
 * (13.8e-8, 0.0045) and IEEE Std 80 (zinc-coated rod 20.1e-8, 0.0032). That is why steel 1020 stands here
 * with 0.00377 and not with the 0.00160 that other editions of IEEE Std 80 print.
 */
export const materials: Readonly<Record<MaterialId, Material>> = {
  copper: {
    resistivityOhmM: 1.7241e-8,
    temperatureCoefficientPerK: 0.00393,
    source: 'IEC 60028:1925, annealed copper, 100 % IACS',
    confidence: 'published',
  },
  // The coat is a few micrometres of a metal that conducts a seventh as well: the copper below carries the
  // current. What tin costs in a finished conductor shows in the tables of conductorSizes.ts.
  'tinned-copper': {
    resistivityOhmM: 1.7241e-8,
    temperatureCoefficientPerK: 0.00393,
    source: 'IEC 60028:1925, annealed copper; the tin is not counted',
    confidence: 'published',
  },
  'aluminium-conductor': {
    resistivityOhmM: 2.8264e-8,
    temperatureCoefficientPerK: 0.00403,
    source: 'IEC 60889:1987, hard-drawn aluminium wire, 61 % IACS; coefficient IEC 60287-1-1 Table 1',
    confidence: 'published',
  },
  // Handbooks spread from 3.1e-8 to 3.6e-8 with temper and batch; profiles are not bought by resistance.
  'aluminium-extrusion': {
    resistivityOhmM: 3.3e-8,
    temperatureCoefficientPerK: 0.0033,
    source:
      'aluminium trade handbooks, 6063-T6, about 53 % IACS; coefficient Industrial Power Engineering Handbook Table 30.1',
    confidence: 'from memory',
  },
  // Sources spread from 1.38e-7 (IEC 60287-1-1, steel wire) to 2.01e-7 (IEEE Std 80, zinc-coated rod): 45 %.
  'galvanised-steel': {
    resistivityOhmM: 1.59e-7,
    temperatureCoefficientPerK: 0.00377,
    source: 'IEEE Std 80-2013 Table 1, steel 1020; the zinc is not counted',
    confidence: 'from memory',
  },
  'copper-clad-steel': {
    resistivityOhmM: 8.62e-8,
    temperatureCoefficientPerK: 0.00378,
    source: 'IEEE Std 80-2013 Table 1, copper-clad steel rod, 20 % class, over the whole section',
    confidence: 'from memory',
  },
  'stainless-304': {
    resistivityOhmM: 7.2e-7,
    temperatureCoefficientPerK: 0.0013,
    source: 'IEEE Std 80-2013 Table 1, stainless steel 304',
    confidence: 'from memory',
  },
}

export const materialIds = Object.keys(materials) as readonly MaterialId[]
