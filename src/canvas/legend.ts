import { bodySort, soilSort, spliceSort } from '../layout/jointPlaces.ts'
import type { MapMarks } from '../state/mapMarks.ts'
import { currentWidthPx, fullCurrentPx, leastCurrent, suspectSizePx } from './drawMarks.ts'
import type { MapGeometry } from './geometry.ts'
import { plateForm, rodForm, stripForm } from './itemGeometry.ts'
import { isAtLeast, smallest, type Level } from './lod.ts'
import type { BasePaint } from './basePaint.ts'
import { suspectColour } from './palette.ts'
import { dashShares, tableShares, type SightForm, type TableShare } from './sightMarks.ts'
import { sightsIn } from './sightTints.ts'
import { faultEntries } from './legendFault.ts'
import type { LegendEntry, LegendKey, LegendStep, SightKey, Swatch } from './legendTypes.ts'

/** What the base layer is given, and whether a next reading is drawn over it. */
type LegendPaint = BasePaint & { readonly marks: Partial<Pick<MapMarks, 'next' | 'walk'>> }

/** Exactly what the base layer can show of this site at this level, all the current being so many CSS pixels wide. */
export function legendOf(
  level: Level,
  paint: LegendPaint,
  geometry: MapGeometry,
  widestPx = fullCurrentPx,
): readonly LegendEntry[] {
  return [
    ...sightEntries(level, paint),
    ...faultEntries(level, paint, widestPx),
    ...groundEntries(paint, geometry),
    ...tableEntries(level, paint, geometry),
    ...itemEntries(level, paint, geometry),
    ...markEntries(paint, widestPx),
  ]
}

function plain(isShown: boolean, key: LegendKey, swatch: Swatch): readonly LegendEntry[] {
  return isShown ? [{ key, swatch, steps: [], scale: null }] : []
}

function line(
  colour: string,
  widthPx: number,
  rim: string | null = null,
  form: 'whole' | 'dashed' | 'double' = 'whole',
): Swatch {
  return { shape: 'line', colour, rim, widthPx, isDashed: form === 'dashed', isDouble: form === 'double' }
}

function groundEntries({ palette }: BasePaint, { items }: MapGeometry): readonly LegendEntry[] {
  return [
    ...plain(items.aisles.count > 0, 'aisle', line(palette.aisle, 8)),
    ...plain(items.obstacles.count > 0, 'obstacle', line(palette.obstacle, 2)),
  ]
}

function tableEntries(
  level: Level,
  { palette }: BasePaint,
  { types, index }: MapGeometry,
): readonly LegendEntry[] {
  const used = types.flatMap((type) => (type ? [type] : []))
  if (used.length === 0) return []
  const table: Swatch = { shape: 'area', fill: palette.tableFar, edge: palette.tableFar }
  if (level === 'tables') return plain(true, 'table', table)
  const module: Swatch = { shape: 'area', fill: palette.module, edge: palette.seam }
  const modules = plain(true, 'module', module)
  if (!isAtLeast(level, 'members')) return modules
  const hasSort = (isIt: (sort: number) => boolean) => used.some(({ jointSort }) => jointSort.some(isIt))
  const isMarked = (sort: number) => sort !== bodySort && sort !== soilSort && sort !== spliceSort
  const joint: Swatch = { shape: 'dot', colour: palette.joint, rim: palette.module, sizePx: smallest.jointPx }
  const post: Swatch = { shape: 'square', colour: palette.post, rim: palette.halo, sizePx: smallest.postPx }
  const isNear = level === 'joints'
  return [
    ...modules,
    ...plain(true, 'longMember', line(palette.member, 2.5)),
    ...plain(
      used.some(({ crossX }) => crossX.length > 0),
      'crossMember',
      line(palette.member, 1.25, null, 'dashed'),
    ),
    ...plain(
      used.some(({ pattern }) => pattern.postStart < pattern.partCount),
      'post',
      post,
    ),
    ...plain(isNear && hasSort(isMarked), 'joint', joint),
    ...plain(isNear && hasSort((sort) => sort === spliceSort), 'splice', line(palette.joint, 3)),
    ...plain(
      hasJumpers(index),
      'jumper',
      line(palette.conductor, smallest.conductorPx, palette.halo, 'double'),
    ),
  ]
}

function hasJumpers({ rows, drawing }: MapGeometry['index']): boolean {
  return drawing.rows.some(({ links }, r) => links.count > 0 && rows.tables[r] > 1)
}

