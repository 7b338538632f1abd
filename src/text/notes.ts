import { unreachable } from '../base/assert.ts'
import type { NetworkNote } from '../model/answers.ts'
import { formatCounted, formatLength, type Units } from './units.ts'
import { wordsFor } from './words.ts'

/** What a reader must know about the network behind an answer, in one sentence or two. */
export function describeNote(note: NetworkNote, units: Units): string {
  const words = wordsFor(units)
  switch (note.note) {
    case 'uniformSoil':
      return (
        `Electrodes and posts share soil that counts as one throughout, at the stated resistivity. ` +
        `Layers, dry ground on top and metal that is not drawn are not counted.`
      )
    case 'memberSnap':
      return (
        `Where metal lands between two stations of a ${words.longMember} it is moved to the nearest one, ` +
        `by up to ${formatLength(note.largestM, units)}.`
      )
    case 'partsAsPoints':
      return (
        `Frames, cross members and posts count as one potential each; their own metal is left out. ` +
        `A ${words.longMember} is split at its stations, with its own ohms between them.`
      )
    case 'incidentalNotCounted':
      return (
        `${formatCounted(note.joints, 'incidental contact')} ${note.joints === 1 ? 'is' : 'are'} not counted: ` +
        `bare metal that touches may conduct today and not tomorrow.`
      )
    case 'asBuiltCounted':
      return (
        `${formatCounted(note.differences, 'as-built difference')} ${note.differences === 1 ? 'is' : 'are'} ` +
        `counted in; the drawing itself is as designed.`
      )
    default:
      return unreachable(note)
  }
}

/** The drawing holds as-built differences, and this answer is for the array as designed. */
export function describeUncountedAsBuilt(differences: number): string {
  return (
    `${formatCounted(differences, 'as-built difference')} ${differences === 1 ? 'is' : 'are'} on file and not ` +
    `counted in: this is the array as designed.`
  )
}
