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
  hasGround: true,
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
      see: 'The rod is ringed, north of row 6. The grey of the ground is the volts of the soil: round here all of it is one step of grey, from 10 V to 50 V.',
      setup: 'joined',
      question: null,
    },
    {
      text: 'Soil that takes up current has volts of its own, fewer with every metre. Between two feet a metre apart beside the rod there are up to {joinedStep}; between a hand on the rod and feet a metre away, {joinedTouch}.',
      about: rod,
      see: 'The line with “!” is a metre long and lies where two feet have the most between them. The grey is too coarse to show those volts; in the next steps lines and darker grey do.',
      setup: 'joined',
      question: null,
    },
    {
      text: 'The conductor to the rod is taken off. What becomes of the current?',
      about: tail,
      beside: [rod],
      see: 'The place where the conductor was taken off is ringed. Before, most of the current went by this conductor to all other rods and posts; now the rod itself is the only way into the soil.',
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
      see: 'Tap the rod and read its volts, then go back to the first step and tap it again.',
      setup: 'alone',
      question: {
        choices: [
          'Yes, in proportion to the current',
          'No: the volts of a step and of a touch grow many times',
        ],
        right: 1,
        why:
          'Between two feet there are up to {aloneStep} now, {times} times as much. All that current leaves by one rod, and the rod stands at ' +
          '{aloneV}.',
        claims: [
          { figure: 'times', least: 3, most: 1000 },
          { figure: 'less', least: 0, most: 1 },
        ],
      },
    },
    {
      text:
        'With a hand on the rod and the feet a metre away {aloneTouch} wait. A person of middling body ohms would carry {body}: {feels}. ' +
        'Bridge an earthing conductor before you take it off, and keep away from rods in a fault.',
      about: rod,
      see: 'The rod is ringed. The tint shows how far its volts reach.',
      setup: 'alone',
      question: null,
    },
  ],
}
