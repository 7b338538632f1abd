import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import { jointAddressAt, jointIndexOf } from '../../src/layout/jointIndex.ts'
import { partAddressAt, partIndexOf } from '../../src/layout/partIndex.ts'
import { partPositionM } from '../../src/layout/positions.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import {
  parseJointAddress,
  parsePartAddress,
  writeJointAddress,
  writePartAddress,
} from '../../src/model/address.ts'
import type { Drawing } from '../../src/model/schema/drawing.ts'
import type { Conductor } from '../../src/model/schema/equipment.ts'
import type { CompileOptions, Network } from '../../src/network/compile.ts'
import { compileNetwork } from '../../src/network/compile.ts'
import { leastWireM } from '../../src/network/drawnWires.ts'
import { endOf, jointMedianOhm } from '../../src/network/earthPath.ts'
import { coupledGroupsOhm, rodOhm } from '../../src/network/electrodeOhm.ts'
import { pairResistance } from '../../src/network/pairResistance.ts'
import { prepareSolver } from '../../src/network/solver.ts'
import { anyDrawing } from '../layout/anyDrawing.ts'
import { drawingOf, indexOf, modulesOf, railOf, rowOf, typeOf } from '../layout/smallDrawings.ts'
import { exampleSite } from '../model/exampleSite.ts'
import { runToEnd } from './runToEnd.ts'
import { fieldOf } from './soilField.ts'

const asDrawn: CompileOptions = { countIncidental: true, asBuilt: false }

function networkOf(drawing: Drawing, options: Partial<CompileOptions> = {}): Network {
  const result = runToEnd(compileNetwork(drawing, indexOf(drawing), { ...asDrawn, ...options }))
  expect(result).toMatchObject({ ok: true })
  if (!result.ok) throw new Error('unreachable')
  return result.value
}

/** Edge → [joint, from, to, kind, milliohms]. */
function edgesOf({ index, graph, jointOfEdge, kind, kinds, medianOhm, edgeCount }: Network) {
  return Array.from({ length: edgeCount }, (_, e) => [
    writeJointAddress(jointAddressAt(index, jointOfEdge[e])),
    writePartAddress(partAddressAt(index, graph.from[e])),
    writePartAddress(partAddressAt(index, Math.min(graph.to[e], index.remoteEarth))),
    kinds[kind[e]].id,
    Number((1000 * medianOhm[e]).toPrecision(9)),
  ])
}

function edgeAt({ index, edgeOfJoint }: Network, text: string): number {
  const joint = jointIndexOf(index, parseJointAddress(text)!)
  expect(joint).toBeGreaterThanOrEqual(0)
  return edgeOfJoint[joint]
}

const partAt = ({ index }: Network, text: string) => partIndexOf(index, parsePartAddress(text)!)
const ohmAt = (network: Network, text: string) => jointMedianOhm(network, edgeAt(network, text))

function resistanceOf(network: Network, from: string, to: string): number {
  const { graph, electrical, references, index } = network
  const conductanceS = network.medianOhm.map((ohm) => 1 / ohm)
  const job = prepareSolver(graph, conductanceS, electrical.islands.of, references)
  let step = job.next()
  while (!step.done) step = job.next()
  const { factor } = step.value
  const node = (text: string) => partIndexOf(index, parsePartAddress(text)!)
  return pairResistance(factor, node(from), node(to))
}

const copper = 1.7241e-8
const extrusion = 3.3e-8

/** A straight copper conductor of 16 mm² along x, landing where it is told to. */
function conductorOf(id: number, landings: readonly (readonly [number, string | null])[]): Conductor {
  return {
    id,
    label: '',
    material: 'copper',
    areaMm2: 16,
    size: null,
    closed: false,
    points: landings.map(([x, part], k) => ({
      id: k + 1,
      atM: { x, y: 0 },
      landing: part === null ? null : { part, kind: 'crimpLug' },
    })),
    nextPoint: 100,
    lengthM: null,
  }
}

