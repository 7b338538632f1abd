import { newSite } from '../../src/model/newSite.ts'
import type { Entry, EntryOf } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import type { TableType } from '../../src/model/schema/tableType.ts'

/** A UUID that says which of a test's it is: version 4 in form, counted in content. */
export function uuid(n: number): string {
  return `00000000-0000-4000-8000-${n.toString(16).padStart(12, '0')}`
}

/** 2 high × 4 portrait on two rails per module row, cross members and two lines of posts in soil. */
export const fixedTilt: TableType = {
  id: 'fixed',
  name: '2 high × 4, portrait',
  mounting: 'fixedTilt',
  tiltDeg: 20,
  modules: {
    high: 2,
    across: 4,
    longSideM: 2.2,
    shortSideM: 1.1,
    orientation: 'portrait',
    gapAcrossM: 0.02,
    gapHighM: 0.02,
  },
  longMembers: [
    { carries: [1], upM: 0.5, material: 'galvanised-steel', areaMm2: 400, spliceAfter: [2] },
    { carries: [1], upM: 1.7, material: 'galvanised-steel', areaMm2: 400, spliceAfter: [2] },
    { carries: [2], upM: 2.7, material: 'galvanised-steel', areaMm2: 400, spliceAfter: [] },
    { carries: [2], upM: 3.9, material: 'galvanised-steel', areaMm2: 400, spliceAfter: [] },
  ],
  crossMembers: { stations: [2, 4], bracketKind: 'bracket' },
  posts: {
    stations: [2, 4, 5],
    lines: 2,
    support: 'fixed',
    bondKinds: ['bracket', 'jumper'],
    soil: { buriedM: 1.5, diameterM: 0.1 },
  },
  frameBond: { clamps: { perMember: 1, kind: 'frameClamp' }, links: null },
}

/** 1 high × 5 on a tube: every frame clamped twice and linked to the next, posts with a pivot and a jumper. */
export const tracker: TableType = {
  id: 'tracker',
  name: '1 high × 5 on a tube',
  mounting: 'tracker',
  tiltDeg: 0,
  modules: {
    high: 1,
    across: 5,
    longSideM: 2.2,
    shortSideM: 1.1,
    orientation: 'portrait',
    gapAcrossM: 0.02,
    gapHighM: 0,
  },
  longMembers: [{ carries: [1], upM: 1.1, material: 'galvanised-steel', areaMm2: 900, spliceAfter: [3] }],
  crossMembers: null,
  posts: {
    stations: [1, 3, 6],
    lines: 1,
    support: 'pivot',
    bondKinds: ['jumper'],
    soil: { buriedM: 2, diameterM: 0.15 },
  },
  frameBond: {
    clamps: { perMember: 2, kind: 'frameClamp' },
    links: { direction: 'across', kind: 'frameLink' },
  },
}

const emptyVisit: EntryOf<'visit'> = {
  id: uuid(100),
  device: uuid(90),
  counter: 0,
  at: '2026-05-04T07:00:00Z',
  entry: 'visit',
  party: ['tester'],
  purpose: 'first test',
  kits: [
    {
      id: 'two-wire',
      name: 'two-wire tester',
      serial: '12',
      method: 'twoWire',
      testCurrentA: 0.2,
      resolutionOhm: 0.01,
      gainError: 0.02,
      digits: 3,
      mostOhm: 200,
      calibrationDue: '2027-01-31',
      lastCheck: null,
    },
    {
      id: 'clamp',
      name: 'loop clamp',
      serial: '',
      method: 'loopClamp',
      testCurrentA: 0.001,
      resolutionOhm: 0.025,
      gainError: 0.02,
      digits: 2,
      mostOhm: 1500,
      calibrationDue: null,
      lastCheck: null,
    },
  ],
  leads: [{ id: 'long', name: '50 m', lengthM: 50, areaMm2: 1.5, material: 'copper' }],
  weather: 'dry',
  ambientC: 24,
  isolation: 'strings open',
  inverter: 'unknown',
  isolators: 'unknown',
  lockOut: '',
}

