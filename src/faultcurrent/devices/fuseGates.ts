/** Amperes at which a gG link does not melt within 10 s, has operated within 5 s, does not melt within 0.1 s, has within 0.1 s. */
export interface FuseGates {
  readonly holds10sA: number
  readonly acts5sA: number
  readonly holds100msA: number
  readonly acts100msA: number
}

/** IEC 60269-1 Table 3, gG, by rated current: read in two transcriptions. Smaller links have no gates in it. */
const rows: readonly (readonly [number, number, number, number, number])[] = [
  [16, 33, 65, 85, 150],
  [20, 42, 85, 110, 200],
  [25, 52, 110, 150, 260],
  [32, 75, 150, 200, 350],
  [40, 95, 190, 260, 450],
  [50, 125, 250, 350, 610],
  [63, 160, 320, 450, 820],
  [80, 215, 425, 610, 1100],
  [100, 290, 580, 820, 1450],
  [125, 355, 715, 1100, 1910],
  [160, 460, 950, 1450, 2590],
  [200, 610, 1250, 1910, 3420],
  [250, 750, 1650, 2590, 4500],
  [315, 1050, 2200, 3420, 6000],
  [400, 1420, 2840, 4500, 8060],
  [500, 1780, 3800, 6000, 10600],
  [630, 2200, 5100, 8060, 14140],
]

export const fuseGates: ReadonlyMap<number, FuseGates> = new Map(
  rows.map(([ratedA, holds10sA, acts5sA, holds100msA, acts100msA]) => [
    ratedA,
    { holds10sA, acts5sA, holds100msA, acts100msA },
  ]),
)