//  R1/T1       F1.1       F1.2            rail 400 mm², stations at 0, 1.1, 2.2 m (0.1 m aside of the conductor's
//             /    \     /    \            end), bar and rod joined to it
//         L1.1 --- L1.2 --- L1.3
//          |
//         C1.1 ~~~ B1 ~~~ G1 ::: earth
const roof = drawingOf({
  tableTypes: [
    typeOf({
      mounting: 'flushRoof',
      modules: modulesOf({ across: 2 }),
      frameBond: { clamps: { perMember: 2, kind: 'frameClamp' }, links: null },
    }),
  ],
  rows: [rowOf({})],
  earthBars: [{ id: 1, label: '', atM: { x: -4, y: 0 } }],
  electrodes: [
    {
      id: 1,
      label: '',
      measuredOhm: null,
      form: 'rod',
      atM: { x: -9, y: 0 },
      lengthM: 2.4,
      diameterM: 0.016,
    },
  ],
  conductors: [
    conductorOf(1, [
      [0, 'R1/T1/L1.1'],
      [-4, 'B1'],
    ]),
    conductorOf(2, [
      [-4, 'B1'],
      [-6, null],
      [-9, 'G1'],
    ]),
  ],
})

describe('a small roof', () => {
  const bodyMilliohm = Number(((1000 * extrusion * 1.1) / 400e-6).toPrecision(9))
  const wireMilliohm = (lengthM: number) => Number(((1000 * copper * lengthM) / 16e-6).toPrecision(9))

  it('has the edges that one counts by hand', () => {
    expect(edgesOf(networkOf(roof))).toEqual([
      ['R1/T1/F1.1~L1.1', 'R1/T1/F1.1', 'R1/T1/L1.1', 'frameClamp', 1],
      ['R1/T1/F1.1~L1.2', 'R1/T1/F1.1', 'R1/T1/L1.2', 'frameClamp', 1],
      ['R1/T1/F1.2~L1.2', 'R1/T1/F1.2', 'R1/T1/L1.2', 'frameClamp', 1],
      ['R1/T1/F1.2~L1.3', 'R1/T1/F1.2', 'R1/T1/L1.3', 'frameClamp', 1],
      ['R1/T1/L1.1~L1.2', 'R1/T1/L1.1', 'R1/T1/L1.2', 'memberBody', bodyMilliohm],
      ['R1/T1/L1.2~L1.3', 'R1/T1/L1.2', 'R1/T1/L1.3', 'memberBody', bodyMilliohm],
      ['C1.1~lug', 'C1.1', 'R1/T1/L1.1', 'crimpLug', 0.05],
      ['C1.1~wire', 'C1.1', 'C1.2', 'wire', wireMilliohm(4)],
      ['C1.2~lug', 'C1.2', 'B1', 'crimpLug', 0.05],
      ['C2.1~lug', 'C2.1', 'B1', 'crimpLug', 0.05],
      ['C2.1~wire', 'C2.1', 'C2.3', 'wire', wireMilliohm(5)],
      ['C2.3~lug', 'C2.3', 'G1', 'crimpLug', 0.05],
      [
        'G1~earth',
        'G1',
        'earth',
        'earthPath',
        Number((1000 * rodOhm({ lengthM: 2.4, radiusM: 0.008 }, 100)).toPrecision(9)),
      ],
    ])
  })

  it('has one metal section besides remote earth, bridges where the conductors are', () => {
    const network = networkOf(roof)
    expect(network.metal.islands.count).toBe(2)
    expect(network.electrical.islands.count).toBe(1)
    expect([...network.references]).toEqual([network.remoteEarth])
    const { isBridge } = network.metal.blocks
    expect(isBridge[edgeAt(network, 'C1.1~wire')]).toBe(1)
    expect(isBridge[edgeAt(network, 'R1/T1/F1.1~L1.1')]).toBe(0)
    expect(isBridge[edgeAt(network, 'G1~earth')]).toBe(0)
    expect(network.electrical.blocks.isBridge[edgeAt(network, 'G1~earth')]).toBe(1)
  })

  it('takes spread, defect rate and fixed share from the kind and the metal', () => {
    const network = networkOf(roof)
    const clamp = edgeAt(network, 'R1/T1/F1.2~L1.3')
    expect([network.lnSpread[clamp], network.defectRate[clamp], network.fixedOhm[clamp]]).toEqual([
      0.8, 0.003, 0,
    ])
    const wire = edgeAt(network, 'C1.1~wire')
    expect(network.fixedOhm[wire]).toBe(network.medianOhm[wire])
    expect(network.isEarthPath[wire]).toBe(0)
    const soil = edgeAt(network, 'G1~earth')
    expect([network.lnSpread[soil], network.fixedOhm[soil], network.isMetal[soil]]).toEqual([0.5, 0, 0])
  })

  it('warm metal has more ohms, contacts and soil stay', () => {
    const warm = networkOf(roof, { temperatureC: 70 })
    const cool = networkOf(roof)
    const ratio = (text: string) => ohmAt(warm, text) / ohmAt(cool, text)
    expect(ratio('R1/T1/L1.1~L1.2')).toBeCloseTo(1 + 0.0033 * 50, 12)
    expect(ratio('C1.1~wire')).toBeCloseTo(1 + 0.00393 * 50, 12)
    expect(ratio('R1/T1/F1.1~L1.1')).toBe(1)
    expect(ratio('G1~earth')).toBe(1)
    const ambient = networkOf({ ...roof, facts: { ...roof.facts, ambientC: 70 } })
    expect([...ambient.medianOhm]).toEqual([...warm.medianOhm])
  })

  it('says what it takes for granted', () => {
    // the first landing is drawn at x = 0, y = 0; its station lies 0.5 m up the table
    expect(networkOf(roof).notes).toEqual([{ note: 'partsAsPoints' }, { note: 'memberSnap', largestM: 0.5 }])
  })
})

