import type { ShippedLesson } from '../../model/lessons.ts'
import { faultAt, fieldDemo, pvDrive } from './pieces.ts'

const at = 'R4/T8/F2.5'

export const earthFaultWay: ShippedLesson = {
  ...fieldDemo,
  id: 'earth-fault-way',
  title: 'Where the current of an earth fault goes',
  learns:
    'That a fault’s current takes every way at once, most of it through metal, and which joints it leans on.',
  setups: {
    fault: { fault: faultAt(at, pvDrive({ referencing: 'earthedNegative' })), devices: [] },
  },
  figures: {
    all: { of: 'faultA', in: 'fault' },
    clamp: { of: 'jointA', in: 'fault', joint: `${at}~L4.6` },
    lastJumper: { of: 'jointA', in: 'fault', joint: 'R4/T7+T8~1' },
    lug: { of: 'jointA', in: 'fault', joint: 'C1.6~lug' },
    soil: { of: 'throughEarthA', in: 'fault' },
    soilShare: { of: 'ratio', top: 'soil', bottom: 'all' },
    volts: { of: 'faultV', in: 'fault' },
  },
  steps: [
    {
      text:
        'The positive conductor of a string has worn through and touches a frame at the far end of row 4. ' +
        'The negative pole of this array is joined to the main earth bar, so there is a way back: {all} flow from the frame to the bar.',
      about: at,
      see: 'The frame that was hit is outlined, with the mark of the fault on it. Lines of current lead from it to the earth bar: where more flows they are wider, and dashes move the way it flows.',
      setup: 'fault',
      question: null,
    },
    {
      text: 'Two clamps hold the frame on its rails. One of them carries {clamp}: the current shares itself out between the two.',
      about: `${at}~L4.6`,
      see: 'One of the two clamps is ringed. Tap it, then the other one on the next rail: the amperes of each stand below.',
      setup: 'fault',
      question: null,
    },
    {
      text: 'There is one jumper between tables 7 and 8. It carries {lastJumper}: nearly everything. The posts, which stand in soil, take little.',
      about: 'R4/T7+T8~1',
      see: 'The jumper between the two tables is ringed. Tap a post beside it: hardly any current goes down there.',
      setup: 'fault',
      question: null,
    },
    {
      text: 'How much of the current comes back to the bar through soil rather than metal?',
      about: 'B1',
      beside: ['C1.6~lug'],
      see: 'Tap the lug at the head of row 4, where its line meets the conductor to the bar. Its amperes come back in metal: compare them with the {all} that flow.',
      setup: 'fault',
      question: {
        choices: ['Nearly all: it is an earth fault', 'About half', 'A few parts in a hundred'],
        right: 2,
        why:
          '{soil} of {all}. “Earth” fault is a name. Soil has ohms, the bonds have thousandths of an ohm: while they hold, ' +
          'the current stays in metal.',
        claims: [{ figure: 'soilShare', least: 0, most: 0.05 }],
      },
    },
    {
      text:
        'At the head of the row {lug} leave by one lug for the bar. The frame that was hit has only {volts} against the soil: ' +
        'the bonds hold it down. That is what bonds are for.',
      about: 'C1.6~lug',
      see: 'The lug is ringed. Go back to the first step to see the volts of the frame that was hit: they stand below.',
      setup: 'fault',
      question: null,
    },
  ],
}
