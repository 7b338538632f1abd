import { describe, expect, it } from 'vitest'
import { jointAddressAt } from '../../src/layout/jointIndex.ts'
import { partAddressAt } from '../../src/layout/partIndex.ts'
import { indexSite } from '../../src/layout/siteIndex.ts'
import {
  parseJointAddress,
  parsePartAddress,
  writeJointAddress,
  writePartAddress,
} from '../../src/model/address.ts'
import { countJoints, countParts } from '../../src/model/countJoints.ts'
import { jointExists, nearestPart, partExists } from '../../src/model/presence.ts'
import { exampleSite } from './exampleSite.ts'

const { drawing } = exampleSite()
const hasPart = (text: string) => partExists(drawing, parsePartAddress(text)!)
const hasJoint = (text: string) => jointExists(drawing, parseJointAddress(text)!)

describe('what a drawing has', () => {
  it('is what expanding it makes, part by part and joint by joint', () => {
    const indexed = indexSite(drawing)
    if (!indexed.ok) throw new Error(JSON.stringify(indexed.error))
    const { value: index } = indexed
    const parts = new Set<string>()
    for (let p = 0; p < index.partCount; p++) parts.add(writePartAddress(partAddressAt(index, p)))
    const joints = new Set<string>()
    for (let j = 0; j < index.jointCount; j++) joints.add(writeJointAddress(jointAddressAt(index, j)))
    parts.delete('earth')
    expect(countParts(drawing)).toBe(parts.size)
    expect(countJoints(drawing)).toBe(joints.size)
    expect([...parts].filter((text) => !hasPart(text))).toEqual([])
    expect([...joints].filter((text) => !hasJoint(text))).toEqual([])
  })

  it.each([
    'R2/T1/F1.1',
    'R1/T5/F1.1',
    'R1/T1/F3.1',
    'R1/T1/F1.5',
    'R1/T1/L5.1',
    'R1/T1/L1.6',
    'R1/T1/X3',
    'R1/T1/P1.4',
    'R3/T1/P2.1',
    'E2',
    'B2',
    'G4',
    'C1.2',
    'C1.9',
    'C3.1',
  ])('is without the part %s', (text) => {
    expect(hasPart(text)).toBe(false)
  })

  it.each([
    'R1/T1/F1.1~L1.1',
    'R1/T1/F1.1~L3.2',
    'R1/T1/F1.1~F1.2',
    'R1/T1/L1.1~L1.3',
    'R1/T1/L1.3~X1',
    'R1/T1/X1~P1.1~3',
    'R1/T1/L1.5~P2.3',
    'R1/T2+T3~1',
    'R1/T4+T2~1',
    'R3/T1+T2~1',
    'C1.2~lug',
    'C1.3~wire',
    'C2.2~wire',
    'J2',
    'A1',
    'E1~earth',
    'R1/T1/F1.1~earth',
  ])('is without the joint %s', (text) => {
    expect(hasJoint(text)).toBe(false)
  })

  it('names the nearest part of the same sort where there is one', () => {
    const nearest = (text: string) => nearestPart(drawing, parsePartAddress(text)!)
    expect(nearest('R1/T1/F9.99')).toBe('R1/T1/F2.4')
    expect(nearest('R1/T1/L1.9')).toBe('R1/T1/L1.5')
    expect(nearest('R3/T1/X1')).toBeNull()
    expect(nearest('R3/T1/P2.9')).toBe('R3/T1/P1.3')
    expect(nearest('C1.2')).toBe('C1.1')
    expect(nearest('R9/T1/F1.1')).toBeNull()
  })
})
