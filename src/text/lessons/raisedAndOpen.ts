import type { LessonSetup, ShippedLesson } from '../../model/lessons.ts'
import { faultAt, fieldDemo, pvDrive, touching } from './pieces.ts'

const at = 'R4/T8/F2.5'
const jumper = 'R4/T6+T7~1'

function withJumper(ohm: number | null): LessonSetup {
  const fault = faultAt(at, pvDrive({ referencing: 'earthedNegative' }), {
    altered: [{ joint: jumper, ohm }],
    person: touching('R4/T7/L4.1', 'R4/T6/L4.11'),
  })
  return { fault, devices: [] }
}

export const raisedAndOpen: ShippedLesson = {
  ...fieldDemo,
  id: 'raised-and-open',
  title: 'A raised bond and an open bond',
  learns:
    'That a bond with too many ohms hardly changes the current, but puts volts across itself; an open one moves the current.',
  setups: {
    sound: { fault: faultAt(at, pvDrive({ referencing: 'earthedNegative' })), devices: [] },
    raised: withJumper(0.5),
    open: withJumper(null),
  },
  figures: {
    soundA: { of: 'faultA', in: 'sound' },
    soundV: { of: 'jointV', in: 'sound', joint: jumper },
    raisedA: { of: 'faultA', in: 'raised' },
    raisedV: { of: 'jointV', in: 'raised', joint: jumper },
    kept: { of: 'ratio', top: 'raisedA', bottom: 'soundA' },
    times: { of: 'ratio', top: 'raisedV', bottom: 'soundV' },
    openA: { of: 'faultA', in: 'open' },
    openV: { of: 'prospectiveV', in: 'open' },
    openSoil: { of: 'throughEarthA', in: 'open' },
    openKept: { of: 'ratio', top: 'openA', bottom: 'soundA' },
    throughSoil: { of: 'ratio', top: 'openSoil', bottom: 'openA' },
    feels: { of: 'zone', in: 'open' },
    body: { of: 'bodyA', in: 'open' },
  },
  steps: [
    {
      text:
        'The same fault at the end of row 4. With every bond sound {soundA} flow, and there are {soundV} across the jumper ' +
        'between tables 6 and 7.',
      about: jumper,
      setup: 'sound',
      question: null,
    },
    {
      text: 'A lug of that jumper has come loose: 0.5 Ω instead of less than a thousandth. What does the fault’s current do?',
      about: jumper,
      setup: 'raised',
      question: {
        choices: ['It falls to about half', 'It hardly changes', 'It stops'],
        right: 1,
        why:
          '{raisedA}, where {soundA} flowed before. Modules drive their current through whatever is there; 0.5 Ω is nothing to a ' +
          'string of hundreds of volts.',
        claims: [{ figure: 'kept', least: 0.99, most: 1.01 }],
      },
    },
    {
      text:
        'What does change are the volts across the jumper: {raisedV}, {times} times as many. Those volts and that current ' +
        'together make heat in the loose lug.',
      about: jumper,
      setup: 'raised',
      question: null,
    },
    {
      text: 'Now the jumper is off. How much of the current still flows?',
      about: jumper,
      setup: 'open',
      question: {
        choices: ['None', 'As good as all of it, through soil', 'Half'],
        right: 1,
        why:
          '{openA} still flow, all of them through the posts and soil. The current did not stop: it took the next way, and ' +
          'that one has volts in it.',
        claims: [
          { figure: 'openKept', least: 0.99, most: 1.01 },
          { figure: 'throughSoil', least: 0.99, most: 1.01 },
        ],
      },
    },
    {
      text:
        'One who bridges the gap from table to table with two hands has {openV} before them. A body in the middle of the ' +
        'range would carry {body}: {feels}. Who stands in for a bond becomes one.',
      about: 'R4/T7/L4.1',
      setup: 'open',
      question: null,
    },
  ],
}
