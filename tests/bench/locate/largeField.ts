import { present } from '../../../src/base/assert.ts'
import { randomStream } from '../../../src/base/random.ts'
import { jointIndexOf } from '../../../src/layout/jointIndex.ts'
import { partIndexOf } from '../../../src/layout/partIndex.ts'
import { parseJointAddress, parsePartAddress } from '../../../src/model/address.ts'
import type { Drawing } from '../../../src/model/schema/drawing.ts'
import { siteFormat, siteVersion, type Site } from '../../../src/model/schema/site.ts'
import type { Network } from '../../../src/network/compile.ts'
import { riseOhm } from '../../../src/network/jointSweep.ts'
import { pairResistance } from '../../../src/network/pairResistance.ts'
import { prepareNetwork } from '../../../src/network/prepare.ts'
import { pairPotentials } from '../../../src/network/solve.ts'
import { drawnNetwork } from '../../generator/drawnNetwork.ts'
import type { Truth } from '../../generator/drawTruth.ts'
import { fieldDrawing } from '../../generator/fieldDrawing.ts'
import { drawUuid } from '../../generator/identity.ts'
import { runToEnd } from '../../generator/locateIn.ts'
import { planOf } from '../../generator/planOf.ts'
import { takeVisit } from '../../generator/takeVisit.ts'
import { longLead, twoWireKit } from '../../generator/testKits.ts'

const rowPitchM = 6.5

/** The demo field's table in so many rows of so many, tied by one conductor along the west ends. */
export function largeDrawing(rowCount: number, tableCount: number): Drawing {
  const ids = randomStream(7)
  const small = fieldDrawing({ site: drawUuid(ids), revision: drawUuid(ids) })
  const rowNumbers = Array.from({ length: rowCount }, (_, r) => r + 1)
  const [main] = small.conductors
  const rodsM = [
    { x: 0, y: -3 },
    { x: 0, y: (rowCount - 1) * rowPitchM + 8 },
  ]
  return {
    ...small,
    nextIds: { ...small.nextIds, row: rowCount + 1, conductor: 2 },
    rows: rowNumbers.map((row) => ({
      ...small.rows[0],
      id: row,
      label: `Row ${row}`,
      originM: { x: 0, y: (row - 1) * rowPitchM },
      runs: [{ ...small.rows[0].runs[0], count: tableCount }],
      nextTable: tableCount + 1,
      tableLabels: {},
    })),
    electrodes: rodsM.map((atM, k) => ({
      id: k + 1,
      label: '',
      measuredOhm: null,
      form: 'rod',
      atM,
      lengthM: 2.4,
      diameterM: 0.016,
    })),
    enclosures: [],
    conductors: [
      {
        ...main,
        points: [
          { atM: rodsM[0], landing: { part: 'G1', kind: 'rodClamp' } },
          ...rowNumbers.map((row) => ({
            atM: { x: 0, y: (row - 1) * rowPitchM + 0.45 },
            landing: { part: `R${row}/T1/L1.1`, kind: 'crimpLug' },
          })),
          { atM: rodsM[1], landing: { part: 'G2', kind: 'rodClamp' } },
        ].map((point, k) => ({ id: k + 1, ...point })),
        nextPoint: rowCount + 3,
      },
    ],
    earthBars: [],
    aisles: [],
    plans: [],
    sources: [],
    devices: [],
  }
}

/** From the middle of every eighth table of the middle row to its neighbours, and now and then to another row. */
function pairsOf(rowCount: number, tableCount: number, readingCount: number) {
  const row = Math.ceil(rowCount / 2)
  const steps = [-3, -2, -1, 1, 2, 3, 4, 5, 6]
  return Array.from({ length: readingCount }, (_, k) => {
    const table = Math.min(4 + 8 * Math.floor(k / 10), tableCount)
    const from = `R${row}/T${table}/L1.6`
    if (k % 10 === 9) return { from, to: `R${1 + ((row + k) % rowCount)}/T1/L4.1` }
    const to = 1 + ((table - 1 + steps[k % 10] + tableCount) % tableCount)
    return { from, to: `R${row}/T${to}/F1.5` }
  })
}

/** Medians, but for one open jumper: what is timed does not depend on the ohms of sound joints. */
function truthWithOpen(network: Network, openJoint: string): Truth {
  const { solver, loopS, conductanceS } = runToEnd(prepareNetwork(network))
  const { index, graph } = network
  const edge = network.edgeOfJoint[jointIndexOf(index, present(parseJointAddress(openJoint), openJoint))]
  const acrossV = new Float64Array(graph.nodeCount)
  pairPotentials(solver.factor, graph.from[edge], graph.to[edge], acrossV)
  const part = (text: string) => partIndexOf(index, present(parsePartAddress(text), text))
  return {
    network,
    ohm: network.medianOhm,
    soilFactor: 1,
    trueResistance(from, to) {
      const [a, b] = [part(from), part(to)]
      const current = conductanceS[edge] * (acrossV[a] - acrossV[b])
      return pairResistance(solver.factor, a, b) + riseOhm(current * current, loopS[edge], Infinity)
    },
  }
}

/** A large field, one visit's readings in and about its middle row, and one open jumper there. */
export function largeField(rowCount: number, tableCount: number, readingCount: number): Site {
  const random = randomStream(11)
  const drawing = largeDrawing(rowCount, tableCount)
  const row = Math.ceil(rowCount / 2)
  const table = Math.min(tableCount - 1, 14)
  const record = takeVisit({
    truth: truthWithOpen(drawnNetwork(drawing), `R${row}/T${table}+T${table + 1}~1`),
    plan: planOf(
      'timed',
      '',
      '',
      pairsOf(rowCount, tableCount, readingCount).map(({ from, to }) => ({ from, to: [to] })),
    ),
    kit: twoWireKit,
    lead: longLead,
    random,
    about: {
      startsAt: '2026-05-12T06:30:00Z',
      party: [],
      purpose: 'Benchmark',
      weather: '',
      ambientC: 18,
      isolation: '',
      inverter: 'unknown',
      isolators: 'unknown',
      lockOut: '',
    },
    contacts: new Map(),
  })
  const name = `${rowCount} rows of ${tableCount}`
  return { format: siteFormat, version: siteVersion, id: drawUuid(random), name, drawing, record }
}
