import { assert, present } from '../base/assert.ts'
import { inPortions, portion, portionSteps } from '../base/portion.ts'
import { fail, ok } from '../base/result.ts'
import type { Result } from '../base/result.ts'
import { wireEnd } from '../layout/conductorIndex.ts'
import { jumperEnds } from '../layout/jointIndex.ts'
import { partIndexOf, partKindAt, partKinds } from '../layout/partIndex.ts'
import { longMemberCode, remoteEarthCode } from '../layout/partKinds.ts'
import { distanceM } from '../layout/path.ts'
import { partPositionM } from '../layout/positions.ts'
import type { SiteIndex } from '../layout/siteIndex.ts'
import { parsePartAddress } from '../model/address.ts'
import type { NetworkNote } from '../model/answers.ts'
import { problem } from '../model/problem.ts'
import type { Problem } from '../model/problem.ts'
import type { Drawing } from '../model/schema/drawing.ts'
import type { JointKind } from '../model/schema/jointKind.ts'
import { blocksInPortions } from './blocks.ts'
import type { Blocks } from './blocks.ts'
import { drawnElectrodeOhm } from './drawnElectrode.ts'
import { shareSoil } from './drawnSoil.ts'
import type { DrawnSoil } from './drawnSoil.ts'
import { wireOhms } from './drawnWires.ts'
import { addEdge, emptyEdgeList, trimmed } from './edgeList.ts'
import type { EdgeList } from './edgeList.ts'
import { adjacencyInPortions } from './graph.ts'
import type { Adjacency, Graph } from './graph.ts'
import { chooseReferences, islandsInPortions } from './islands.ts'
import type { Islands } from './islands.ts'
import { jointChanges } from './jointChanges.ts'
import type { JointChange } from './jointChanges.ts'
import { earthPathKind, jointOhm } from './jointOhm.ts'
import { addTable, isLeftOut, tableTemplate } from './tableTemplate.ts'
import type { Conditions } from './tableTemplate.ts'

export interface Structure {
  readonly islands: Islands
  readonly blocks: Blocks
}

/**
 * The bond network of a drawing in typed arrays. Nodes are the parts, remote earth, and then places in soil that
 * earth paths lead to (`drawnSoil.ts`), which are no parts: a probe cannot touch them and they have no address.
 * Edges 0 … edgeCount − 1 are the joints that exist, in joint order; the edges after them are soil between
 * those places, which is nobody's joint: `jointOfEdge` −1, no scatter, no defect rate, an earth path.
 *
 * Scatter of sound joints: an edge's contact, `medianOhm − fixedOhm`, is log-normal with `lnSpread`; metal has
 * no contact scatter. Where the whole edge is metal (wires, member bodies) `lnSpread` is that of the metal.
 */
export interface Network {
  readonly index: SiteIndex
  readonly graph: Graph
  readonly remoteEarth: number
  /** Number of the edges that are joints; the graph may have more. */
  readonly edgeCount: number
  /** Of every edge of the graph, as all arrays by edge. */
  readonly jointOfEdge: Int32Array
  /** −1 for a joint that has no edge: absent, incidental and not counted, or as built and not counted. */
  readonly edgeOfJoint: Int32Array
  readonly medianOhm: Float64Array
  /** The share of `medianOhm` that is metal body or wire. */
  readonly fixedOhm: Float64Array
  readonly lnSpread: Float64Array
  readonly defectRate: Float64Array
  /** Index into `kinds`. */
  readonly kind: Uint16Array
  readonly kinds: readonly JointKind[]
  readonly isEarthPath: Uint8Array
  /** The edges that are no earth paths. */
  readonly isMetal: Uint8Array
  readonly soil: DrawnSoil
  /** Of every node: code of its kind (layout/partKinds.ts), that of remote earth for places in soil too. */
  readonly partKind: Uint8Array
  readonly adjacency: Adjacency
  /** Metal sections and their blocks: without earth paths; remote earth is a section of one, soil is in none. */
  readonly metal: Structure
  /** With earth paths: what the solver works on. */
  readonly electrical: Structure
  /** One node per electrical island whose potential is zero; remote earth in its own. */
  readonly references: Int32Array
  readonly notes: readonly NetworkNote[]
}

