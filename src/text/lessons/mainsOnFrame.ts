import type { LessonSetup, ShippedLesson } from '../../model/lessons.ts'
import type { ProtectiveDevice } from '../../model/schema/faults.ts'
import { breaker, faultAt, fieldDemo, mainsDrive, open, residual, touching } from './pieces.ts'

const at = 'R4/T8/F2.5'
const jumper = 'R4/T6+T7~1'
const large: ProtectiveDevice = { ...breaker, name: 'Circuit breaker, 63 A', ratedA: 63 }

function withJumper(isOpen: boolean, isTouched = false): LessonSetup {
  const fault = faultAt(at, mainsDrive('B1', 0.2), {
    altered: isOpen ? [open(jumper)] : [],
    ...(isTouched && { person: touching('R4/T7/L4.1', 'R4/T6/L4.11') }),
  })
  return { fault, devices: [large, residual] }
}

export const mainsOnFrame: ShippedLesson = {
  ...fieldDemo,
  id: 'mains-on-frame',
  title: 'Mains on a frame: the device that acts, and the one that never does',
  learns: 'That a breaker acts on what the bonds let through: one missing bond, and it may wait for ever.',
  setups: { sound: withJumper(false), open: withJumper(true), touched: withJumper(true, true) },
  figures: {
    soundA: { of: 'faultA', in: 'sound' },
    soundMost: { of: 'mostS', in: 'sound', device: 'breaker' },
    soundActs: { of: 'verdict', in: 'sound', device: 'breaker' },
    openA: { of: 'faultA', in: 'open' },
    openActs: { of: 'verdict', in: 'open', device: 'breaker' },
    openV: { of: 'prospectiveV', in: 'touched' },
    openFrameV: { of: 'faultV', in: 'open' },
    residualActs: { of: 'verdict', in: 'open', device: 'residual' },
    residualMost: { of: 'mostS', in: 'open', device: 'residual' },
  },
  steps: [
    {
      text:
        'The cable of a cleaning machine is crushed at the end of row 4: 230 V come onto the frame. Its neutral is ' +
        'earthed at the main bar. A breaker of 63 A, class B, is there to switch the cable off.',
      about: at,
      see: 'The frame is outlined, at the far end of row 4, with the mark of the fault on it. Its volts stand below: far fewer than 230, for sound bonds hold it down.',
      setup: 'sound',
      question: null,
    },
    {
      text:
        'With the bonds sound {soundA} flow. The breaker {soundActs}, within {soundMost}. This is how it is meant to be: the ' +
        'bonds make the fault loud.',
      about: 'B1',
      see: 'The earth bar is ringed. The line of current is widest along row 4 to the bar.',
      setup: 'sound',
      question: null,
    },
    {
      text: 'Now the jumper between tables 6 and 7 is off. What does the breaker do?',
      about: jumper,
      beside: [at],
      see: 'The jumper is marked as open. Tap both clamps of the frame that was hit, with the mark of the fault: together they carry what the breaker sees. It carries 63 A for as long as you like.',
      setup: 'open',
      question: {
        choices: ['It trips as fast', 'It trips, but some seconds later', 'Nothing, ever'],
        right: 2,
        why:
          '{openA} flow through posts and soil. To a breaker of 63 A that is a load like any other. Meanwhile the frame stands at ' +
          '{openFrameV}.',
        claims: [
          { figure: 'openActs', is: 'never' },
          { figure: 'soundActs', is: 'acts' },
          { figure: 'openFrameV', least: 50, most: 230 },
        ],
      },
    },
    {
      text: 'And a residual-current device of 30 mA in the same circuit?',
      about: at,
      see: 'The current leaves the cable at the frame and goes by posts and soil: no line leads back into the cable.',
      setup: 'open',
      question: {
        choices: ['It acts: what goes to earth does not come back through it', 'It never acts either'],
        right: 0,
        why:
          'It {residualActs}, within {residualMost}. It does not need the bonds to carry much, only that the current leaves its ' +
          'circuit. It mends no bond, though.',
        claims: [
          { figure: 'residualActs', is: 'acts' },
          { figure: 'residualMost', least: 0, most: 0.3 },
        ],
      },
    },
    {
      text:
        'Until something acts there are {openV} from table 7 to table 6, an arm’s length apart. Open bonds show in readings ' +
        'long before they show like this.',
      about: jumper,
      see: 'The jumper is marked as open, and the blue figure has a hand on each table. Tap the rail of table 7, then that of table 6: a minus is to the other side of the soil, so the two add up.',
      setup: 'touched',
      question: null,
    },
  ],
}
