import { formatLength, type Units } from './units.ts'

/** Sentences about where the device is. It is asked for each time and kept nowhere. */
export const hereTexts = {
  label: 'Where am I',
  hide: 'Hide where I am',
  asking: 'Asking the device where it is …',
  refused: 'The browser was not allowed to say where the device is. Allow it for this page, and ask again.',
  unknown: 'The device does not know where it is. Step into the open, and ask again.',
  late: 'The device did not find out where it is in half a minute. Step into the open, and ask again.',
  none: 'This browser cannot say where the device is.',
} as const

export function describeHere(accuracyM: number, units: Units): string {
  return `The device is where the map shows it, give or take ${formatLength(accuracyM, units)}. It is not kept.`
}

export function describeFarAway(distanceM: number, units: Units): string {
  const away =
    units === 'us' ? `${Math.round(distanceM / 1609.344)} mi` : `${Math.round(distanceM / 1000)} km`
  return `The device is ${away} from the origin of the drawing, so the map does not show it.`
}