const identity = (n: number, minutes: number) => ({
  id: uuid(100 + n),
  device: uuid(90),
  counter: n,
  at: `2026-05-04T07:${String(minutes).padStart(2, '0')}:00Z`,
  visit: uuid(100),
})

/** A reading of the example site's visit. */
export function exampleReading(
  n: number,
  from: string,
  to: string,
  ohm: number,
): Extract<Entry, { entry: 'reading' }> {
  return {
    ...identity(n, 10 + n),
    entry: 'reading',
    method: 'twoWire',
    kit: 'two-wire',
    lead: 'long',
    from: { part: from, spot: 'face', surface: 'bare' },
    to: { part: to, spot: 'boltHead', surface: 'pierced' },
    around: null,
    result: { form: 'ohm', ohm },
    reverseOhm: null,
    unsteady: null,
    testCurrentA: 0.2,
    metalC: null,
    trackerDeg: null,
    repeats: null,
    plan: null,
    planPair: null,
    trying: null,
    spikesM: null,
    photos: [],
    note: '',
  }
}

/** A small site that uses every section of the drawing and every sort of entry. */
export function exampleSite(): Site {
  const empty = newSite({ id: uuid(1), revision: uuid(2), name: 'Example', units: 'metric' })
  const clampReading: Entry = {
    ...exampleReading(4, 'C1.1', 'C1.1', 0.4),
    method: 'loopClamp',
    kit: 'clamp',
    lead: null,
    around: 'C1.1~wire',
  }
  return {
    ...empty,
    drawing: {
      ...empty.drawing,
      parent: uuid(3),
      facts: {
        ...empty.drawing.facts,
        anchor: { latitudeDeg: 10.5, longitudeDeg: -20.25, bearingDeg: 12 },
        note: 'level ground',
      },
      nextIds: {
        row: 4,
        enclosure: 2,
        earthBar: 2,
        electrode: 4,
        conductor: 3,
        extraJoint: 2,
        asBuilt: 5,
        aisle: 2,
        obstacle: 2,
      },
      tableTypes: [fixedTilt, tracker],
      rows: [
        {
          id: 1,
          label: 'A',
          originM: { x: 0, y: 0 },
          bearingDeg: 90,
          gapM: 0.3,
          runs: [
            { firstTable: 1, count: 2, type: 'fixed' },
            { firstTable: 4, count: 1, type: 'fixed' },
            { firstTable: 3, count: 1, type: 'fixed' },
          ],
          nextTable: 5,
          links: { count: 2, kind: 'jumper' },
          tableLabels: { '1': 'A-01', '4': 'A-03' },
        },
        {
          id: 3,
          label: 'B',
          originM: { x: 0, y: 12.5 },
          bearingDeg: 90,
          gapM: 0.5,
          runs: [{ firstTable: 1, count: 3, type: 'tracker' }],
          nextTable: 4,
          links: { count: 0, kind: 'jumper' },
          tableLabels: {},
        },
      ],
      enclosures: [
        { id: 1, label: 'inverter 1', atM: { x: -3, y: 1 }, widthM: 1.2, depthM: 0.6, bearingDeg: 90 },
      ],
      earthBars: [{ id: 1, label: 'main bar', atM: { x: -3, y: 3 } }],
      electrodes: [
        {
          id: 1,
          label: 'rod',
          measuredOhm: 40,
          form: 'rod',
          atM: { x: -4, y: 4 },
          lengthM: 2.4,
          diameterM: 0.016,
        },
        {
          id: 2,
          label: 'plate',
          measuredOhm: null,
          form: 'plate',
          atM: { x: -9, y: 4 },
          areaM2: 0.5,
          depthM: 1,
        },
        {
          id: 3,
          label: 'ring',
          measuredOhm: null,
          form: 'strip',
          pathM: [
            { x: -5, y: -5 },
            { x: 30, y: -5 },
            { x: 30, y: 30 },
          ],
          closed: true,
          diameterM: 0.01,
          depthM: 0.6,
        },
      ],
      conductors: [
        {
          id: 1,
          label: 'row A to bar',
          material: 'copper',
          areaMm2: 16,
          size: 'mm2-16',
          closed: false,
          points: [
            { id: 1, atM: { x: 0, y: 0 }, landing: { part: 'R1/T1/L1.1', kind: 'layInLug' } },
            { id: 2, atM: { x: -2, y: 1 }, landing: null },
            { id: 4, atM: { x: -3, y: 2 }, landing: { part: 'E1', kind: 'crimpLug' } },
            { id: 3, atM: { x: -3, y: 3 }, landing: { part: 'B1', kind: 'crimpLug' } },
          ],
          nextPoint: 5,
          lengthM: null,
        },
        {
          id: 2,
          label: 'bar to rod',
          material: 'copper',
          areaMm2: 25,
          size: null,
          closed: false,
          points: [
            { id: 1, atM: { x: -3, y: 3 }, landing: { part: 'B1', kind: 'crimpLug' } },
            { id: 2, atM: { x: -4, y: 4 }, landing: { part: 'G1', kind: 'rodClamp' } },
          ],
          nextPoint: 3,
          lengthM: 3.5,
        },
      ],
      extraJoints: [
        {
          id: 1,
          label: 'drive shaft',
          from: 'R3/T1/L1.3',
          to: 'R1/T1/X1',
          kind: 'bracket',
          medianOhm: 0.002,
        },
      ],
      differingJoints: [
        { joint: 'R1/T2+T4~2', change: 'absent', kind: null, medianOhm: null },
        { joint: 'R3/T2/L1.3~P1.2', change: 'other', kind: 'incidental', medianOhm: null },
      ],
      asBuilt: [
        { id: 1, found: { form: 'jointAbsent', joint: 'R1/T1/F1.1~L1.2' }, on: '2026-05-04', note: '' },
        {
          id: 2,
          found: { form: 'jointOther', joint: 'C1.3~lug', kind: null, medianOhm: 0.01 },
          on: null,
          note: 'stud painted',
        },
        {
          id: 3,
          found: {
            form: 'jointAdded',
            from: 'R3/T1/L1.6',
            to: 'R3/T2/L1.1',
            kind: 'jumper',
            medianOhm: null,
          },
          on: '2026-05-04',
          note: '',
        },
        { id: 4, found: { form: 'other', about: 'E1' }, on: null, note: 'stands elsewhere' },
      ],
      aisles: [
        {
          id: 1,
          pathM: [
            { x: 0, y: 8 },
            { x: 20, y: 8 },
          ],
        },
      ],
      obstacles: [
        {
          id: 1,
          name: 'ditch',
          outlineM: [
            { x: 20, y: 9 },
            { x: 21, y: 9 },
            { x: 21, y: 10 },
          ],
        },
      ],
      plans: [
        {
          id: 'firstTest',
          name: 'First test',
          note: '',
          pairs: [
            { id: 1, from: 'B1', to: 'R1/T1/F1.1', required: true, step: '', point: 'none' },
            { id: 3, from: 'B1', to: 'R3/T1/F1.5', required: false, step: '', point: 'none' },
          ],
          nextPair: 4,
        },
      ],
      sources: [
        {
          id: 'string1',
          form: 'pvString',
          name: 'string 1',
          openCircuitV: 900,
          shortCircuitA: 11,
          modulesInSeries: 20,
          stringsInParallel: 2,
          referencing: 'floating',
        },
        {
          id: 'grid',
          form: 'ac',
          name: 'grid',
          phaseV: 230,
          frequencyHz: 50,
          sourceOhm: 0.3,
          returnPart: 'B1',
        },
      ],
      devices: [
        {
          id: 'monitor',
          name: 'insulation monitor',
          form: 'insulationMonitor',
          characteristic: '',
          ratedA: null,
          protects: 'string1',
          note: '',
        },
      ],
      lessons: [
        {
          id: 'missingBond',
          title: 'A missing bond',
          steps: [
            { text: 'Look at this frame.', about: 'R1/T1/F1.1' },
            { text: 'And at its clamp.', about: 'R1/T1/F1.1~L1.2' },
            { text: 'What if it is open?', about: null },
          ],
        },
      ],
    },
    record: [
      emptyVisit,
      { ...identity(1, 5), entry: 'nulling', kit: 'two-wire', lead: 'long', leadC: 25, note: '' },
      {
        ...identity(2, 6),
        entry: 'leadCheck',
        kit: 'two-wire',
        lead: 'long',
        result: { form: 'ohm', ohm: 0.01 },
        note: '',
      },
      {
        ...identity(3, 7),
        entry: 'volts',
        from: 'B1',
        to: 'R1/T1/L1.1',
        directV: 0.2,
        alternatingV: 0,
        toEarth: { directV: 0.1, alternatingV: 0 },
      },
      clampReading,
      { ...exampleReading(5, 'B1', 'R1/T1/F1.1', 0.12), plan: 'firstTest', planPair: 1 },
      { ...exampleReading(6, 'B1', 'R3/T1/F1.5', 1), result: { form: 'over', atLeastOhm: 200 } },
      { ...exampleReading(7, 'B1', 'R3/T1/F1.5', 0.35), repeats: uuid(106), reverseOhm: 0.36 },
      {
        ...identity(8, 20),
        entry: 'correction',
        of: uuid(105),
        result: { form: 'ohm', ohm: 0.21 },
        from: null,
        to: { part: 'R1/T1/F1.2', spot: 'face', surface: 'bare' },
        reason: 'written down wrongly',
      },
      { ...identity(9, 21), entry: 'withdrawal', of: uuid(106), reason: 'clip had fallen' },
      {
        ...identity(10, 22),
        entry: 'look',
        joint: 'R1/T1/F1.1~L1.2',
        findings: ['partMissing'],
        torqueAskedNm: 12,
        torqueFoundNm: 0,
        torqueSetNm: null,
        photos: ['ab'.repeat(32)],
        note: '',
      },
      {
        ...identity(11, 23),
        entry: 'repair',
        joint: 'R1/T1/F1.1~L1.2',
        done: 'replaced',
        torqueSetNm: null,
        coating: 'notTouched',
        photos: [],
        by: 'crew',
        note: '',
      },
      { ...identity(12, 24), entry: 'note', about: 'E1', text: 'door bent' },
      { ...identity(13, 25), entry: 'note', about: null, text: '' },
      {
        ...identity(14, 26),
        entry: 'signature',
        role: 'tester',
        name: 'tester',
        entries: [uuid(105), uuid(107)],
        drawing: uuid(2),
        drawingRevision: 'E-101 rev B',
        plan: 'firstTest',
        planPair: 1,
        note: '',
        digest: '0'.repeat(64),
      },
      {
        ...identity(15, 27),
        entry: 'defect',
        number: 1,
        joints: ['R1/T1/F1.1~L1.2'],
        proof: [uuid(105)],
        note: '',
      },
      {
        ...identity(16, 28),
        entry: 'defectStep',
        of: uuid(115),
        state: 'repaired',
        joint: 'R1/T1/F1.1~L1.2',
        proof: [uuid(111)],
        note: '',
      },
      {
        ...identity(17, 29),
        entry: 'amendment',
        party: ['tester', 'helper'],
        purpose: 'first test',
        kits: emptyVisit.kits,
        leads: emptyVisit.leads,
        weather: 'rain',
        ambientC: 12,
        inverter: 'off',
        isolators: 'open',
        lockOut: 'L-4',
        isolation: 'strings open',
      },
    ],
  }
}
