import type { Kit, Lead } from '../../src/model/schema/record.ts'

/** Two-wire tester, 200 mA: the commonest. */
export const twoWireKit: Kit = {
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
}

export const fourWireKit: Kit = {
  id: 'four-wire-10a',
  name: 'Four-wire bond tester, 10 A',
  serial: '',
  method: 'fourWire',
  testCurrentA: 10,
  resolutionOhm: 0.0001,
  gainError: 0.005,
  digits: 2,
  mostOhm: 2,
  calibrationDue: null,
  lastCheck: null,
}

export const longLead: Lead = {
  id: 'lead50',
  name: '50 m on a reel',
  lengthM: 50,
  areaMm2: 1.5,
  material: 'copper',
}