export interface CompileOptions {
  /** Temperature of all metal; the drawing's ambient where left out. */
  readonly temperatureC?: number
  /** Whether bare contact that conducts today counts as a joint. */
  readonly countIncidental: boolean
  /** Whether what was found otherwise than drawn goes over what was drawn. */
  readonly asBuilt: boolean
}

interface Making {
  readonly index: SiteIndex
  readonly conditions: Conditions
  readonly changes: ReadonlyMap<number, JointChange>
  readonly list: EdgeList
  /** Incidental joints left out so far, and the largest way from a landing to its station. */
  leftOut: number
  snapM: number
}

/**
 * Makes the network of a drawing from its index: every joint with its ohms at the median of sound joints.
 * Conductors are lug + wire + lug, wires and member bodies ρ(T)·ℓ/A, electrodes and posts in the soil that they
 * share. Straight from the runs of tables into typed arrays: about 50 bytes a joint, O(parts + joints).
 * Yields the fraction done. Fails (at most 50 problems) on drawn sizes that give no resistance.
 */
export function* compileNetwork(
  drawing: Drawing,
  index: SiteIndex,
  options: CompileOptions,
): Generator<number, Result<Network, Problem[]>> {
  assert(index.drawing === drawing, 'the index is that of another drawing')
  const kinds = drawing.jointKinds
  const kindNumber = new Map(kinds.map(({ id }, k) => [id, k]))
  const { changes, found } = jointChanges(index, kindNumber, options.asBuilt)
  const conditions = {
    kinds,
    kindNumber,
    temperatureC: options.temperatureC ?? drawing.facts.ambientC,
    soilOhmM: drawing.facts.soilOhmM,
    countIncidental: options.countIncidental,
  }
  const making: Making = {
    index,
    conditions,
    changes,
    list: emptyEdgeList(index.jointCount),
    leftOut: 0,
    snapM: 0,
  }
  yield 0
  yield* addRows(making)
  addConductors(making)
  addExtraJoints(making)
  const added = options.asBuilt ? addFoundJoints(making) : 0
  const problems = addElectrodes(making)
  if (problems.length > 0) return fail(problems.slice(0, 50))
  yield 0.4
  const edgeCount = making.list.count
  const earthPath = kindNumberOf(conditions, earthPathKind)
  const shared = shareSoil(index, making.list, earthPath, conditions.soilOhmM)
  const { list, soil } = yield* portion(shared, 0.4, 0.05)
  const network = yield* withStructure(index, trimmed(list), edgeCount, soil)
  yield 0.99
  return ok({ ...network, kinds, notes: notesOf(making, soil, options, found + added) })
}

/** Adds one joint, changed where it is designed or was found otherwise. */
function addJoint(
  making: Making,
  joint: number,
  from: number,
  to: number,
  drawnKind: number,
  ownOhm: number,
  givenOhm: number | null,
): void {
  const { kinds, countIncidental } = making.conditions
  const change = making.changes.get(joint)
  if (change === 'absent') return
  const number = change?.kind ?? drawnKind
  const kind = kinds[number]
  const given = change ? (change.medianOhm ?? (change.kind === null ? givenOhm : null)) : givenOhm
  const isEarthPath = to === making.index.remoteEarth || kind.id === earthPathKind
  if (isLeftOut(kind, isEarthPath, countIncidental)) {
    making.leftOut++
    return
  }
  const ohm = present(jointOhm(kind, ownOhm, given), `joint ${joint} of kind ${kind.id} has no ohms`)
  const { lnSpread, defectRate } = kind
  addEdge(making.list, { joint, from, to, ...ohm, lnSpread, defectRate, kind: number, isEarthPath })
}

