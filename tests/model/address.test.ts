import fc from 'fast-check'
import { describe, expect, it } from 'vitest'
import type { JointAddress, LocalPart, PartAddress } from '../../src/model/address.ts'
import {
  compareLocalParts,
  parseJointAddress,
  parsePartAddress,
  writeJointAddress,
  writePartAddress,
} from '../../src/model/address.ts'

const id = fc.integer({ min: 1, max: 2_000_000_000 })
const localPart: fc.Arbitrary<LocalPart> = fc.oneof(
  fc.record({ of: fc.constant('frame' as const), high: id, across: id }),
  fc.record({ of: fc.constant('longMember' as const), member: id, station: id }),
  fc.record({ of: fc.constant('crossMember' as const), position: id }),
  fc.record({ of: fc.constant('post' as const), line: id, position: id }),
)
const item = fc.constantFrom('enclosure' as const, 'earthBar' as const, 'electrode' as const)
const partAddress: fc.Arbitrary<PartAddress> = fc.oneof(
  fc.record({ at: fc.constant('table' as const), row: id, table: id, part: localPart }),
  fc.record({ at: item, id }),
  fc.record({ at: fc.constant('conductor' as const), id, point: id }),
  fc.constant({ at: 'remoteEarth' as const }),
)
const ends = fc
  .tuple(localPart, localPart)
  .filter(([a, b]) => compareLocalParts(a, b) !== 0)
  .map(([a, b]) => (compareLocalParts(a, b) < 0 ? { from: a, to: b } : { from: b, to: a }))
const tableJoint: fc.Arbitrary<JointAddress> = fc
  .tuple(id, id, ends, fc.integer({ min: 1, max: 9 }))
  .map(([row, table, { from, to }, parallel]) => ({ at: 'table', row, table, from, to, parallel }))
const jointAddress: fc.Arbitrary<JointAddress> = fc.oneof(
  tableJoint,
  fc.record({
    at: fc.constant('row' as const),
    row: id,
    tableBefore: id,
    tableAfter: id,
    jumper: fc.constantFrom(1, 2),
  }),
  fc.record({ at: fc.constantFrom('lug' as const, 'wire' as const), conductor: id, point: id }),
  fc.record({ at: fc.constantFrom('extra' as const, 'asBuilt' as const), id }),
  fc
    .record({ at: fc.constant('earthPath' as const), part: partAddress })
    .filter(({ part }) => part.at !== 'remoteEarth'),
)
const seeded = { seed: 1, numRuns: 2000 }

describe('addresses', () => {
  it('are read back as they were written', () => {
    fc.assert(
      fc.property(partAddress, (address) => {
        expect(parsePartAddress(writePartAddress(address))).toEqual(address)
      }),
      seeded,
    )
    fc.assert(
      fc.property(jointAddress, (address) => {
        expect(parseJointAddress(writeJointAddress(address))).toEqual(address)
      }),
      seeded,
    )
  })

  it('name either a part or a joint, never both', () => {
    fc.assert(
      fc.property(partAddress, jointAddress, (part, joint) => {
        expect(parseJointAddress(writePartAddress(part))).toBeNull()
        expect(parsePartAddress(writeJointAddress(joint))).toBeNull()
      }),
      seeded,
    )
  })

  it('of joints are the same in either order of their ends', () => {
    const one = parseJointAddress('R3/T7/P1.2~X2~2')
    expect(one).toEqual(parseJointAddress('R3/T7/X2~P1.2~2'))
    expect(writeJointAddress(one!)).toBe('R3/T7/X2~P1.2~2')
    expect(writeJointAddress(parseJointAddress('R1/T1/L1.3~F2.2')!)).toBe('R1/T1/F2.2~L1.3')
    expect(writeJointAddress(parseJointAddress('R1/T1/F1.10~F1.9')!)).toBe('R1/T1/F1.9~F1.10')
  })

  it('are read in each of the forms that the documentation lists', () => {
    for (const text of 'R3/T7/F2.14 R3/T7/L3.15 R3/T7/X2 R3/T7/P1.2 E1 B1 G1 C5.2 earth'.split(' ')) {
      expect(writePartAddress(parsePartAddress(text)!)).toBe(text)
    }
    const joints =
      'R3/T7/F2.14~L3.15 R3/T7/X2~P1.2~2 R3/T7+T8~1 C5.2~lug C5.2~wire J4 A2 G1~earth R1/T1/P2.1~earth'
    for (const text of joints.split(' ')) expect(writeJointAddress(parseJointAddress(text)!)).toBe(text)
  })

  it.each([
    '',
    'R3',
    'R3/T7',
    'R3/T7/',
    'R03/T7/F2.14',
    'R3/T7/F2.014',
    'R0/T7/F2.14',
    'R3/T7/F0.1',
    'r3/t7/f2.14',
    'R3/T7/f2.14',
    'R3/T7/F2.14 ',
    ' R3/T7/F2.14',
    'R3/T7/F2.14\n',
    'R3/T7/F2',
    'R3/T7/F2.14.1',
    'R3/T7/X2.1',
    'R3/T7/F-1.1',
    'R3/T7/F1e3.1',
    'R3/T7/F２.1',
    'R2000000001/T1/X1',
    'R99999999999999999999/T1/X1',
    'E',
    'e1',
    'E1.1',
    'C5',
    'Earth',
    'EARTH',
    'earth~earth',
    'R3/T7/F2.14~L3.15',
  ])('refuse %j as a part', (text) => {
    expect(parsePartAddress(text)).toBeNull()
  })

  it.each([
    '',
    'R3/T7/F2.14',
    'R3/T7/F2.14~',
    'R3/T7/F2.14~L3.15~1',
    'R3/T7/F2.14~L3.15~10',
    'R3/T7/F2.14~L3.15~2~3',
    'R3/T7/F2.14~F2.14',
    'R3/T7/F2.14~R3/T7/L3.15',
    'R3/T7+T8',
    'R3/T7+T8~3',
    'R3/T7+R3/T8~1',
    'C5.2~Lug',
    'C5~lug',
    'J0',
    'J04',
    'j4',
    'A2 ',
    'earth~earth',
    '~earth',
    'R3/T7~earth',
  ])('refuse %j as a joint', (text) => {
    expect(parseJointAddress(text)).toBeNull()
  })

  it('of any text are refused or mean exactly what they say', () => {
    const alphabet = [...'RTFLXPEBGCJA0123456789/.~+ earthlugwi']
    fc.assert(
      fc.property(fc.array(fc.constantFrom(...alphabet), { maxLength: 16 }), (letters) => {
        const text = letters.join('')
        const part = parsePartAddress(text)
        if (part) expect(writePartAddress(part)).toBe(text)
      }),
      { seed: 2, numRuns: 20_000 },
    )
  })
})
