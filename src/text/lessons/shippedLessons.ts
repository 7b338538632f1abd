import type { ShippedLesson } from '../../model/lessons.ts'
import { earthFaultWay } from './earthFaultWay.ts'
import { floatingArray } from './floatingArray.ts'
import { mainsOnFrame } from './mainsOnFrame.ts'
import { parallelPaths } from './parallelPaths.ts'
import { raisedAndOpen } from './raisedAndOpen.ts'
import { stepAndTouch } from './stepAndTouch.ts'
import { unbondedFrame } from './unbondedFrame.ts'

/** The lessons that come with the program, in the order in which a crew would have them. */
export const shippedLessons: readonly ShippedLesson[] = [
  earthFaultWay,
  raisedAndOpen,
  parallelPaths,
  floatingArray,
  unbondedFrame,
  mainsOnFrame,
  stepAndTouch,
]
