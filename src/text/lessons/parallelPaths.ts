import type { ShippedLesson } from '../../model/lessons.ts'
import { faultAt, mainsDrive, open, roofDemo } from './pieces.ts'

const frame = 'R2/T2/F1.3'
const clamps = ['L1.3', 'L1.4', 'L2.3', 'L2.4'].map((rail) => `${frame}~${rail}`)

/** Ohms between the frame and the bar with some of its clamps open. */
const with4 = (openClamps: number) => ({
  fault: faultAt(frame, mainsDrive('B1', 0.2), { altered: clamps.slice(0, openClamps).map(open) }),
  devices: [],
})

export const parallelPaths: ShippedLesson = {
  ...roofDemo,
  id: 'parallel-paths',
  title: 'Parallel paths hide a bad joint',
  learns:
    'Why a good reading says little of any one joint that has others beside it, and when it is the last one that counts.',
  setups: { sound: with4(0), one: with4(1), three: with4(3), all: with4(4) },
  figures: {
    sound: { of: 'networkOhm', in: 'sound' },
    one: { of: 'networkOhm', in: 'one' },
    three: { of: 'networkOhm', in: 'three' },
    none: { of: 'networkOhm', in: 'all' },
    oneTimes: { of: 'ratio', top: 'one', bottom: 'sound' },
    threeTimes: { of: 'ratio', top: 'three', bottom: 'sound' },
    onClamp: { of: 'jointA', in: 'sound', joint: clamps[3] },
    onLast: { of: 'jointA', in: 'three', joint: clamps[3] },
    more: { of: 'ratio', top: 'onLast', bottom: 'onClamp' },
  },
  steps: [
    {
      text: 'This frame sits on four clamps. Between it and the earth bar there are {sound}.',
      about: frame,
      see: 'The frame is outlined. To see ohms, mains are put on it: the more ohms there are to the bar, the more volts the frame has. Tap it and note its volts.',
      setup: 'sound',
      question: null,
    },
    {
      text: 'One clamp is open: it never bit through the coating of the frame. What does a reading of ohms from the frame to the bar show of it?',
      about: clamps[0],
      see: 'The open clamp is ringed and marked as open. Tap the frame, with the mark of the fault: by how much have its volts grown since the step before?',
      setup: 'one',
      question: {
        choices: ['It doubles', 'It goes over range', 'Next to nothing'],
        right: 2,
        why: '{one} instead of {sound}. A two-wire tester steps by 0.01 Ω and its clips alone add some thousandths: it cannot see this.',
        claims: [{ figure: 'oneTimes', least: 1, most: 1.02 }],
      },
    },
    {
      text: 'Now three of the four are open. The reading is {three}.',
      about: clamps[2],
      see: 'Three clamps have the mark of an open joint. Only the fourth still has a line of current.',
      setup: 'three',
      question: null,
    },
    {
      text: 'A fault’s current comes through this frame. What does the one clamp that is left have to carry?',
      about: clamps[3],
      see: 'The one clamp that is left has a plain ring, without the mark of an open joint. Tap it, then go back to the first step and tap it again.',
      setup: 'three',
      question: {
        choices: [
          'What four clamps were there to share',
          'The same as before',
          'Less: the reading has hardly changed',
        ],
        right: 0,
        why: 'It carries {more} times its share. The reading was good, and nothing is left in reserve.',
        claims: [
          { figure: 'more', least: 3, most: 6 },
          { figure: 'threeTimes', least: 1, most: 1.1 },
        ],
      },
    },
    {
      text:
        'With the last clamp open, too, there is {none} from the frame to the bar. Only now a reading tells. Where joints stand side by side, look at them: ' +
        'ohms are no proof of each.',
      about: frame,
      see: 'No line of current leaves the frame. Tap it and see its volts, then tap the frame beside it.',
      setup: 'all',
      question: null,
    },
  ],
}
