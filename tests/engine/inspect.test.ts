import { describe, expect, it } from 'vitest'
import { finish } from '../../src/engine/progress.ts'
import type { AnswerTo, RequestName, Requests } from '../../src/engine/requests.ts'
import { run } from '../../src/engine/run.ts'
import { emptySiteCache } from '../../src/engine/siteCache.ts'
import { jointAddressAt, jointIndexOf } from '../../src/layout/jointIndex.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import { parseJointAddress, writeJointAddress } from '../../src/model/address.ts'
import { defaultKits } from '../../src/model/kits.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { exampleSite } from '../model/exampleSite.ts'
import { longLead, rowSite } from '../locate/rowSite.ts'
import { smallSite } from './smallSite.ts'

const counted = { countIncidental: true, asBuilt: true }

function ask<N extends RequestName>(name: N, input: Requests[N][0], site: Site): AnswerTo<N> {
  const result = finish(run(name, input, site, emptySiteCache()))
  if (!result.ok) throw new Error(JSON.stringify(result.error))
  return result.value
}

const joint = (text: string, site: Site, input = counted) =>
  ask('inspectJoint', { ...input, joint: text }, site)
const part = (text: string, site: Site) => ask('inspectPart', { ...counted, part: text }, site)

describe('a joint', () => {
  const site = smallSite()

  it('in parallel with another: share, ohms across its ends, what a loop clamp reads', () => {
    const { counted: found, ...rest } = joint('J1', site)
    expect(rest).toMatchObject({
      joint: 'J1',
      from: 'E1',
      to: 'E2',
      kind: 'jumper',
      differs: 'no',
      leftOut: null,
    })
    expect(found?.leverage).toBeCloseTo(0.5, 12)
    expect(found?.soundOhm).toBeCloseTo(0.05, 12)
    expect(found?.openOhm).toBeCloseTo(0.1, 12)
    // round the loop of the two
    expect(found?.loopClampOhm).toBeCloseTo(0.2, 12)
    expect(found).toMatchObject({ isMetalBridge: false, cutsOffParts: 0, cutsOffFrom: null })
    expect(found?.madeOf).toEqual([{ form: 'given', ohm: 0.1, by: 'extraJoint' }])
  })

  it('without another path: a metal bridge, and what it would cut off', () => {
    const { counted: found } = joint('J3', site)
    expect(found).toMatchObject({ leverage: 1, openOhm: Infinity, loopClampOhm: Infinity })
    // E1 E2 on one side, E3 G1 on the other: of equal sides the one of the `to` end
    expect(found).toMatchObject({ isMetalBridge: true, cutsOffParts: 2, cutsOffFrom: 'E3' })
  })

  it('of an electrode is soil, and no bridge of the metal', () => {
    expect(joint('G1~earth', site).counted).toMatchObject({
      isEarthPath: true,
      isMetalBridge: false,
      madeOf: [{ form: 'given', ohm: 10, by: 'electrode' }],
    })
  })

  it('that the drawing does not have is a problem', () => {
    const result = finish(run('inspectJoint', { ...counted, joint: 'J77' }, site, emptySiteCache()))
    expect(result.ok ? [] : result.error.map(({ code }) => code)).toEqual(['reference.noSuchJoint'])
    const other = finish(run('inspectJoint', { ...counted, joint: 'E1' }, site, emptySiteCache()))
    expect(other.ok ? [] : other.error.map(({ code }) => code)).toEqual(['reference.badAddress'])
  })

  it('that differs by design, or was found otherwise', () => {
    const changed = (drawing: Partial<Site['drawing']>): Site => ({
      ...rowSite(),
      drawing: { ...rowSite().drawing, ...drawing },
    })
    const address = 'R1/T1+T2~1'
    const byDesign = changed({
      differingJoints: [{ joint: address, change: 'other', kind: 'frameLink', medianOhm: 0.02 }],
    })
    expect(joint(address, byDesign)).toMatchObject({
      kind: 'frameLink',
      differs: 'byDesign',
      counted: { madeOf: [{ form: 'given', ohm: 0.02, by: 'differingJoint' }] },
    })
    const absent = changed({
      differingJoints: [{ joint: address, change: 'absent', kind: null, medianOhm: null }],
    })
    expect(joint(address, absent)).toMatchObject({ counted: null, leftOut: 'absent', differs: 'byDesign' })
    const asBuilt = changed({
      nextIds: { ...rowSite().drawing.nextIds, asBuilt: 2 },
      asBuilt: [
        {
          id: 1,
          found: { form: 'jointOther', joint: address, kind: null, medianOhm: 0.3 },
          on: null,
          note: '',
        },
      ],
    })
    expect(joint(address, asBuilt)).toMatchObject({
      kind: 'jumper',
      differs: 'asBuilt',
      counted: { madeOf: [{ form: 'given', ohm: 0.3, by: 'asBuilt' }] },
    })
    expect(joint(address, asBuilt, { ...counted, asBuilt: false })).toMatchObject({
      differs: 'no',
      counted: { madeOf: [{ form: 'catalogue', ohm: 0.0008, kind: 'jumper' }] },
    })
  })

  it('incidental contact says that it was left out', () => {
    const drawing = rowSite().drawing
    const incidental: Site = {
      ...rowSite(),
      drawing: {
        ...drawing,
        jointKinds: drawing.jointKinds.map((kind) =>
          kind.id === 'jumper' ? { ...kind, purpose: 'incidental' as const } : kind,
        ),
      },
    }
    expect(joint('R1/T1+T2~1', incidental, { ...counted, countIncidental: false })).toMatchObject({
      counted: null,
      leftOut: 'incidental',
    })
  })
})

