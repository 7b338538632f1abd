import { assert } from '../base/assert.ts'
import { clampStations, postCarries } from '../model/pattern.ts'
import { localIndexOf } from './localParts.ts'
import type { TablePattern, TableShape } from './pattern.ts'

type Joints = Pick<
  TablePattern,
  'jointCount' | 'from' | 'to' | 'parallel' | 'kind' | 'kindNames' | 'bodyM' | 'jointStart'
>

/** Kinds that a pattern uses without its type naming them. */
const memberBodyKind = 'memberBody'
const spliceKind = 'splice'
const earthPathKind = 'earthPath'

/**
 * Which joints a table has (numbering: see `TablePattern`; which frame is clamped where and what a post
 * carries: model/pattern.ts). Each long member runs from station to station through its own metal, or
 * through a splice and the metal of that length in series.
 */
export function patternJoints(shape: TableShape, jointCount: number): Joints {
  const from = new Int32Array(jointCount)
  const to = new Int32Array(jointCount)
  const parallel = new Uint8Array(jointCount)
  const kind = new Uint8Array(jointCount)
  const bodyM = new Float64Array(jointCount)
  const jointStart = new Int32Array(shape.partCount + 1)
  const kindNames: string[] = []
  let n = 0
  const add: AddJoint = (first, second, name, number = 1, lengthM = 0) => {
    if (!kindNames.includes(name)) kindNames.push(name)
    from[n] = first
    to[n] = second
    kind[n] = kindNames.indexOf(name)
    parallel[n] = number
    bodyM[n++] = lengthM
    jointStart[first + 1]++
  }
  addFrameJoints(shape, add)
  addMemberJoints(shape, add)
  assert(n === jointCount, `a table of type ${shape.type.id} has ${n} joints, counted ${jointCount}`)
  for (let p = 0; p < shape.partCount; p++) jointStart[p + 1] += jointStart[p]
  return { jointCount, from, to, parallel, kind, kindNames, bodyM, jointStart }
}

type AddJoint = (first: number, second: number, kind: string, parallel?: number, bodyM?: number) => void

function addFrameJoints({ type, high, across, longStart }: TableShape, add: AddJoint): void {
  const { clamps, links } = type.frameBond
  const carriers = Array.from({ length: high }, (_, h) =>
    type.longMembers.flatMap(({ carries }, m) => (carries.includes(h + 1) ? [m] : [])),
  )
  for (let h = 0; h < high; h++) {
    for (let a = 0; a < across; a++) {
      const frame = h * across + a
      if (links && links.direction !== 'high' && a + 1 < across) add(frame, frame + 1, links.kind)
      if (links && links.direction !== 'across' && h + 1 < high) add(frame, frame + across, links.kind)
      if (!clamps) continue
      for (const m of carriers[h]) {
        for (const station of clampStations(clamps.perMember, a + 1)) {
          add(frame, longStart + m * (across + 1) + station - 1, clamps.kind)
        }
      }
    }
  }
}

function addMemberJoints(shape: TableShape, add: AddJoint): void {
  const { type, size, across, members, longStart, crossStart, postStart, partCount } = shape
  const crossStations = type.crossMembers?.stations ?? []
  const postsOn = postsByCarrier(shape)
  const addPosts = (part: number) => {
    for (const post of postsOn.get(part) ?? []) {
      type.posts!.bondKinds.forEach((kind, k) => add(part, post, kind, k + 1))
    }
  }
  for (let m = 0; m < members; m++) {
    const spliced = new Set(type.longMembers[m].spliceAfter)
    for (let s = 0; s <= across; s++) {
      const piece = longStart + m * (across + 1) + s
      if (s < across) {
        const lengthM = size.stationM[s + 1] - size.stationM[s]
        add(piece, piece + 1, spliced.has(s + 1) ? spliceKind : memberBodyKind, 1, lengthM)
      }
      crossStations.forEach((station, x) => {
        if (station === s + 1) add(piece, crossStart + x, type.crossMembers!.bracketKind)
      })
      addPosts(piece)
    }
  }
  for (let x = crossStart; x < postStart; x++) addPosts(x)
  if (!type.posts?.soil) return
  for (let post = postStart; post < partCount; post++) add(post, -1, earthPathKind)
}

/** Posts in ascending order by the part of the structure that they carry. */
function postsByCarrier(shape: TableShape): ReadonlyMap<number, readonly number[]> {
  const { type, postStart, postsPerLine, partCount } = shape
  const posts = new Map<number, number[]>()
  for (let post = postStart; post < partCount; post++) {
    const line = Math.floor((post - postStart) / postsPerLine) + 1
    const carried = postCarries(type, line, ((post - postStart) % postsPerLine) + 1)
    const carrier = localIndexOf(shape, carried)
    posts.set(carrier, [...(posts.get(carrier) ?? []), post])
  }
  return posts
}
