import { formatCounted, inWords } from './units.ts'
import type { Words } from './words.ts'

/** What of a table is not bonded together; of layout/tableBonding.ts, which finds it. */
export interface LooseTable {
  readonly sections: number
  readonly holds: readonly {
    readonly frames: number
    readonly members: number
    readonly crossMembers: number
    readonly posts: number
  }[]
  readonly rowsOnNothing: readonly number[]
  readonly isUncrossed: boolean
  readonly unbondedPosts: number
}

const mostSections = 3

/** Warnings about a table type; none of them keeps it from being kept. */
export function describeLooseTable(loose: LooseTable, words: Words): readonly string[] {
  const { sections, holds, rowsOnNothing, isUncrossed, unbondedPosts } = loose
  const warnings: string[] = []
  if (rowsOnNothing.length > 0) {
    const rows = `${rowsOnNothing.length === 1 ? 'row' : 'rows'} ${inWords(rowsOnNothing.map(String))}`
    warnings.push(`The frames of module ${rows} rest on no ${words.longMember}, so that no clamp bonds them.`)
  }
  if (isUncrossed)
    warnings.push(
      `No ${words.crossMember} joins the ${words.longMember}s: each is bonded to the others by frames only, or not at all.`,
    )
  if (unbondedPosts > 0)
    warnings.push(
      `No joint bonds the ${unbondedPosts === 1 ? 'post' : 'posts'} to what ` +
        `${unbondedPosts === 1 ? 'it carries' : 'they carry'}: nothing in the table earths through ` +
        `${unbondedPosts === 1 ? 'it' : 'them'}.`,
    )
  if (sections > 1) {
    const told = holds.slice(0, mostSections).map((held) => describeHolds(held, words))
    const more = sections > mostSections ? [`${sections - mostSections} more`] : []
    warnings.push(
      `Parts of this table are not bonded together by metal: ${sections} sections (${[...told, ...more].join('; ')}).`,
    )
  }
  return warnings
}

function describeHolds(held: LooseTable['holds'][number], words: Words): string {
  const pieces: readonly (readonly [number, string])[] = [
    [held.frames, 'frame'],
    [held.members, words.longMember],
    [held.crossMembers, words.crossMember],
    [held.posts, 'post'],
  ]
  return inWords(pieces.filter(([count]) => count > 0).map(([count, word]) => formatCounted(count, word)))
}
