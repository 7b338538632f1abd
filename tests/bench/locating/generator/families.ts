import type { Kit } from '../../../../src/model/schema/record.ts'
import { fourWireKit, twoWireKit } from '../../../generator/testKits.ts'

/** How the rows hang together at their ends. */
export type Tie = 'oneEnd' | 'bothEnds' | 'ring'
export type Mounting = 'fixed' | 'tracker' | 'roof'

/** A family of sites with the instrument that they are measured with. */
export interface Family {
  readonly name: string
  readonly tie: Tie
  readonly mounting: Mounting
  readonly kit: Kit
  /** Loop clamp readings round the conductors besides. */
  readonly withLoopClamp: boolean
  /** Poor contacts are as frequent as assumed, or by lot a third or three times that. */
  readonly contactsByLot: boolean
  /** Number of its own, so that families share no seeds. */
  readonly number: number
}

/** Kit D: a loop clamp, ±(2 % + 0.05 ohm). */
export const loopClamp: Kit = {
  id: 'loop-clamp',
  name: 'Loop clamp',
  serial: '',
  method: 'loopClamp',
  testCurrentA: 0.1,
  resolutionOhm: 0.01,
  gainError: 0.02,
  digits: 5,
  mostOhm: 1500,
  calibrationDue: null,
  lastCheck: null,
}

const family = (
  number: number,
  name: string,
  tie: Tie,
  mounting: Mounting,
  kit: Kit = twoWireKit,
  withLoopClamp = false,
  contactsByLot = false,
): Family => ({ number, name, tie, mounting, kit, withLoopClamp, contactsByLot })

export const families: readonly Family[] = [
  family(1, 'open rows, A', 'oneEnd', 'fixed'),
  family(2, 'tied rows, A', 'bothEnds', 'fixed'),
  family(3, 'ring, A', 'ring', 'fixed'),
  family(4, 'tracker, A', 'oneEnd', 'tracker'),
  family(5, 'roof, A', 'oneEnd', 'roof'),
  family(6, 'open rows, B', 'oneEnd', 'fixed', fourWireKit),
  family(7, 'roof, B', 'oneEnd', 'roof', fourWireKit),
  family(8, 'ring, A and D', 'ring', 'fixed', twoWireKit, true),
]

/** Only for what the rate of poor contacts does; in no other table. */
export const contactFamilies: readonly Family[] = [
  family(9, 'open rows, A, contacts by lot', 'oneEnd', 'fixed', twoWireKit, false, true),
  family(10, 'tied rows, A, contacts by lot', 'bothEnds', 'fixed', twoWireKit, false, true),
]
/** By what the assumed rate of poor contacts is multiplied. */
export const contactFactors = [0.3, 1, 3] as const
