import type { FaultDrive } from '../model/faultAnswers.ts'
import type { Circuit, Link, Segment, Weighted } from './circuit.ts'
import { portList } from './portList.ts'
import { pvOpenV } from './pvCurve.ts'

/** Ohms of the touch itself: what keeps two faults at one place from being a loop without any. */
export const touchOhm = 1e-6

/** Parts of the network that a PV fault meets; `earthed` is that of `earthedAt`, or remote earth. */
export interface PvPlaces {
  readonly at: number
  readonly second: number | null
  readonly earthed: number
}

type PvDrive = Extract<FaultDrive, { form: 'pv' }>

/**
 * Strings of equal modules between two poles, the inverter's own current left out (as after it has switched off). The
 * fault touches one string between two modules; a second fault another part. The modules between fault and earthed
 * pole drive the loop; parallel strings feed it through the rest. A source is referenced by one pole, or, when a
 * transformerless inverter on the grid switches its poles in turn, by their mean: that link takes half of its current
 * from each pole, like an ideal transformer: the earth fault of a pole draws up to twice the
 * short-circuit current at half the volts, until the inverter switches off. Insulation leads from each pole to the part where the source is referenced.
 *
 *   negative ──(k modules)── fault ──(N − k modules)── positive
 *      └────────── (strings − 1) × N modules ─────────────┘
 */
export function pvCircuit(drive: PvDrive, places: PvPlaces): Circuit {
  const { source, moduleFromNegative: k, second, light } = drive
  const { modulesInSeries: modules, stringsInParallel: strings } = source
  const module = {
    openCircuitV: source.openCircuitV / modules,
    shortCircuitA: source.shortCircuitA,
    light,
  }
  const list = portList()
  const fault = list.portOf(places.at)
  const taps = [0, modules]
  const nodeOf = (from: readonly number[], place: number) => from.indexOf(place)
  // nodes 0 and 1 are the poles; taps that are poles need no node
  const firstString = tapsOf(second?.sameString ? [k, second.moduleFromNegative] : [k], modules)
  for (const place of firstString) taps.push(place)
  const ownEnd = taps.length
  const secondString = second && !second.sameString ? tapsOf([second.moduleFromNegative], modules) : []
  for (const place of secondString) taps.push(place)
  const faultNode = nodeOf(taps.slice(0, ownEnd), k)
  const secondNode = second
    ? second.sameString
      ? nodeOf(taps.slice(0, ownEnd), second.moduleFromNegative)
      : secondString.length > 0
        ? ownEnd
        : nodeOf([0, modules], second.moduleFromNegative)
    : -1

  const segments = [
    ...alongString(firstString, 2, modules, true),
    ...(second && !second.sameString ? alongString(secondString, ownEnd, modules, false) : []),
  ]
  const others = strings - (second && !second.sameString ? 2 : 1)
  if (others > 0) segments.push({ from: 0, to: 1, modules, strings: others, isFaulted: false })

  const links: Link[] = [
    { role: 'fault', nodes: [{ at: faultNode, weight: 1 }], ports: [whole(fault)], ohm: touchOhm, emfV: 0 },
  ]
  if (places.second !== null) {
    const ports = [whole(list.portOf(places.second))]
    links.push({ role: 'second', nodes: [whole(secondNode)], ports, ohm: touchOhm, emfV: 0 })
  }
  const isFloating = source.referencing === 'floating'
  const isInsulated = drive.insulationOhm < Infinity
  const referencePort = isFloating && !isInsulated ? -1 : list.portOf(places.earthed)
  const poles = referenceOf(drive)
  if (!isFloating) {
    const ohm = Math.max(drive.earthingOhm, touchOhm)
    links.push({ role: 'earthing', nodes: poles, ports: [whole(referencePort)], ohm, emfV: 0 })
  }
  if (isInsulated) {
    for (const pole of [0, 1]) {
      const ports = [whole(referencePort)]
      links.push({ role: 'insulation', nodes: [whole(pole)], ports, ohm: drive.insulationOhm, emfV: 0 })
    }
  }
  const against = isFloating && second ? [whole(secondNode)] : poles
  const openModules = against.reduce((sum, { at, weight }) => sum - weight * taps[at], k)
  return {
    nodeCount: taps.length,
    module,
    segments,
    links,
    portParts: list.parts,
    faultLink: 0,
    openV: openModules * pvOpenV(module),
    faultNode,
    against,
    referencePort,
    earthedPart: places.earthed,
  }
}

const whole = (at: number): Weighted => ({ at, weight: 1 })

/** Which nodes the reference weighs: node 0 is the negative pole, 1 the positive. */
function referenceOf({ source }: PvDrive): readonly Weighted[] {
  switch (source.referencing) {
    case 'earthedNegative':
      return [whole(0)]
    case 'earthedPositive':
      return [whole(1)]
    case 'floating':
    case 'transformerless':
      return [
        { at: 0, weight: 0.5 },
        { at: 1, weight: 0.5 },
      ]
  }
}

/** Places between the poles where something touches a string, ascending, each once. */
function tapsOf(places: readonly number[], modules: number): readonly number[] {
  const inside = places.filter((place) => place > 0 && place < modules)
  return [...new Set(inside)].sort((a, b) => a - b)
}

/** The runs of one string between its poles and its taps, whose nodes are numbered from `first`. */
function alongString(taps: readonly number[], first: number, modules: number, isFaulted: boolean): Segment[] {
  const places = [0, ...taps, modules]
  const nodes = [0, ...taps.map((_, t) => first + t), 1]
  return places.slice(1).map((place, s) => {
    return { from: nodes[s], to: nodes[s + 1], modules: place - places[s], strings: 1, isFaulted }
  })
}
