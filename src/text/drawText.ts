import type { DrawnDeed, Told } from '../model/drawDeed.ts'
import type { PointM } from '../model/schema/primitives.ts'
import { sortWords } from './itemNames.ts'
import { formatCounted, formatLength, type Units } from './units.ts'

/** Name of an undo step. */
export function describeDrawnDeed(deed: DrawnDeed): string {
  switch (deed.deed) {
    case 'drawRow':
      return `draw a row of ${formatCounted(deed.tables, 'table')}`
    case 'drawItem':
      return `draw ${/^[aeio]/.test(sortWords[deed.sort][0]) ? 'an' : 'a'} ${sortWords[deed.sort][0]}`
    case 'drawExtraJoint':
      return 'draw a metal path'
    case 'move':
      return `move ${formatCounted(deed.items, 'thing')}`
    case 'turn':
      return `turn ${formatCounted(deed.items, 'thing')}`
    case 'movePoint':
      return 'move a point'
    case 'copy':
      return `copy ${formatCounted(deed.items, 'thing')}, ${formatCounted(deed.copies, 'time')}`
    case 'changeRow':
      return `make the row ${formatCounted(deed.tables, 'table')} long`
  }
}

const degrees = (deg: number) => `${Number(deg.toFixed(1))}°`
/** To the centimetre, or the tenth of a foot, as one reads it beside the pointer. */
function drawnLength(lengthM: number, units: Units): string {
  if (units === 'us') return `${(lengthM / 0.3048).toFixed(1)} ft`
  return lengthM < 1000 ? `${lengthM.toFixed(2)} m` : formatLength(lengthM, units)
}

/** A place of the plan: metres or feet east and north of its origin. */
export function describePlace({ x, y }: PointM, units: Units): string {
  const one = (valueM: number) => drawnLength(valueM, units).replace('-', '−')
  return `x ${one(x)}, y ${one(y)}`
}

function towards(byM: number, [plus, minus]: readonly [string, string], units: Units): string {
  return `${drawnLength(Math.abs(byM), units)} ${byM < 0 ? minus : plus}`
}

const refusals: Readonly<Record<Extract<Told, { fact: 'refused' }>['reason'], string>> = {
  noType: 'Make a table type first: a row is a line of tables of one type.',
  tooShort: 'Too short: draw it longer.',
  samePart: 'The same part again: choose another one.',
  nothingChosen: 'Choose what is to be repeated first.',
  noPart: 'No metal part here: begin and end on parts.',
}

/** What stands beside the pointer while something is drawn. `nameOf` names a part by its address. */
export function describeTold(told: Told, units: Units, nameOf: (part: string) => string): string {
  switch (told.fact) {
    case 'row':
      return `${formatCounted(told.tables, 'table')}, ${drawnLength(told.lengthM, units)}, bearing ${degrees(told.bearingDeg)}`
    case 'length':
      return `${drawnLength(told.lengthM, units)}, bearing ${degrees(told.bearingDeg)}`
    case 'path':
      return `${drawnLength(told.lengthM, units)}, ${formatCounted(told.points, 'point')}`
    case 'move':
      return `${towards(told.byM.x, ['east', 'west'], units)}, ${towards(told.byM.y, ['north', 'south'], units)}`
    case 'turn':
      return `turned by ${degrees(told.byDeg)}`
    case 'land':
      return `lands on ${nameOf(told.part)}`
    case 'distance': {
      const leg = `${drawnLength(told.lengthM, units)}, bearing ${degrees(told.bearingDeg)}`
      return told.totalM > told.lengthM + 1e-9 ? `${leg}; ${drawnLength(told.totalM, units)} in all` : leg
    }
    case 'copies':
      return `${formatCounted(told.copies, 'copy', 'copies')}, each ${drawnLength(told.pitchM, units)} on`
    case 'size':
      return `${drawnLength(told.widthM, units)} × ${drawnLength(told.depthM, units)}`
    case 'refused':
      return refusals[told.reason]
  }
}