function* addRows(making: Making): Generator<number, void> {
  const { index, conditions, list, changes } = making
  const { rows, jointCount, remoteEarth } = index
  const { runs } = rows
  const isChanged = new Uint8Array(jointCount)
  for (const joint of changes.keys()) isChanged[joint] = 1
  const templates = index.patterns.map((pattern) => pattern && tableTemplate(pattern, conditions))
  const addChanged = (joint: number, from: number, to: number, kind: number, ownOhm: number) => {
    addJoint(making, joint, from, to, kind, ownOhm, null)
  }
  let pauseAt = portionSteps
  for (let row = 0; row < rows.tables.length; row++) {
    for (let run = rows.runStart[row]; run < rows.runStart[row + 1]; run++) {
      const template = templates[runs.type[run]]!
      const { partCount, jointCount: each } = template.pattern
      for (let t = 0; t < runs.count[run]; t++) {
        const part = runs.partStart[run] + t * partCount
        const joint = runs.jointStart[run] + t * each
        making.leftOut += addTable(list, template, part, joint, remoteEarth, isChanged, addChanged)
        if (joint < pauseAt) continue
        pauseAt = joint + portionSteps
        yield (0.4 * joint) / jointCount
      }
    }
    addJumpers(making, row)
  }
}

function addJumpers(making: Making, row: number): void {
  const { index, conditions } = making
  const { count, kind } = index.drawing.rows[row].links
  if (count === 0) return
  const number = kindNumberOf(conditions, kind)
  let joint = index.rows.jumperStart[row]
  for (let gap = 0; gap + 1 < index.rows.tables[row]; gap++) {
    for (let jumper = 1; jumper <= count; jumper++) {
      const { from, to } = jumperEnds(index, row, gap, jumper)
      addJoint(making, joint++, from, to, number, 0, null)
    }
  }
}

function addConductors(making: Making): void {
  const { index, conditions } = making
  const { conductors, conductorStart, conductorJointStart } = index
  const wireKind = kindNumberOf(conditions, 'wire')
  index.drawing.conductors.forEach((conductor, c) => {
    const first = conductors.pointStart[c]
    const ohms = wireOhms(conductors, c, conductor, conditions.temperatureC)
    for (let p = first; p < conductors.pointStart[c + 1]; p++) {
      let joint = conductorJointStart + conductors.jointStart[p]
      const { landing, atM } = conductor.points[conductors.place[p]]
      if (landing) {
        const part = partOf(index, landing.part)
        addJoint(making, joint++, conductorStart + p, part, kindNumberOf(conditions, landing.kind), 0, null)
        if (partKindAt(index, part) === longMemberCode) {
          making.snapM = Math.max(making.snapM, distanceM(atM, partPositionM(index, part)!))
        }
      }
      if (p - first < ohms.length) {
        const end = conductorStart + wireEnd(conductors, p)
        addJoint(making, joint, conductorStart + p, end, wireKind, ohms[p - first], null)
      }
    }
  })
}

function addExtraJoints(making: Making): void {
  const { index, conditions } = making
  index.drawing.extraJoints.forEach(({ from, to, kind, medianOhm }, k) => {
    const joint = index.extraJointStart + k
    const number = kindNumberOf(conditions, kind)
    addJoint(making, joint, partOf(index, from), partOf(index, to), number, 0, medianOhm)
  })
}

/** Joints that were found where none is drawn; one between parts that are no longer drawn is passed over. */
function addFoundJoints(making: Making): number {
  const { index, conditions } = making
  let added = 0
  index.addedJoints.forEach((at, k) => {
    const { found } = index.drawing.asBuilt[at]
    assert(found.form === 'jointAdded', 'only joints that were added are listed as added')
    const from = findPart(index, found.from)
    const to = findPart(index, found.to)
    if (from < 0 || to < 0) return
    const number = kindNumberOf(conditions, found.kind)
    addJoint(making, index.addedJointStart + k, from, to, number, 0, found.medianOhm)
    added++
  })
  return added
}

