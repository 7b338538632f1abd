import { describe, expect, it } from 'vitest'
import { pairOf, strongestPair } from '../../src/panels/suspectCurrent.ts'
import { answerWith, jumper, reading } from '../text/locateAnswers.ts'

const clamp = reading('r1', { method: 'loopClamp', around: 'R2/T3+T4~1', to: 'R2/T4/F1.1' })
const pair = reading('r2')
const answer = answerWith({ readings: [clamp, pair] })
const evidence = (entry: string, bits: number) => ({ ...jumper.evidence[0], entry, bits })

describe('the current that is shown of a suspect', () => {
  it('is of the strongest reading between two parts: a clamp round a joint has no pair', () => {
    const group = { ...jumper, evidence: [evidence('r1', 12), evidence('r2', 4)] }
    expect(strongestPair(answer, group)).toEqual({ from: pair.from, to: pair.to })
    expect(pairOf(answer, 'r1')).toBeNull()
  })

  it('is none where no such reading speaks for it', () => {
    const group = { ...jumper, evidence: [evidence('r1', 12), evidence('r2', -4)] }
    expect(strongestPair(answer, group)).toBeNull()
  })
})