describe('two linked tables', () => {
  //  F---a---L1.1          L1.1---a---F        a clamp 1 mΩ, b body of 1 m, j jumper 0.8 mΩ
  //   \       b              b       /
  //    `--a--L1.2 --- j --- L1.1 ...            (mirror image: T2 has its stations the other way)
  const type = typeOf({
    modules: modulesOf({ across: 1 }),
    frameBond: { clamps: { perMember: 2, kind: 'frameClamp' }, links: null },
  })
  const linked = (count: 0 | 1 | 2) =>
    drawingOf({
      tableTypes: [type],
      rows: [rowOf({ runs: [{ firstTable: 1, count: 2, type: 'plain' }], links: { count, kind: 'jumper' } })],
    })
  const [a, b, j] = [0.001, extrusion / 400e-6, 0.0008]
  const side = (a * (a + b)) / (2 * a + b)

  it('read what two clamps, the rail and the jumper come to', () => {
    expect(resistanceOf(networkOf(linked(1)), 'R1/T1/F1.1', 'R1/T2/F1.1')).toBeCloseTo(2 * side + j, 12)
  })

  it('with two jumpers on their only rail, half of the jumper', () => {
    const network = networkOf(linked(2))
    expect(edgesOf(network).slice(-2)).toEqual([
      ['R1/T1+T2~1', 'R1/T1/L1.2', 'R1/T2/L1.1', 'jumper', 0.8],
      ['R1/T1+T2~2', 'R1/T1/L1.2', 'R1/T2/L1.1', 'jumper', 0.8],
    ])
    expect(resistanceOf(network, 'R1/T1/F1.1', 'R1/T2/F1.1')).toBeCloseTo(2 * side + j / 2, 12)
  })

  it('without jumpers are two sections with no path at all', () => {
    const network = networkOf(linked(0))
    expect(network.electrical.islands.count).toBe(3)
    expect(resistanceOf(network, 'R1/T1/F1.1', 'R1/T2/F1.1')).toBe(Infinity)
  })

  it('the second jumper is on the last long member', () => {
    const rails = [railOf({}), railOf({ upM: 1.5 }), railOf({ upM: 1.8 })]
    const network = networkOf({ ...linked(2), tableTypes: [{ ...type, longMembers: rails }] })
    expect(edgesOf(network).slice(-1)).toEqual([['R1/T1+T2~2', 'R1/T1/L3.2', 'R1/T2/L3.1', 'jumper', 0.8]])
  })
})

