import type { RandomStream } from '../../src/base/random.ts'
import { defaultJointKinds } from '../../src/model/jointCatalogue.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { barSite, type BarJoint } from '../outside/barSite.ts'

/** Earth bars joined at random by milliohms, some of them through bridges, and `rods` of them led into soil. */
export function randomSite(random: RandomStream, bars: number, extra: number, rods: number): Site {
  const ohm = () => 1e-4 * 10 ** (3 * random.uniform())
  const joints: BarJoint[] = []
  for (let bar = 1; bar < bars; bar++)
    joints.push({ from: random.integer(bar), to: bar, kind: 'jumper', medianOhm: ohm() })
  for (let k = 0; k < extra; k++) {
    const from = random.integer(bars)
    const to = (from + 1 + random.integer(bars - 1)) % bars
    joints.push({ from, to, kind: 'jumper', medianOhm: ohm() })
  }
  const kinds = defaultJointKinds.filter(({ medianOhm }) => medianOhm !== null)
  const site = barSite(bars, joints, kinds)
  const { drawing } = site
  const electrodes = Array.from({ length: rods }, (_, k) => ({
    id: k + 1,
    label: '',
    measuredOhm: null,
    form: 'rod' as const,
    atM: { x: 4 * k, y: 10 * random.uniform() },
    lengthM: 2,
    diameterM: 0.016,
  }))
  const clamps = electrodes.map(({ id }, k) => ({
    id: joints.length + 1 + k,
    label: '',
    from: `B${1 + random.integer(bars)}`,
    to: `G${id}`,
    kind: 'jumper',
    medianOhm: 0.001,
  }))
  return {
    ...site,
    drawing: {
      ...drawing,
      nextIds: { ...drawing.nextIds, electrode: rods + 1, extraJoint: joints.length + rods + 1 },
      electrodes,
      extraJoints: [...drawing.extraJoints, ...clamps],
    },
  }
}
