import type { FaultMarks } from '../state/mapMarks.ts'
import type { BasePaint } from './basePaint.ts'
import { currentWidthPx, leastFaultShare } from './drawMarks.ts'
import type { Level } from './lod.ts'
import type { LegendEntry, LegendStep } from './legendTypes.ts'
import { groundLinePx } from './drawGroundVolts.ts'
import { groundInks, voltInks, voltSteps } from './voltSteps.ts'

const sampleShares = [0.01, 0.1, 0.5, 1]

/** What the map shows of a fault, in amperes and volts; before all else, for it is what one came to see. */
export function faultEntries(
  level: Level,
  { palette, marks }: BasePaint,
  widestPx: number,
): readonly LegendEntry[] {
  const { fault } = marks
  if (!fault) return []
  const currents = sampleShares
    .filter((share) => share >= leastFaultShare(level))
    .map((share): LegendStep => ({
      value: share * fault.mostA,
      widthPx: currentWidthPx(share, widestPx),
      swatch: {
        shape: 'line',
        colour: palette.current,
        rim: palette.halo,
        widthPx: currentWidthPx(share, widestPx),
        isDashed: false,
        isDouble: false,
      },
    }))
  const volts = voltSteps.map((value, k): LegendStep => {
    const ink = palette[voltInks[k]]
    return {
      value,
      swatch: fault.lossV
        ? { shape: 'dot', colour: ink, rim: palette.label, sizePx: 2 * (1.6 + k + 1) }
        : { shape: 'area', fill: ink, edge: palette.tableEdge },
    }
  })
  const ground = voltSteps.map((value, k): LegendStep => ({
    value,
    swatch: {
      shape: 'ground',
      fill: palette[groundInks[k]],
      before: k === 0 ? palette.ground : palette[groundInks[k - 1]],
      line: palette.groundLine,
      linePx: groundLinePx[k],
    },
  }))
  const hasCurrent = fault.currentA !== null && fault.mostA > 0
  return [
    ...(hasCurrent
      ? [degrees('faultCurrent', currents, 'squareRoot', leastFaultShare(level) * fault.mostA)]
      : []),
    ...(fault.partV ? [degrees('faultVolts', volts, 'steps', voltSteps[0])] : []),
    ...(fault.lossV ? [degrees('lostVolts', volts, 'steps', voltSteps[0])] : []),
    ...(fault.ground?.picture ? [degrees('groundVolts', ground, 'steps', voltSteps[0])] : []),
    ...symbolsOf(fault).map((key): LegendEntry => ({
      key,
      swatch: { shape: key, inks: palette },
      steps: [],
      scale: null,
    })),
  ]
}

function symbolsOf({ second, person, altered, ground }: FaultMarks) {
  return [
    'faultPlace' as const,
    ...(second === null ? [] : (['secondFault'] as const)),
    ...(person === null ? [] : (['touching'] as const)),
    ...(altered.length === 0 ? [] : (['changedJoint'] as const)),
    ...(ground?.mostStep ? (['groundStep'] as const) : []),
    ...(ground?.stand ? (['groundStand'] as const) : []),
  ]
}

function degrees(
  key: LegendEntry['key'],
  steps: readonly LegendStep[],
  form: 'squareRoot' | 'steps',
  leastShown: number,
): LegendEntry {
  return { key, swatch: steps[steps.length - 1].swatch, steps, scale: { form, leastShown } }
}