describe('posts in soil', () => {
  const posted = (bondKinds: readonly string[]) =>
    drawingOf({
      tableTypes: [
        typeOf({
          longMembers: [railOf({ spliceAfter: [2] })],
          posts: {
            stations: [1, 4],
            lines: 1,
            support: 'pivot',
            bondKinds,
            soil: { buriedM: 2, diameterM: 0.1 },
          },
        }),
      ],
      rows: [rowOf({ runs: [{ firstTable: 1, count: 2, type: 'plain' }] })],
    })

  it('join in soil what no metal joins', () => {
    const network = networkOf(posted(['jumper']))
    // per table the rail with two posts, and three frames that nothing bonds; remote earth
    expect(network.metal.islands.count).toBe(2 * (1 + 3) + 1)
    expect(network.electrical.islands.count).toBe(1 + 2 * 3)
    expect(network.notes).toContainEqual({ note: 'uniformSoil' })
    // out through the two posts of one table and back through those of the other, rail and jumpers aside
    const field = fieldOf(
      ['R1/T1/P1.1', 'R1/T1/P1.2', 'R1/T2/P1.1', 'R1/T2/P1.2'].map((post) => {
        const { x, y } = partPositionM(network.index, partAt(network, post))!
        return { x, y, lengthM: 2, radiusM: 0.05 }
      }),
    )
    const z = coupledGroupsOhm(field, Int32Array.of(0, 0, 1, 1), 2, 100)
    if (!z.ok) throw new Error('posts overlap')
    const between = z.value[0] + z.value[3] - 2 * z.value[1]
    expect(resistanceOf(network, 'R1/T1/L1.1', 'R1/T2/L1.1') / between).toBeCloseTo(1, 3)
    // three metres apart they share a tenth of what one post alone would have
    expect(between / rodOhm({ lengthM: 2, radiusM: 0.05 }, 100)).toBeLessThan(0.99)
  })

  it('in polymer bushes are sections of their own', () => {
    const network = networkOf(posted([]))
    expect(network.metal.islands.count).toBe(2 * (1 + 3 + 2) + 1)
  })

  it('a splice has its contact and the metal of its length', () => {
    const network = networkOf(posted([]))
    const splice = edgeAt(network, 'R1/T2/L1.2~L1.3')
    const body = (extrusion * 1.2) / 400e-6
    expect(network.fixedOhm[splice]).toBeCloseTo(body, 15)
    expect(network.medianOhm[splice]).toBeCloseTo(0.0003 + body, 15)
    expect(network.kinds[network.kind[splice]].id).toBe('splice')
  })

  it('incidental contact is left out on request, and the soil stays', () => {
    const drawing = posted(['incidental', 'jumper'])
    const counted = networkOf(drawing)
    const left = networkOf(drawing, { countIncidental: false })
    expect(counted.edgeCount - left.edgeCount).toBe(4)
    expect(left.notes).toContainEqual({ note: 'incidentalNotCounted', joints: 4 })
    expect(edgeAt(left, 'R1/T1/L1.1~P1.1')).toBe(-1)
    expect(edgeAt(left, 'R1/T1/L1.1~P1.1~2')).toBeGreaterThanOrEqual(0)
    expect(edgeAt(left, 'R1/T1/P1.2~earth')).toBeGreaterThanOrEqual(0)
  })
})

