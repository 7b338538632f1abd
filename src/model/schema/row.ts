import { z } from 'zod'
import { limits } from '../limits.ts'
import { bearingDeg, nameText, pointM, slug, storedId } from './primitives.ts'

/** Consecutive tables of one type; their ids count up by one from `firstTable`. */
const run = z
  .strictObject({
    firstTable: storedId,
    count: z.int().min(1).max(limits.tablesPerRow),
    type: slug,
  })
  .readonly()

/**
 * Tables in line. The first table's lower outer corner stands at `originM`; the row runs in the direction
 * of `bearingDeg` and its tables rise to the left of that direction.
 */
export const rowSchema = z
  .strictObject({
    id: storedId,
    label: nameText,
    originM: pointM,
    bearingDeg,
    /** Clear distance between neighbouring tables. */
    gapM: z.number().min(0).max(1000),
    runs: z.array(run).min(1).max(limits.tablesPerRow).readonly(),
    /** The id that the next new table gets; ids are never reused. */
    nextTable: storedId,
    /**
     * Jumpers between neighbouring tables: the first on the first long member, the second on the last.
     */
    links: z
      .strictObject({ count: z.union([z.literal(0), z.literal(1), z.literal(2)]), kind: slug })
      .readonly(),
    /** Labels painted on single tables, by table id. */
    tableLabels: z.record(z.string().regex(/^[1-9][0-9]*$/), nameText).readonly(),
  })
  .readonly()

export type Row = z.infer<typeof rowSchema>
export type TableRun = Row['runs'][number]
