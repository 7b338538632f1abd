import type { LessonSetup, ShippedLesson } from '../../model/lessons.ts'
import { faultAt, fieldDemo, pvDrive, touching } from './pieces.ts'

const at = 'R4/T8/F2.5'
const jumper = 'R4/T6+T7~1'

function withJumper(ohm: number | null, isTouched = false): LessonSetup {
  const fault = faultAt(at, pvDrive({ referencing: 'earthedNegative' }), {
    altered: [{ joint: jumper, ohm }],
    ...(isTouched && { person: touching('R4/T7/L4.1', 'R4/T6/L4.11') }),
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
    touched: withJumper(null, true),
  },
  figures: {
    soundA: { of: 'faultA', in: 'sound' },
    soundV: { of: 'jointV', in: 'sound', joint: jumper },
    raisedA: { of: 'faultA', in: 'raised' },
    raisedV: { of: 'jointV', in: 'raised', joint: jumper },
    kept: { of: 'ratio', top: 'raisedA', bottom: 'soundA' },
    times: { of: 'ratio', top: 'raisedV', bottom: 'soundV' },
    openA: { of: 'faultA', in: 'open' },
    openV: { of: 'prospectiveV', in: 'touched' },
    openSoil: { of: 'throughEarthA', in: 'open' },
    openKept: { of: 'ratio', top: 'openA', bottom: 'soundA' },
    throughSoil: { of: 'ratio', top: 'openSoil', bottom: 'openA' },
    feels: { of: 'zone', in: 'touched' },
    body: { of: 'bodyA', in: 'touched' },
  },
  steps: [
    {
      text:
        'A positive conductor touches a frame at the end of row 4, and the negative pole is earthed. With every bond sound {soundA} flow, and there are {soundV} across the jumper ' +
        'between tables 6 and 7.',
      about: jumper,
      see: 'The jumper is ringed. The line of current goes along row 4, through it, to the bar.',
      setup: 'sound',
      question: null,
    },
    {
      text: 'A lug of that jumper has come loose: 0.5 Ω instead of less than a thousandth. What does the fault’s current do?',
      about: jumper,
      beside: [at],
      see: 'The jumper that came loose is ringed. Tap a clamp of the frame that was hit, with the mark of the fault: before, it carried half of {soundA}.',
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
      see: 'Tap the rail on each side of the jumper: the difference of the two is what stands across it. A minus is below the soil: the two add up.',
      setup: 'raised',
      question: null,
    },
    {
      text: 'Now the jumper is off. How much of the current still flows?',
      about: jumper,
      beside: [at],
      see: 'The jumper that is off is ringed. Tap a clamp of the frame that was hit, with the mark of the fault: does it carry less than before? Then see which tables have more volts now.',
      setup: 'open',
      question: {
        choices: ['None', 'As good as all of it, through soil', 'Half'],
        right: 1,
        why:
          '{openA} still flow, all of them into the soil by the posts of tables 7 and 8. The current did not stop: it took the next way, and ' +
          'that one has volts in it.',
        claims: [
          { figure: 'openKept', least: 0.99, most: 1.01 },
          { figure: 'throughSoil', least: 0.99, most: 1.01 },
        ],
      },
    },
    {
      text:
        'Somebody puts one hand on table 7 and the other on table 6. {openV} wait between the two. A person of middling body ' +
        'ohms would carry {body}: {feels}. Whoever stands in for a bond becomes one.',
      about: 'R4/T7/L4.1',
      see: 'The rail of table 7 is ringed, and the blue figure has its hands on both. Tap that rail, then the one of table 6 across the gap: a minus is below the soil, so the two add up.',
      setup: 'touched',
      question: null,
    },
  ],
}
