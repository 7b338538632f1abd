import { newSite } from '../../src/model/newSite.ts'
import type { Site } from '../../src/model/schema/site.ts'

/**
 * A network small enough to compute by head; ohms at the joints:
 *
 *        J1 0.1
 *     E1 ====== E2 --- J3 0.2 --- E3        E4 alone      B1 --J4 0.05-- G2 ~ 20 Ω ~ earth
 *        J2 0.1                   |
 *                                 G1 (joint J5 0.1) ~ 10 Ω ~ earth          G2 stands 100 m from G1
 */
export function smallSite(): Site {
  const site = newSite({
    id: '00000000-0000-4000-8000-000000000001',
    revision: '00000000-0000-4000-8000-000000000002',
    name: 'Small',
    units: 'metric',
  })
  const atM = { x: 0, y: 0 }
  const joint = (id: number, from: string, to: string, medianOhm: number) => ({
    id,
    label: '',
    from,
    to,
    kind: 'jumper',
    medianOhm,
  })
  const rod = { label: '', form: 'rod' as const, atM, lengthM: 3, diameterM: 0.016 }
  return {
    ...site,
    drawing: {
      ...site.drawing,
      nextIds: { ...site.drawing.nextIds, enclosure: 5, earthBar: 2, electrode: 3, extraJoint: 6 },
      enclosures: [1, 2, 3, 4].map((id) => ({ id, label: '', atM, widthM: 1, depthM: 1, bearingDeg: 0 })),
      earthBars: [{ id: 1, label: '', atM }],
      electrodes: [
        { ...rod, id: 1, measuredOhm: 10 },
        { ...rod, id: 2, atM: { x: 100, y: 0 }, measuredOhm: 20 },
      ],
      extraJoints: [
        joint(1, 'E1', 'E2', 0.1),
        joint(2, 'E1', 'E2', 0.1),
        joint(3, 'E2', 'E3', 0.2),
        joint(4, 'B1', 'G2', 0.05),
        joint(5, 'E3', 'G1', 0.1),
      ],
    },
  }
}