describe('every joint of a drawing with all there is', () => {
  const site = exampleSite()
  const indexed = indexSite(site.drawing)
  if (!indexed.ok) throw new Error('the example site is indexed')
  const index = indexed.value
  const cache = emptySiteCache()
  const network = ask('network', counted, site)

  it('is told with the ends and the kind of its edge, and shares that add up to its median', () => {
    const seen = new Set<string>()
    for (let j = 0; j < index.jointCount; j++) {
      const address = writeJointAddress(jointAddressAt(index, j))
      const result = finish(run('inspectJoint', { ...counted, joint: address }, site, cache))
      if (!result.ok) throw new Error(address)
      const { counted: found, kind, from, to, leftOut } = result.value
      const edge = network.jointOfEdge.indexOf(j)
      expect(found === null, address).toBe(edge < 0)
      expect(leftOut === null, address).toBe(edge >= 0)
      if (!found) continue
      expect(kind, address).toBe(network.kindNames[network.kind[edge]])
      const sum = found.madeOf.reduce((total, { ohm }) => total + ohm, 0)
      expect(Math.abs(sum - found.medianOhm), address).toBeLessThan(1e-12 * found.medianOhm)
      for (const share of found.madeOf) seen.add(share.form)
      for (const end of [from, to]) {
        const at = finish(run('inspectPart', { ...counted, part: end }, site, cache))
        expect(at.ok && at.value.joints.map((one) => one.joint), end).toContain(address)
      }
    }
    expect([...seen].sort()).toEqual(['catalogue', 'given', 'metal', 'soil'])
  })

  it('the metal of a wire is told by what it was computed from', () => {
    const wires = Array.from({ length: index.jointCount }, (_, j) => j).filter(
      (j) => jointAddressAt(index, j).at === 'wire',
    )
    expect(wires.length).toBeGreaterThan(0)
    const address = writeJointAddress(jointAddressAt(index, wires[0]))
    expect(jointIndexOf(index, parseJointAddress(address)!)).toBe(wires[0])
    const [share] = joint(address, site).counted?.madeOf ?? []
    if (share.form !== 'metal') throw new Error('a wire is metal')
    const conductor = site.drawing.conductors[0]
    expect(share).toMatchObject({ material: conductor.material, areaMm2: conductor.areaMm2 })
    expect(share.lengthM).toBeGreaterThan(0)
  })
})

describe('a part', () => {
  const site = smallSite()

  it('with its section, its joints and no earth bar that metal reaches', () => {
    expect(part('E2', site)).toMatchObject({
      part: 'E2',
      kind: 'enclosure',
      atM: { x: 0, y: 0 },
      metalSection: { parts: 4, earthBars: 0 },
      jointCount: 3,
      toEarthBar: null,
    })
    expect(part('E2', site).joints).toEqual([
      { joint: 'J1', kind: 'jumper', other: 'E1', medianOhm: 0.1, isMetalBridge: false },
      { joint: 'J2', kind: 'jumper', other: 'E1', medianOhm: 0.1, isMetalBridge: false },
      { joint: 'J3', kind: 'jumper', other: 'E3', medianOhm: 0.2, isMetalBridge: true },
    ])
  })

  it('and its way to the bar', () => {
    const { metalSection, toEarthBar } = part('G2', site)
    expect(metalSection).toEqual({ parts: 2, earthBars: 1 })
    expect(toEarthBar?.earthBar).toBe('B1')
    expect(toEarthBar?.resistanceOhm).toBeCloseTo(0.05, 12)
    expect(toEarthBar?.expectedOhm).toBeGreaterThan(0.05)
    expect(part('B1', site).toEarthBar).toMatchObject({ earthBar: 'B1', resistanceOhm: 0, spreadOhm: 0 })
  })

  it('the nearest of two bars in ohms', () => {
    const { drawing } = site
    const two: Site = {
      ...site,
      drawing: {
        ...drawing,
        nextIds: { ...drawing.nextIds, earthBar: 3, extraJoint: 8 },
        earthBars: [...drawing.earthBars, { id: 2, label: '', atM: { x: 0, y: 0 } }],
        extraJoints: [
          ...drawing.extraJoints,
          { ...drawing.extraJoints[0], id: 6, from: 'E1', to: 'B1', medianOhm: 1 },
          { ...drawing.extraJoints[0], id: 7, from: 'E3', to: 'B2', medianOhm: 0.3 },
        ],
      },
    }
    expect(part('E3', two).toEarthBar?.earthBar).toBe('B2')
    expect(part('E1', two).toEarthBar?.earthBar).toBe('B2')
    expect(part('G2', two).toEarthBar?.earthBar).toBe('B1')
  })

  it('remote earth has no place and no section', () => {
    expect(part('earth', site)).toMatchObject({
      kind: 'remoteEarth',
      atM: null,
      metalSection: null,
      toEarthBar: null,
      jointCount: 2,
    })
  })
})

