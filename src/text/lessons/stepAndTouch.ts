import type { LessonSetup, ShippedLesson } from '../../model/lessons.ts'
import { faultAt, fieldDemo, mainsDrive, open, touching } from './pieces.ts'

const rod = 'G2'
const tail = 'C1.8~wire'

function withTail(isOpen: boolean): LessonSetup {
  const fault = faultAt(rod, mainsDrive(null, 5), {
    altered: isOpen ? [open(tail)] : [],
    person: touching(rod, null),
  })
  return { fault, devices: [] }
}

export const stepAndTouch: ShippedLesson = {
  ...fieldDemo,
  id: 'step-and-touch',
  title: 'Step and touch round a rod',
  learns:
    'That the ground round a rod has volts of its own while current goes into it, and why a rod is not taken off alone.',
  setups: { joined: withTail(false), alone: withTail(true) },
  figures: {
    joinedA: { of: 'faultA', in: 'joined' },
    joinedV: { of: 'faultV', in: 'joined' },
    joinedTouch: { of: 'prospectiveV', in: 'joined' },
    joinedStep: { of: 'stepV', in: 'joined', round: rod, withinM: 3 },
    aloneA: { of: 'faultA', in: 'alone' },
    aloneV: { of: 'faultV', in: 'alone' },
    aloneTouch: { of: 'prospectiveV', in: 'alone' },
    aloneStep: { of: 'stepV', in: 'alone', round: rod, withinM: 3 },
    times: { of: 'ratio', top: 'aloneStep', bottom: 'joinedStep' },
    less: { of: 'ratio', top: 'aloneA', bottom: 'joinedA' },
    body: { of: 'bodyA', in: 'alone' },
    feels: { of: 'zone', in: 'alone' },
  },
  steps: [
    {
      text:
        'A mains conductor lies on the north rod; the supply is earthed far away. The rod is joined to the whole field: ' +
        '{joinedA} go into soil by rods and hundreds of posts together, and all of it rises to {joinedV}.',
      about: rod,
      setup: 'joined',
      question: null,
    },
    {
      text: 'One step of a metre on the ground beside the rod spans up to {joinedStep}. A hand on the rod, feet a metre away: {joinedTouch}.',
      about: rod,
      setup: 'joined',
      question: null,
    },
    {
      text: 'The conductor to the rod is taken off. What becomes of the current?',
      about: tail,
      setup: 'alone',
      question: {
        choices: ['It grows', 'It falls to a fraction', 'It stays as it is'],
        right: 1,
        why: '{aloneA} instead of {joinedA}: one rod alone has far more ohms to earth than the field.',
        claims: [{ figure: 'less', least: 0, most: 0.3 }],
      },
    },
    {
      text: 'Less current. Is it less dangerous to stand beside the rod?',
      about: rod,
      setup: 'alone',
      question: {
        choices: [
          'Yes, in proportion to the current',
          'No: the volts of a step and of a touch grow many times',
        ],
        right: 1,
        why:
          'A step spans up to {aloneStep} now, {times} times as much. All that current leaves by one rod, and the rod stands at ' +
          '{aloneV}.',
        claims: [
          { figure: 'times', least: 3, most: 1000 },
          { figure: 'less', least: 0, most: 1 },
        ],
      },
    },
    {
      text:
        'A hand on the rod and the feet a metre away: {aloneTouch} before anybody touches; a body in the middle of the range would carry ' +
        '{body}: {feels}. Bridge an earthing conductor before you take it off, and keep away from rods in a fault.',
      about: rod,
      setup: 'alone',
      question: null,
    },
  ],
}