describe('conductors', () => {
  const bars = [1, 2, 3].map((id) => ({ id, label: '', atM: { x: id, y: 0 } }))
  const triangle: Conductor = {
    ...conductorOf(1, []),
    closed: true,
    points: [
      { id: 1, atM: { x: 0, y: 0 }, landing: { part: 'B1', kind: 'crimpLug' } },
      { id: 2, atM: { x: 3, y: 0 }, landing: { part: 'B2', kind: 'crimpLug' } },
      { id: 3, atM: { x: 3, y: 4 }, landing: { part: 'B3', kind: 'crimpLug' } },
    ],
  }
  const perM = copper / 16e-6
  const wires = (network: Network) =>
    ['C1.1~wire', 'C1.2~wire', 'C1.3~wire'].map((w) => ohmAt(network, w) / perM)

  it('a closed one is a ring: 3, 4 and 5 m, no wire a bridge', () => {
    const network = networkOf(drawingOf({ earthBars: bars, conductors: [triangle] }))
    wires(network).forEach((lengthM, k) => expect(lengthM).toBeCloseTo([3, 4, 5][k], 9))
    expect(network.metal.blocks.isBridge[edgeAt(network, 'C1.3~wire')]).toBe(0)
    const throughShort = 3 * perM
    const throughLong = 9 * perM
    expect(resistanceOf(network, 'C1.1', 'C1.2')).toBeCloseTo(
      (throughShort * throughLong) / (throughShort + throughLong),
      12,
    )
  })

  it('a measured total is shared out as drawn', () => {
    const network = networkOf(drawingOf({ earthBars: bars, conductors: [{ ...triangle, lengthM: 24 }] }))
    wires(network).forEach((lengthM, k) => expect(lengthM).toBeCloseTo([6, 8, 10][k], 9))
  })

  it('landings at one place keep a lug’s breadth of wire between them', () => {
    const conductor = conductorOf(1, [
      [2, 'B1'],
      [2, 'B2'],
      [5, 'B3'],
    ])
    const network = networkOf(drawingOf({ earthBars: bars, conductors: [conductor] }))
    expect(ohmAt(network, 'C1.1~wire') / perM).toBeCloseTo(leastWireM, 12)
    expect(ohmAt(network, 'C1.2~wire') / perM).toBeCloseTo(3, 12)
  })

  it('a measured total is shared evenly when all points are drawn at one place', () => {
    const conductor = conductorOf(1, [
      [2, 'B1'],
      [2, 'B2'],
      [2, 'B3'],
    ])
    const drawing = drawingOf({ earthBars: bars, conductors: [{ ...conductor, lengthM: 8 }] })
    const network = networkOf(drawing)
    expect(['C1.1~wire', 'C1.2~wire'].map((w) => ohmAt(network, w) / perM)).toEqual([
      expect.closeTo(4, 9),
      expect.closeTo(4, 9),
    ])
  })
})

describe('electrodes', () => {
  it('a measured resistance wins over the computed one', () => {
    const [rod] = roof.electrodes
    const network = networkOf({ ...roof, electrodes: [{ ...rod, measuredOhm: 12.5 }] })
    expect(ohmAt(network, 'G1~earth')).toBe(12.5)
  })

  it('plates and strips follow from their size and the soil', () => {
    const base = { label: '', measuredOhm: null }
    const pathM = [
      { x: 0, y: 0 },
      { x: 10, y: 0 },
    ]
    const drawing = drawingOf({
      electrodes: [
        { ...base, id: 1, form: 'plate', atM: { x: 0, y: 0 }, areaM2: 1, depthM: 1 },
        { ...base, id: 2, form: 'strip', pathM, closed: false, diameterM: 0.01, depthM: 0.5 },
        { ...base, id: 3, form: 'strip', pathM, closed: true, diameterM: 0.01, depthM: 0.5 },
      ],
    })
    const network = networkOf({ ...drawing, facts: { ...drawing.facts, soilOhmM: 200 } })
    expect(ohmAt(network, 'G1~earth')).toBeCloseTo(50 * Math.sqrt(Math.PI), 9)
    // ρ/(2πℓ)·(ln(2ℓ/a) + ln(2ℓ/s) − 2 + s/ℓ …) with ℓ = 10, s = 1
    const main = Math.log(20 / 0.005) + Math.log(20) - 2 + 0.1 - 0.0025
    expect(ohmAt(network, 'G2~earth')).toBeCloseTo((200 / (20 * Math.PI)) * main, 1)
    expect(ohmAt(network, 'G3~earth')).toBeLessThan(ohmAt(network, 'G2~earth'))
  })

  it('a strip without length is a problem, not a number', () => {
    const here = { x: 1, y: 1 }
    const strip = { id: 4, label: '', measuredOhm: null, form: 'strip', pathM: [here, here] } as const
    const drawing = drawingOf({ electrodes: [{ ...strip, closed: false, diameterM: 0.01, depthM: 0.5 }] })
    expect(runToEnd(compileNetwork(drawing, indexOf(drawing), asDrawn))).toMatchObject({
      ok: false,
      error: [{ code: 'value.inconsistent', where: { address: 'G4' } }],
    })
  })
})

