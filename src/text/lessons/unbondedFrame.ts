import type { LessonSetup, ShippedLesson } from '../../model/lessons.ts'
import { faultAt, open, pvDrive, roofDemo, touching } from './pieces.ts'

const frame = 'R2/T2/F1.3'
const clamps = ['L1.3', 'L1.4', 'L2.3', 'L2.4'].map((rail) => `${frame}~${rail}`)

function withClamps(isBonded: boolean, isTouched = false): LessonSetup {
  const fault = faultAt(frame, pvDrive({ referencing: 'transformerless' }), {
    altered: isBonded ? [] : clamps.map(open),
    ...(isTouched && { person: touching(frame, 'R2/T2/F1.4') }),
  })
  return { fault, devices: [] }
}

export const unbondedFrame: ShippedLesson = {
  ...roofDemo,
  id: 'unbonded-frame',
  title: 'The frame that insulation monitoring cannot see',
  learns:
    'That monitoring looks from the poles to bonded metal: a frame that nothing bonds is outside of its sight, and live.',
  setups: {
    bonded: withClamps(true),
    bondedTouched: withClamps(true, true),
    unbonded: withClamps(false),
    touched: withClamps(false, true),
  },
  figures: {
    bondedReads: { of: 'insulationOhm', in: 'bonded' },
    bondedAlarms: { of: 'alarms', in: 'bonded' },
    bondedV: { of: 'prospectiveV', in: 'bondedTouched' },
    reads: { of: 'insulationOhm', in: 'unbonded' },
    alarms: { of: 'alarms', in: 'unbonded' },
    hidden: { of: 'isHidden', in: 'unbonded' },
    volts: { of: 'prospectiveV', in: 'touched' },
    body: { of: 'bodyA', in: 'touched' },
    feels: { of: 'zone', in: 'touched' },
  },
  steps: [
    {
      text:
        'On this roof the inverter has no transformer: it ties the array to the grid’s earth while it runs. A conductor is ' +
        'squashed under this frame and touches it. Its four clamps are sound.',
      about: frame,
      see: 'The frame is outlined; its four clamps are where the lines of current from it meet the two rails.',
      setup: 'bonded',
      question: null,
    },
    {
      text: 'Before it starts, the inverter measures insulation. It reads {bondedReads} and does not start. Between this frame and the next there are {bondedV}.',
      about: 'E1',
      see: 'The inverter is ringed: it looks from the poles to the earth bar, through metal.',
      setup: 'bonded',
      question: null,
    },
    {
      text: 'The same squashed conductor, but the frame was never bonded: its clamps sit on coating. What does the inverter notice?',
      about: frame,
      see: 'The four clamps are marked as open. Look for a way of metal from this frame to the earth bar.',
      setup: 'unbonded',
      question: {
        choices: ['The same as before', 'Nothing', 'It trips after some seconds'],
        right: 1,
        why:
          'It reads {reads}, as if all were well: from this frame no metal leads to the earth that it looks at. What is not ' +
          'bonded is not watched.',
        claims: [
          { figure: 'alarms', is: false },
          { figure: 'hidden', is: true },
          { figure: 'bondedAlarms', is: true },
        ],
      },
    },
    {
      text: 'Somebody puts one hand on this frame and the other on its neighbour. How many volts wait between the two?',
      about: 'R2/T2/F1.4',
      see: 'The neighbour is outlined, and the blue figure has a hand on each. Tap this frame, with the mark of the fault, then its neighbour: the difference of the two waits between the hands.',
      setup: 'touched',
      question: {
        choices: ['Less than one', 'About ten', 'Hundreds'],
        right: 2,
        why: '{volts}. A person of middling body ohms would carry {body}: {feels}.',
        claims: [{ figure: 'volts', least: 200, most: 1000 }],
      },
    },
    {
      text: 'So volts are measured before ohms, and every frame is live until then. “No alarm” is no measurement of a frame.',
      about: frame,
      see: 'The frame is outlined once more. Nothing on it can be seen by eye.',
      setup: 'unbonded',
      question: null,
    },
  ],
}
