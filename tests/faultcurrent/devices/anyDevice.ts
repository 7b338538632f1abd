import type { ProtectiveDevice } from '../../../src/model/schema/faults.ts'

export function device(
  form: ProtectiveDevice['form'],
  characteristic: string,
  ratedA: number | null,
): ProtectiveDevice {
  return { id: 'd1', name: 'Device', form, characteristic, ratedA, protects: null, note: '' }
}

/** One of every sort that the rules cover, with the kind of current that it is for. */
export const coveredDevices: readonly (readonly [ProtectiveDevice, 'ac' | 'dc'])[] = [
  ...[4, 10, 16, 20, 25, 32, 40, 50, 63, 80, 90, 100, 125, 160, 200, 250, 315, 400, 500, 630].map(
    (ratedA) => [device('fuse', 'gG', ratedA), 'ac'] as const,
  ),
  ...[15, 25, 100, 250, 500].map((ratedA) => [device('fuse', 'gPV', ratedA), 'dc'] as const),
  ...['B', 'C', 'D'].flatMap((type) =>
    [6, 32, 40, 80].map((ratedA) => [device('circuitBreaker', type, ratedA), 'ac'] as const),
  ),
  ...['AC', 'A', 'F', 'B', 'A S'].flatMap((type) =>
    [0.03, 0.3].map((ratedA) => [device('residualCurrent', type, ratedA), 'ac'] as const),
  ),
  [device('residualCurrent', 'B', 0.03), 'dc'],
  [device('residualCurrent', 'b s', 0.3), 'dc'],
  [device('residualCurrent', 'inverter', null), 'dc'],
  [device('residualCurrent', 'inverter', 1), 'dc'],
  [device('groundFaultFuse', '', 1), 'dc'],
  [device('groundFaultFuse', '', 5), 'dc'],
]