describe('joints that differ', () => {
  const changed = (drawn: Partial<Drawing>, options: Partial<CompileOptions> = {}) =>
    networkOf({ ...roof, ...drawn }, options)
  const found = (...findings: Drawing['asBuilt'][number]['found'][]) => ({
    asBuilt: findings.map((what, k) => ({ id: k + 1, found: what, on: null, note: '' })),
  })

  it('an absent one has no edge, the others keep theirs', () => {
    const network = changed({
      differingJoints: [{ joint: 'R1/T1/L1.2~F1.1', change: 'absent', kind: null, medianOhm: null }],
    })
    expect(edgeAt(network, 'R1/T1/F1.1~L1.2')).toBe(-1)
    expect(edgesOf(network)).toEqual(edgesOf(networkOf(roof)).filter(([name]) => name !== 'R1/T1/F1.1~L1.2'))
  })

  it('another kind brings its own median and spread, given ohms replace the contact', () => {
    const network = changed({
      differingJoints: [
        { joint: 'R1/T1/F1.1~L1.2', change: 'other', kind: 'weld', medianOhm: null },
        { joint: 'R1/T1/F1.2~L1.2', change: 'other', kind: null, medianOhm: 0.02 },
        { joint: 'R1/T1/L1.1~L1.2', change: 'other', kind: 'splice', medianOhm: null },
        { joint: 'C1.1~wire', change: 'other', kind: null, medianOhm: 0.5 },
      ],
    })
    expect(ohmAt(network, 'R1/T1/F1.1~L1.2')).toBe(0.00003)
    expect(network.lnSpread[edgeAt(network, 'R1/T1/F1.1~L1.2')]).toBe(0.4)
    expect(ohmAt(network, 'R1/T1/F1.2~L1.2')).toBe(0.02)
    expect(ohmAt(network, 'R1/T1/L1.1~L1.2')).toBeCloseTo(0.0003 + (extrusion * 1.1) / 400e-6, 15)
    expect(ohmAt(network, 'C1.1~wire')).toBe(0.5)
  })

  const asFound = found(
    { form: 'jointAbsent', joint: 'R1/T1/F1.2~L1.3' },
    { form: 'jointOther', joint: 'C1.1~lug', kind: null, medianOhm: 0.01 },
    { form: 'jointAdded', from: 'R1/T1/F1.1', to: 'B1', kind: 'jumper', medianOhm: null },
    { form: 'jointAbsent', joint: 'R1/T7/F1.2~L1.3' },
    { form: 'other', about: 'B1' },
  )

  it('what was found counts only when asked for, and addresses that stray change nothing', () => {
    const designed = changed(asFound)
    expect(edgesOf(designed)).toEqual(edgesOf(networkOf(roof)))
    const built = changed(asFound, { asBuilt: true })
    expect(edgeAt(built, 'R1/T1/F1.2~L1.3')).toBe(-1)
    expect(ohmAt(built, 'C1.1~lug')).toBe(0.01)
    expect(edgesOf(built)).toContainEqual(['A3', 'R1/T1/F1.1', 'B1', 'jumper', 0.8])
    expect(built.notes).toContainEqual({ note: 'asBuiltCounted', differences: 3 })
  })

  it('what was found goes over what was designed otherwise', () => {
    const differingJoints: Drawing['differingJoints'] = [
      { joint: 'C1.1~lug', change: 'absent', kind: null, medianOhm: null },
      { joint: 'C1.2~lug', change: 'other', kind: 'weld', medianOhm: 0.002 },
      { joint: 'C2.1~lug', change: 'other', kind: 'weld', medianOhm: 0.002 },
    ]
    const over = found(
      { form: 'jointOther', joint: 'C1.1~lug', kind: 'jumper', medianOhm: null },
      { form: 'jointOther', joint: 'C1.2~lug', kind: null, medianOhm: 0.03 },
      { form: 'jointOther', joint: 'C2.1~lug', kind: 'jumper', medianOhm: null },
    )
    const built = changed({ differingJoints, ...over }, { asBuilt: true })
    const lug = (text: string) => {
      const e = edgeAt(built, text)
      return [built.kinds[built.kind[e]].id, built.medianOhm[e]]
    }
    expect(lug('C1.1~lug')).toEqual(['jumper', 0.0008])
    expect(lug('C1.2~lug')).toEqual(['weld', 0.03])
    expect(lug('C2.1~lug')).toEqual(['jumper', 0.0008])
  })

  it('an extra joint of a kind without ohms needs its own', () => {
    const extra = { id: 1, label: '', from: 'R1/T1/F1.1', to: 'B1', kind: 'wire' }
    const network = changed({ extraJoints: [{ ...extra, medianOhm: 0.04 }] })
    expect(ohmAt(network, 'J1')).toBe(0.04)
    const without = indexSite({ ...roof, extraJoints: [{ ...extra, medianOhm: null }] })
    expect(without).toMatchObject({ ok: false, error: [{ code: 'value.inconsistent' }] })
  })
})

