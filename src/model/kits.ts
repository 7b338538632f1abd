import type { Kit, Lead } from './schema/record.ts'

/**
 * Instruments to start from when a visit is opened. Figures are typical of their sort, from memory, low
 * confidence: the data sheet of the instrument in hand replaces them.
 */
export const defaultKits: readonly Kit[] = [
  {
    id: 'two-wire-200ma',
    name: 'Two-wire continuity tester, 200 mA',
    serial: '',
    method: 'twoWire',
    testCurrentA: 0.2,
    resolutionOhm: 0.01,
    gainError: 0.02,
    digits: 3,
    mostOhm: 200,
    calibrationDue: null,
    lastCheck: null,
  },
  {
    id: 'four-wire-10a',
    name: 'Four-wire bond tester, 1 to 10 A',
    serial: '',
    method: 'fourWire',
    testCurrentA: 10,
    resolutionOhm: 0.0001,
    gainError: 0.005,
    digits: 2,
    mostOhm: 2,
    calibrationDue: null,
    lastCheck: null,
  },
  {
    id: 'plain-multimeter',
    name: 'Plain multimeter, about 1 mA: not fit for bond tests',
    serial: '',
    method: 'twoWire',
    testCurrentA: 0.001,
    resolutionOhm: 0.1,
    gainError: 0.01,
    digits: 3,
    mostOhm: 40e6,
    calibrationDue: null,
    lastCheck: null,
  },
  {
    // Its bound is 0.05 ohm: two steps of 0.025 ohm, which is also the least that it shows.
    id: 'loop-clamp',
    name: 'Earth loop clamp, 0.025 to 1500 ohm',
    serial: '',
    method: 'loopClamp',
    testCurrentA: 0.001,
    resolutionOhm: 0.025,
    gainError: 0.02,
    digits: 2,
    mostOhm: 1500,
    calibrationDue: null,
    lastCheck: null,
  },
  {
    id: 'earth-electrode',
    name: 'Earth electrode tester, three and four spikes',
    serial: '',
    method: 'earthElectrode',
    testCurrentA: 0.01,
    resolutionOhm: 0.01,
    gainError: 0.02,
    digits: 5,
    mostOhm: 20_000,
    calibrationDue: null,
    lastCheck: null,
  },
]

/** For a site on which nobody has opened a visit: a long lead. */
export const firstLeads: readonly Lead[] = [
  { id: 'lead-50m', name: 'lead', lengthM: 50, areaMm2: 1.5, material: 'copper' },
]
