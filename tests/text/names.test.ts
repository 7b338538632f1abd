import { describe, expect, it } from 'vitest'
import { nameJoint, nameJointAt, nameKind } from '../../src/text/jointNames.ts'
import { namePair, namePart } from '../../src/text/partNames.ts'
import { labelled, nameTable } from '../../src/text/places.ts'
import { namedBook, trackerBook } from './namedSite.ts'

const book = namedBook()

describe('parts', () => {
  it.each([
    ['R2/T5/F2.3', 'frame 2.3, table 5, row 2'],
    ['R2/T5/L1.1', 'rail 1 at its start, table 5, row 2'],
    ['R2/T5/L1.3', 'rail 1 between modules 2 and 3, table 5, row 2'],
    ['R2/T5/L1.4', 'rail 1 at its end, table 5, row 2'],
    ['R2/T5/X2', 'cross member 2, table 5, row 2'],
    ['R2/T5/P1.2', 'post 2, table 5, row 2'],
    ['R3/T1/P2.1', 'rear post 1, table 1, row “North field”'],
    ['R3/T4/F1.1', 'frame 1.1, table A-17, row “North field”'],
    ['E1', 'enclosure INV-2'],
    ['B1', 'Main earth bar'],
    ['B2', 'earth bar 2'],
    ['G1', 'earth rod 1'],
    ['C5.1', 'main bonding conductor at Main earth bar'],
    ['C5.3', 'main bonding conductor at table 4, row 2'],
    ['C6.1', 'conductor 6 at point 1'],
    ['earth', 'remote earth'],
    ['R99/T1/F1.1', 'frame 1.1, table 1, row 99'],
    ['nonsense\n\u001b[31m', 'nonsense [31m'],
  ])('%s is %s', (address, name) => {
    expect(namePart(book, address)).toBe(name)
  })

  it('a table whose id does not count along its row says where it stands', () => {
    expect(nameTable(book, 3, 9)).toBe('table 9 (3rd in its row)')
    expect(nameTable(book, 3, 3)).toBe('table 3 (4th in its row)')
    expect(nameTable(book, 3, 2)).toBe('table 2')
  })

  it('the long member of a tracker that carries no module is its tube', () => {
    const tracker = trackerBook()
    expect(namePart(tracker, 'R2/T4/L1.1')).toBe('tube at its start, table 4, row 2')
    expect(namePart(tracker, 'R2/T4/L2.1')).toBe('rail 2 at its start, table 4, row 2')
    expect(nameJoint(tracker, 'R2/T5/L1.2~X2')).toContain('bracket of tube on cross member 2')
    const carriesAll = trackerBook([[1], [2]])
    expect(namePart(carriesAll, 'R2/T4/L1.1')).toBe('rail 1 at its start, table 4, row 2')
    const two = trackerBook([[], [], [1, 2]])
    expect(namePart(two, 'R2/T4/L2.1')).toBe('tube 2 at its start, table 4, row 2')
  })

  it('two parts say once what they share', () => {
    expect(namePair(book, 'R2/T4/F1.1', 'R2/T1/F1.2')).toBe('frame 1.1, table 4 to frame 1.2, table 1, row 2')
    expect(namePair(book, 'R2/T4/F1.1', 'R2/T4/F1.2')).toBe('frame 1.1 to frame 1.2, table 4, row 2')
    expect(namePair(book, 'R2/T4/F1.1', 'B1')).toBe('frame 1.1, table 4, row 2 to Main earth bar')
  })

  it('a US site speaks of ground', () => {
    const us = namedBook('us')
    expect([namePart(us, 'B2'), namePart(us, 'G1'), namePart(us, 'earth')]).toEqual([
      'ground bar 2',
      'ground rod 1',
      'remote ground',
    ])
    expect(nameJoint(us, 'G1~earth')).toBe('ground path of ground rod 1')
  })
})

describe('joints', () => {
  it.each([
    ['R2/T3+T4~1', 'jumper between table 3 and table 4 of row 2'],
    ['R3/T1+T2~2', 'jumper on the last rail between table 1 and table 2 of row “North field”'],
    ['R2/T5/F2.1~L2.2', 'clamp of frame 2.1 on rail 2, table 5, row 2'],
    ['R3/T1/F2.1~L2.2', 'clamp of frame 2.1 on rail 2 between modules 1 and 2, table 1, row “North field”'],
    ['R3/T1/F1.1~F2.1', 'link between frame 1.1 and frame 2.1, table 1, row “North field”'],
    ['R2/T5/L1.2~L1.3', 'splice of rail 1 along module 2, table 5, row 2'],
    ['R2/T5/L1.1~L1.2', 'metal of rail 1 along module 1, table 5, row 2'],
    ['R2/T5/L1.1~X1', 'bracket of rail 1 on cross member 1, table 5, row 2'],
    ['R2/T5/X1~P1.1', 'bond of post 1 to cross member 1, table 5, row 2'],
    ['R2/T5/P1.1~X1~2', '2nd bond of post 1 to cross member 1, table 5, row 2'],
    ['C5.3~lug', 'lug of main bonding conductor at table 4, row 2'],
    ['C5.1~wire', 'main bonding conductor from Main earth bar to table 4, row 2'],
    ['C6.1~wire', 'conductor 6 from point 1 to earth rod 1'],
    ['J4', 'fence bond between earth bar 2 and enclosure INV-2'],
    ['J5', 'extra joint 5 between frame 1.1 and frame 1.2, table 1, row 2'],
    ['A2', 'joint found between frame 1.1, table 1 and frame 1.1, table 2, row 2'],
    ['G1~earth', 'earth path of earth rod 1'],
    ['R2/T5/P1.1~earth', 'earth path of post 1, table 5, row 2'],
    ['no such form', 'joint no such form'],
  ])('%s is %s', (address, name) => {
    expect(nameJoint(book, address)).toBe(name)
  })

  it('can carry the address, and the kind by the name in the catalogue', () => {
    expect(nameJointAt(book, 'R2/T3+T4~1')).toMatch(/^jumper .* of row 2 \(R2\/T3\+T4~1\)$/)
    expect(nameKind(book, 'layInLug')).toBe('lay-in lug on frame')
    expect(nameKind(book, 'gone')).toBe('gone')
  })
})

it('labels: the word is not said twice, and what is no single token stands in quotation marks', () => {
  expect(labelled('row', '', '3')).toBe('row 3')
  expect(labelled('row', 'Row 12', '3')).toBe('Row 12')
  expect(labelled('row', 'N2', '3')).toBe('row N2')
  expect(labelled('row', '12/4', '3')).toBe('row 12/4')
  expect(labelled('row', 'by the gate', '3')).toBe('row “by the gate”')
})