/** What must hold whatever was drawn. */
function expectSound(network: Network): void {
  const { index, graph, edgeCount, jointOfEdge, edgeOfJoint } = network
  expect(graph.nodeCount).toBe(index.partCount + 1 + network.soil.nodeCount)
  let edges = 0
  for (let joint = 0; joint < index.jointCount; joint++) {
    const e = edgeOfJoint[joint]
    if (e < 0) continue
    edges++
    expect(jointOfEdge[e]).toBe(joint)
    const ends = [graph.from[e], endOf(network, graph.to[e])]
    expect(Math.min(...ends)).toBeGreaterThanOrEqual(0)
    expect(Math.max(...ends)).toBeLessThanOrEqual(network.remoteEarth)
    expect(ends[0]).not.toBe(ends[1])
    expect(network.isMetal[e] + network.isEarthPath[e]).toBe(1)
    expect(network.medianOhm[e]).toBeGreaterThan(0)
    expect(network.medianOhm[e]).toBeLessThan(1e9)
    expect(jointMedianOhm(network, e)).toBeGreaterThanOrEqual(network.medianOhm[e])
    expect(network.fixedOhm[e]).toBeGreaterThanOrEqual(0)
    expect(network.fixedOhm[e]).toBeLessThanOrEqual(network.medianOhm[e])
    const address = jointAddressAt(index, joint)
    if (address.at === 'table') {
      const { row, table } = address
      expect(ends).toEqual(
        [address.from, address.to].map((part) => partIndexOf(index, { at: 'table', row, table, part })),
      )
    } else if (address.at === 'earthPath') {
      expect(ends).toEqual([partIndexOf(index, address.part), network.remoteEarth])
      expect(network.isEarthPath[e]).toBe(1)
    }
  }
  expect(edges).toBe(edgeCount)
  expect(network.medianOhm.length).toBe(graph.from.length)
  for (let e = edgeCount; e < graph.from.length; e++) {
    expect(jointOfEdge[e]).toBe(-1)
    expect(graph.from[e]).toBeGreaterThan(network.remoteEarth)
    expect(graph.to[e]).toBeGreaterThanOrEqual(network.remoteEarth)
    expect(network.medianOhm[e] > 0 && network.medianOhm[e] < 1e9).toBe(true)
    expect([network.isMetal[e], network.isEarthPath[e], network.lnSpread[e], network.defectRate[e]]).toEqual([
      0, 1, 0, 0,
    ])
  }
  expect(network.metal.islands.of.length).toBe(network.remoteEarth + 1)
}

describe('of any drawing', () => {
  it('joints join what their addresses say, each once', () => {
    fc.assert(
      fc.property(anyDrawing, fc.boolean(), (drawing, countIncidental) => {
        const network = networkOf(drawing, { countIncidental })
        expectSound(network)
        if (countIncidental) expect(network.edgeCount).toBe(network.index.jointCount)
      }),
      { seed: 73, numRuns: 20 },
    )
  })

  it('the example with everything in it, as drawn and as built', () => {
    const { drawing } = exampleSite()
    const drawn = networkOf(drawing)
    expectSound(drawn)
    // R1/T2+T4~2 is not there by design, A3 was only found
    expect(drawn.edgeCount).toBe(drawn.index.jointCount - 2)
    const built = networkOf(drawing, { asBuilt: true })
    expectSound(built)
    expect(built.notes).toContainEqual({ note: 'asBuiltCounted', differences: 3 })
    expect(ohmAt(built, 'C1.3~lug')).toBe(0.01)
    expect(ohmAt(drawn, 'R3/T2/L1.3~P1.2')).toBe(0.01)
    expect(ohmAt(drawn, 'G1~earth')).toBe(40)
  })
})