describe('what a pair is expected to read', () => {
  const site = smallSite()
  const [twoWire, fourWire] = defaultKits
  const expectPair = (more: object, to = 'E3') => ask('expect', { ...counted, from: 'E1', to, ...more }, site)

  it('without an instrument: the network alone', () => {
    const plain = expectPair({})
    const network = ask('resistance', { ...counted, from: 'E1', to: 'E3' }, site)
    expect(plain).toMatchObject({
      path: 'metal',
      networkOhm: network.expectedOhm,
      expectedOhm: network.expectedOhm,
      spreadOhm: network.spreadOhm,
      contactOhm: 0,
      leadOffsetOhm: 0,
      beyondRange: false,
    })
  })

  it('two wires: clips and lead come on top, the lead in full when it was not nulled', () => {
    const nulled = expectPair({ kit: twoWire, lead: longLead })
    const raw = expectPair({ kit: twoWire, lead: longLead, isNulled: false })
    expect(nulled.contactOhm).toBeGreaterThan(0.003)
    expect(nulled.leadOffsetOhm).toBe(0)
    // 50 m of 1.5 mm² copper
    expect(raw.leadOffsetOhm).toBeCloseTo((1.7241e-8 * 50) / 1.5e-6, 6)
    expect(raw.expectedOhm - nulled.expectedOhm).toBeCloseTo(raw.leadOffsetOhm, 12)
    expect(raw.spreadOhm).toBeGreaterThan(nulled.spreadOhm)
    expect(nulled.spreadOhm).toBeGreaterThan(expectPair({}).spreadOhm)
  })

  it('four wires: neither clips nor lead', () => {
    expect(expectPair({ kit: fourWire, lead: longLead, isNulled: false })).toMatchObject({
      contactOhm: 0,
      leadOffsetOhm: 0,
    })
  })

  it('says when the range ends below it, and when nothing joins the two', () => {
    expect(expectPair({ kit: { ...twoWire, mostOhm: 0.1 } }).beyondRange).toBe(true)
    expect(expectPair({ kit: twoWire }, 'E4')).toMatchObject({
      path: 'none',
      expectedOhm: Infinity,
      spreadOhm: 0,
      beyondRange: true,
    })
    expect(expectPair({}, 'B1').path).toBe('soilOnly')
  })

  it('names the criterion with the computed path added', () => {
    const to = ask('expect', { ...counted, from: 'G2', to: 'B1' }, site)
    expect(to.criterion.criterion).toBe('pathToEarthBar')
    expect(to.criterion.investigateOhm).toBeCloseTo(0.55, 12)
  })
})

describe('a map of currents', () => {
  it('is the list of currents by joint number, 0 where nothing flows', () => {
    const site = smallSite()
    const index = indexSite(site.drawing)
    const pair = { ...counted, from: 'E1', to: 'E3' }
    const { perAmpere, resistanceOhm, path } = ask('currentMap', pair, site)
    const { currents } = ask('currents', pair, site)
    expect(path).toBe('metal')
    expect(resistanceOhm).toBeCloseTo(0.25, 12)
    if (!index.ok) throw new Error('the site is indexed')
    const listed = new Map(
      currents.map((c) => [jointIndexOf(index.value, parseJointAddress(c.joint)!), c.perAmpere]),
    )
    expect(perAmpere).toHaveLength(index.value.jointCount)
    perAmpere.forEach((share, j) => expect(share).toBeCloseTo(listed.get(j) ?? 0, 6))
  })

  it('is empty where nothing joins the pair', () => {
    const { perAmpere, path, resistanceOhm } = ask(
      'currentMap',
      { ...counted, from: 'E1', to: 'E4' },
      smallSite(),
    )
    expect(path).toBe('none')
    expect(resistanceOhm).toBe(Infinity)
    expect(perAmpere.every((share) => share === 0)).toBe(true)
  })
})
