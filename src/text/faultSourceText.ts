import type { ProtectiveDevice } from '../model/schema/faults.ts'

/** Sources and devices: what their forms say, and the names of steps that can be undone. */
export const sourceTexts = {
  pvName: 'String of modules',
  acName: 'AC phase',
  deviceName: 'Fuse',
  addSource: (name: string) => `Add source ${name}`,
  changeSource: (name: string) => `Change source ${name}`,
  removeSource: (name: string) => `Remove source ${name}`,
  addDevice: (name: string) => `Add device ${name}`,
  changeDevice: (name: string) => `Change device ${name}`,
  removeDevice: (name: string) => `Remove device ${name}`,
  name: 'Name',
  openCircuit: 'Open-circuit volts of the string',
  shortCircuit: 'Short-circuit current',
  modules: 'Modules in series',
  strings: 'Strings in parallel',
  stringsHint: 'All of them feed back into the fault.',
  referencing: 'How the circuit is referenced',
  phase: 'Phase volts',
  frequency: 'Frequency',
  sourceOhm: 'Ohms of the source',
  returnTo: 'Returns to the source at',
  devices: 'Devices',
  noDevices: 'No device is drawn: nothing would notice or end this fault.',
  addOne: 'Add a device',
  form: 'Kind',
  characteristic: 'Class on the device',
  characteristicHint: 'gG, gPV; B, C, D; AC, A, F, B, with S where selective.',
  rated: 'Rated amperes',
  protects: 'Protects',
  protectsAll: 'every source',
  edit: 'Change its figures',
  remove: 'Remove',
} as const

export const deviceFormWords: Readonly<Record<ProtectiveDevice['form'], string>> = {
  fuse: 'fuse',
  circuitBreaker: 'circuit breaker',
  residualCurrent: 'residual-current device',
  groundFaultFuse: 'fuse in the functional earth',
  insulationMonitor: 'insulation monitoring',
}