function itemEntries(
  level: Level,
  { palette }: BasePaint,
  { index, items, missingJoints }: MapGeometry,
): readonly LegendEntry[] {
  const { equipment: colour, equipmentFill: fill, conductor, halo } = palette
  const hasForm = (form: number) => items.electrodeForm.includes(form)
  const end: Swatch = { shape: 'square', colour: conductor, rim: halo, sizePx: 4.4 }
  const cross: Swatch = { shape: 'cross', colour: palette.label, rim: halo, sizePx: smallest.missingPx }
  const hasConductors = items.conductors.count > 0
  return [
    ...plain(hasForm(stripForm), 'strip', line(colour, 2.5, null, 'dashed')),
    ...plain(hasConductors, 'conductor', line(conductor, smallest.conductorPx, halo)),
    ...plain(hasConductors && isAtLeast(level, 'members'), 'conductorEnd', end),
    ...plain(items.enclosures.length > 0, 'enclosure', { shape: 'enclosure', colour, fill }),
    ...plain(items.earthBars.length > 0, 'earthBar', { shape: 'earthBar', colour, fill }),
    ...plain(hasForm(rodForm), 'rod', { shape: 'rod', colour, fill }),
    ...plain(hasForm(plateForm), 'plate', { shape: 'plate', colour, fill }),
    ...plain(index.extraJointStart < index.electrodeJointStart, 'addedJoint', line(conductor, 1.5)),
    ...plain(missingJoints.length > 0, 'missingJoint', cross),
  ]
}

const keyOfForm: Readonly<Record<SightForm, SightKey>> = {
  criterion: 'seenByCriterion',
  comparison: 'seenByComparison',
  addPair: 'hiddenAddPair',
  noAccess: 'hiddenNoAccess',
  finerKit: 'hiddenFinerKit',
  parallelPaths: 'hiddenParallelPaths',
  hidden: 'hiddenAny',
}
const keyOfShare: Readonly<Record<TableShare, SightKey>> = {
  all: 'tableAll',
  most: 'tableMost',
  few: 'tableFew',
  none: 'tableNone',
}

function sightEntries(level: Level, { palette, marks }: BasePaint): readonly LegendEntry[] {
  if (!marks.sights) return []
  if (!isAtLeast(level, 'members')) {
    return tableShares.flatMap((name) =>
      plain(true, keyOfShare[name], {
        shape: 'tableShare',
        share: dashShares[name],
        fill: palette.shown,
        empty: palette.tableEmpty,
        edge: palette.hidden,
      }),
    )
  }
  const isNear = level === 'joints'
  const forms = sightsIn(marks.sights).flatMap((name): SightForm[] => {
    if (name === 'cannotFail') return []
    return isNear || name === 'criterion' || name === 'comparison' ? [name] : ['hidden']
  })
  return [...new Set(forms)].flatMap((form) =>
    plain(true, keyOfForm[form], { shape: 'sight', form, sizePx: isNear ? 13 : 8, inks: palette }),
  )
}

const sampleProbabilities = [0.05, 0.2, 0.5, 0.9]
const sampleShares = [0.01, 0.1, 0.5, 1]

function markEntries({ palette, marks }: LegendPaint, widestPx: number): readonly LegendEntry[] {
  const hasWalk = marks.walk !== undefined && marks.walk !== null && marks.walk.setUps.length > 0
  const suspects = sampleProbabilities.map((value): LegendStep => {
    const colour = suspectColour(palette, value)
    return { value, swatch: { shape: 'dot', colour, rim: palette.halo, sizePx: suspectSizePx(value) } }
  })
  const currents = sampleShares.map((value): LegendStep => ({
    value,
    swatch: line(palette.current, currentWidthPx(value, widestPx), palette.halo),
  }))
  const entry = (key: LegendKey, steps: readonly LegendStep[], leastShown: number): LegendEntry => ({
    key,
    swatch: steps[steps.length - 1].swatch,
    steps,
    scale: { form: 'squareRoot', leastShown },
  })
  return [
    ...(marks.currentPerAmpere && !marks.fault ? [entry('current', currents, leastCurrent)] : []),
    ...(marks.suspects.length > 0 ? [entry('suspect', suspects, 0)] : []),
    ...plain(hasWalk, 'setUp', { shape: 'setUp', inks: palette }),
    ...plain(hasWalk, 'walkWay', line(palette.label, 2.5, palette.halo)),
    ...plain(marks.next !== undefined && marks.next !== null, 'nextReading', {
      shape: 'next',
      colour: palette.link,
      rim: palette.halo,
    }),
  ]
}
