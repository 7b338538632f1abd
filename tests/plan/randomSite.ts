import fc from 'fast-check'
import { newSite } from '../../src/model/newSite.ts'
import type { PlanPairInput } from '../../src/model/planning.ts'
import type { Site } from '../../src/model/schema/site.ts'

/** Enclosures E1 … and the joints J1 … between them, each by the numbers of its ends and its ohms. */
export interface DrawnJoint {
  readonly from: number
  readonly to: number
  readonly medianOhm: number
}

/** The same with joints that are hardly unlike each other. */
export function likeJoints(site: Site): Site {
  const jointKinds = site.drawing.jointKinds.map((kind) => ({ ...kind, lnSpread: 0.1 }))
  return { ...site, drawing: { ...site.drawing, jointKinds } }
}

/** Enclosures in a line, 5 m apart, with these joints; `rods`: enclosures that a rod stands at, through a joint of its own. */
export function siteOf(boxes: number, joints: readonly DrawnJoint[], rods: readonly number[] = []): Site {
  const site = newSite({
    id: '00000000-0000-4000-8000-000000000001',
    revision: '00000000-0000-4000-8000-000000000002',
    name: 'boxes',
    units: 'metric',
  })
  const at = (k: number) => ({ x: 5 * k, y: 0 })
  const ids = Array.from({ length: boxes }, (_, k) => k + 1)
  const toRods = rods.map((box, k) => ({ from: `E${box}`, to: `G${k + 1}`, medianOhm: 0.001 }))
  const between = joints.map(({ from, to, medianOhm }) => ({ from: `E${from}`, to: `E${to}`, medianOhm }))
  const all = [...between, ...toRods]
  return {
    ...site,
    drawing: {
      ...site.drawing,
      nextIds: {
        ...site.drawing.nextIds,
        enclosure: boxes + 1,
        electrode: rods.length + 1,
        extraJoint: all.length + 1,
      },
      enclosures: ids.map((id) => ({ id, label: '', atM: at(id), widthM: 1, depthM: 1, bearingDeg: 0 })),
      electrodes: rods.map((box, k) => ({
        id: k + 1,
        label: '',
        form: 'rod' as const,
        atM: at(box),
        lengthM: 2,
        diameterM: 0.016,
        measuredOhm: null,
      })),
      extraJoints: all.map((joint, k) => ({ id: k + 1, label: '', kind: 'jumper', ...joint })),
    },
  }
}

/** A few boxes with random joints, some of them parallel, some boxes alone, some with rods; and pairs between them. */
export const boxSites = fc
  .record({
    boxes: fc.integer({ min: 3, max: 7 }),
    seed: fc.array(fc.nat(1000), { minLength: 40, maxLength: 40 }),
  })
  .map(({ boxes, seed }) => {
    const [count, rodCount, ...rest] = seed
    const joints: DrawnJoint[] = []
    for (let k = 0; k < 2 + (count % 8); k++) {
      const from = 1 + (rest[3 * k] % boxes)
      const to = 1 + ((from + (rest[3 * k + 1] % (boxes - 1))) % boxes)
      joints.push({ from, to, medianOhm: 10 ** (-4 + 3 * (rest[3 * k + 2] / 1000)) })
    }
    const rods = Array.from({ length: rodCount % 3 }, (_, k) => 1 + (rest[30 + k] % boxes))
    return { boxes, site: siteOf(boxes, joints, [...new Set(rods)]) }
  })

export function allPairs(boxes: number): readonly PlanPairInput[] {
  const pairs: PlanPairInput[] = []
  for (let a = 1; a <= boxes; a++)
    for (let b = a + 1; b <= boxes; b++) pairs.push({ from: `E${a}`, to: `E${b}` })
  return pairs
}