function addElectrodes(making: Making): Problem[] {
  const { index, conditions } = making
  const earthPath = kindNumberOf(conditions, earthPathKind)
  const problems: Problem[] = []
  index.drawing.electrodes.forEach((electrode, k) => {
    const ohm = drawnElectrodeOhm(electrode, conditions.soilOhmM)
    if (ohm === null) {
      const where = { path: ['drawing', 'electrodes', k, 'pathM'], address: `G${electrode.id}` }
      problems.push(problem('value.inconsistent', { reason: 'a buried strip needs a length' }, where))
      return
    }
    const part = index.electrodeStart + k
    addJoint(making, index.electrodeJointStart + k, part, index.remoteEarth, earthPath, ohm, null)
  })
  return problems
}

function* withStructure(
  index: SiteIndex,
  list: EdgeList,
  edgeCount: number,
  soil: DrawnSoil,
): Generator<number, Omit<Network, 'kinds' | 'notes'>> {
  const { count, from, to, jointOfEdge, isEarthPath } = list
  const { remoteEarth } = index
  const edgeOfJoint = new Int32Array(index.jointCount).fill(-1)
  const isMetal = new Uint8Array(count)
  const enter = (first: number, end: number) => {
    for (let e = first; e < end; e++) {
      edgeOfJoint[jointOfEdge[e]] = e
      isMetal[e] = 1 - isEarthPath[e]
    }
  }
  yield* portion(inPortions(edgeCount, enter), 0.45, 0.01)
  const graph = { nodeCount: index.partCount + 1 + soil.nodeCount, from, to }
  const adjacency = yield* portion(adjacencyInPortions(graph), 0.46, 0.06)
  const parts = { ...graph, nodeCount: index.partCount + 1 }
  const metalIslands = yield* portion(islandsInPortions(parts, adjacency, isMetal), 0.52, 0.09)
  const metalBlocks = yield* portion(blocksInPortions(parts, adjacency, isMetal), 0.61, 0.14)
  const islands = yield* portion(islandsInPortions(graph, adjacency), 0.75, 0.05)
  const blocks = yield* portion(blocksInPortions(graph, adjacency), 0.8, 0.15)
  yield 0.96
  const references = chooseReferences(graph, islands, remoteEarth)
  yield 0.97
  const partKind = new Uint8Array(graph.nodeCount).fill(remoteEarthCode)
  partKind.set(partKinds(index))
  yield 0.98
  const { medianOhm, fixedOhm, lnSpread, defectRate, kind } = list
  return {
    index,
    graph,
    remoteEarth,
    edgeCount,
    jointOfEdge,
    edgeOfJoint,
    medianOhm,
    fixedOhm,
    lnSpread,
    defectRate,
    kind,
    isEarthPath,
    isMetal,
    soil,
    partKind,
    adjacency,
    metal: { islands: metalIslands, blocks: metalBlocks },
    electrical: { islands, blocks },
    references,
  }
}

function notesOf(
  { leftOut, snapM }: Making,
  soil: DrawnSoil,
  { asBuilt }: CompileOptions,
  differences: number,
): NetworkNote[] {
  const notes: NetworkNote[] = [{ note: 'partsAsPoints' }]
  if (soil.nodeCount > 0) notes.push({ note: 'uniformSoil' })
  if (snapM > 0) notes.push({ note: 'memberSnap', largestM: snapM })
  if (leftOut > 0) notes.push({ note: 'incidentalNotCounted', joints: leftOut })
  if (asBuilt && differences > 0) notes.push({ note: 'asBuiltCounted', differences })
  return notes
}

function kindNumberOf({ kindNumber }: Conditions, name: string): number {
  return present(kindNumber.get(name), `no joint kind is called ${name}`)
}

function findPart(index: SiteIndex, text: string): number {
  const address = parsePartAddress(text)
  return address ? partIndexOf(index, address) : -1
}

/** The part that a drawn joint ends on; `indexSite` has made sure that it is there. */
function partOf(index: SiteIndex, text: string): number {
  const part = findPart(index, text)
  assert(part >= 0, `${text} is no part of the drawing`)
  return part
}
