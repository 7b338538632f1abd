import type { ShippedLesson } from '../../model/lessons.ts'
import { faultAt, fieldDemo, pvDrive } from './pieces.ts'

const first = 'R4/T8/F2.5'
const second = 'R2/T3/F1.5'
const jumper = 'R4/T6+T7~1'
const floating = { referencing: 'floating', stringsInParallel: 8 } as const

export const floatingArray: ShippedLesson = {
  ...fieldDemo,
  id: 'floating-array',
  title: 'A floating array: the first fault and the second',
  learns:
    'Why the first fault of an array without an earthed pole is silent, and why it must not wait for the second.',
  setups: {
    first: { fault: faultAt(first, pvDrive(floating)), devices: [] },
    second: {
      fault: faultAt(
        first,
        pvDrive({ ...floating, second: { part: second, moduleFromNegative: 0, sameString: false } }),
      ),
      devices: [],
    },
  },
  figures: {
    firstA: { of: 'faultA', in: 'first' },
    limit: { of: 'limitedBy', in: 'first' },
    alarms: { of: 'alarms', in: 'first' },
    reads: { of: 'insulationOhm', in: 'first' },
    alarmBelow: { of: 'alarmBelowOhm', in: 'first' },
    secondA: { of: 'faultA', in: 'second' },
    times: { of: 'ratio', top: 'secondA', bottom: 'firstA' },
    jumper: { of: 'jointA', in: 'second', joint: jumper },
    otherRow: { of: 'jointA', in: 'second', joint: 'R2/T1+T2~1' },
  },
  steps: [
    {
      text:
        'Neither pole of this array is earthed: it floats. Eight strings work on one inverter. A positive conductor touches a frame at ' +
        'the end of row 4.',
      about: first,
      see: 'The frame with the first fault is outlined, at the far end of row 4.',
      setup: 'first',
      question: null,
    },
    {
      text: 'What current does this first fault make?',
      about: first,
      see: 'Tap a clamp of the frame and read its amperes: mA means thousandths. The widest line stands for the most current of this fault, however little that is.',
      setup: 'first',
      question: {
        choices: ['That of one string', 'That of all eight strings', 'Next to none'],
        right: 2,
        why:
          '{firstA}: the only way back is the insulation of the other pole. No fuse blows, no breaker trips, nothing gets ' +
          'warm. The array goes on, with one pole tied to the frames.',
        claims: [
          { figure: 'firstA', least: 0, most: 0.03 },
          { figure: 'limit', is: 'insulation' },
          { figure: 'alarms', is: true },
        ],
      },
    },
    {
      text:
        'The inverter watches the insulation and notices it: it reads {reads} and alarms below {alarmBelow}. An alarm now is not a ' +
        'nuisance, it is the only warning there will be.',
      about: 'E1',
      see: 'The inverter is ringed: the monitoring sits in it, and looks from the poles to the earth bar.',
      setup: 'first',
      question: null,
    },
    {
      text: 'Nobody came. Weeks later the negative conductor of another string touches a frame in row 2. What flows now?',
      about: second,
      beside: [first, jumper],
      see: 'Two marks of faults are on the map, in rows 4 and 2. Zoom in on row 4 and tap the jumper between tables 6 and 7 of row 4.',
      setup: 'second',
      question: {
        choices: [
          'Still next to none',
          'The current of several strings, through the bonds',
          'Current through soil only',
        ],
        right: 1,
        why:
          '{secondA}: the strings are short-circuited by way of frames, jumpers and the bonding conductor. The jumper in row 4 ' +
          'carries {jumper}, that in row 2 {otherRow}.',
        claims: [
          { figure: 'secondA', least: 14, most: 120 },
          { figure: 'times', least: 1000, most: 1e9 },
        ],
      },
    },
    {
      text: 'All of that current goes through bonds, good ones and bad ones. A loose bond is where it gets hot enough to burn.',
      about: jumper,
      beside: [first, second, 'C1.6~lug'],
      see: 'The jumper of row 4 is ringed. Follow the line of current from the one fault to the other, by way of the conductor at the heads of the rows.',
      setup: 'second',
      question: null,
    },
  ],
}
