import { beforeAll, describe, expect, it } from 'vitest'
import type { FaultAnswer, FaultSweepAnswer, GroundStandAnswer } from '../../src/model/faultAnswers.ts'
import { buildHeadless, field, roof, runHeadless } from './runHeadless.ts'

beforeAll(buildHeadless, 120_000)

type Document = Omit<FaultAnswer, 'partV' | 'currentA'> & {
  readonly parts: readonly { readonly part: string; readonly volt: number }[]
  readonly joints: readonly { readonly joint: string; readonly currentA: number }[]
  readonly losses: FaultSweepAnswer | null
  readonly ground: Omit<GroundStandAnswer, 'basis'> | null
}

const string = ['--source', 'string1']
const at = ['current', field, ...string, '--at', 'R2/T3/F1.5', '--earthed', 'E1']

function json(...more: readonly string[]): Document {
  const { code, out, err } = runHeadless([...at, ...more, '--json'])
  expect({ code, err }).toEqual({ code: 0, err: '' })
  return JSON.parse(out) as Document
}

describe('current', () => {
  it('a first fault of a floating string drives what insulation leads', () => {
    const answer = json()
    expect(answer.limitedBy).toBe('insulation')
    // 980 V over the insulation of the other pole, 1 MΩ
    expect(answer.faultA).toBeCloseTo(980e-6, 7)
    expect(answer.insulation).toMatchObject({ alarms: true, isHidden: false })
    expect(answer.losses).toBeNull()
  })

  it('a second fault drives amperes through the bonds between; joints and parts come largest first', () => {
    const answer = json('--module', '17', '--second', 'R5/T2/F1.3:4', '--losses')
    expect(answer.limitedBy).toBe('sourceCurrent')
    expect(answer.faultA).toBeGreaterThan(14)
    const amps = answer.joints.map(({ currentA }) => Math.abs(currentA))
    expect(amps).toEqual([...amps].sort((a, b) => b - a))
    expect(amps[0]).toBeLessThanOrEqual(answer.faultA * (1 + 1e-6))
    expect(answer.losses!.soundA).toBeCloseTo(answer.faultA, 9)
    expect(answer.losses!.worst.length).toBeGreaterThan(10)
  })

  it('as text says the same for people, with the caution of a teaching model', () => {
    const { code, out } = runHeadless([...at, '--losses', '--touch', 'R2/T3/F1.5', '--top', '3'])
    expect(code).toBe(0)
    for (const title of ['Into the bond network', 'Joints', 'Parts', 'Who notices', 'Who touches'])
      expect(out).toContain(`\n${title}\n`)
    expect(out).toMatch(/Current of the fault +0\.98 mA/)
    expect(out).toMatch(/If one joint more were missing\n(.*\n){2}(C|R).* 490 V/)
    expect(out).toMatch(/teaching model/)
    expect(out).not.toMatch(/\bsafe\b/)
  })

  it('tells of the ground what passes through it, the largest step, the electrodes and where one stands', () => {
    const second = ['--module', '17', '--second', 'R5/T2/F1.3:4']
    const answer = json(...second, '--stand', '12.5,-3')
    const { mostStep, stand, throughEarthA } = answer.ground!
    expect(throughEarthA).toBeCloseTo(answer.throughEarthA, 9)
    expect(stand!.atM).toEqual({ x: 12.5, y: -3 })
    expect(mostStep!.volt).toBeGreaterThan(stand!.step.volt)
    const { out } = runHeadless([...at, ...second, '--stand', 'G1'])
    expect(out).toMatch(
      /\nGround\n[\d.]+ A pass through earth\.\nThe largest step of one metre is \d+ mV, beside /,
    )
    expect(out).toMatch(/ {2}- North rod \(G2\): \d+ mV to remote earth\./)
    expect(out).toMatch(/Where one stands\nThe ground here stands at \d+ mV to remote earth\./)
    expect(out).toMatch(/tolerable step voltage, 50 kg: no answer/)
    const { code, err } = runHeadless([...at, '--stand', 'G9'])
    expect(code).toBe(2)
    expect(err).toContain('G9')
  })

  it('a joint that is missing in the question alone stops the current', () => {
    const bonded = json()
    const cut = json('--open', 'C2.1~wire')
    expect(bonded.faultA).toBeGreaterThan(1e-4)
    expect(cut.limitedBy).toBe('noPath')
    expect(cut.networkOhm as unknown).toBe('infinite')
  })

  it.each([
    [[field, ...string], /--at is missing/],
    [[roof, '--at', 'B1'], /no source: add one/],
    [[field, '--at', 'B1', '--source', 'other'], /no source called “other”/],
    [[field, '--at', 'B1'], /--source is missing; there are string1, auxiliary1/],
    [[field, ...string, '--at', 'B9'], /There is no part “B9”/],
    [[field, ...string, '--at', 'B1', '--light', 'bright'], /--light takes a number/],
    [[field, ...string, '--at', 'B1', '--raise', 'J1'], /JOINT=OHM/],
    [[field, ...string, '--at', 'B1', '--wet'], /--touch PART is missing/],
    [[field, ...string, '--at', 'B1', '--module', '99'], /0 to 20/],
  ] as const)('a slip is told: %j', (words, sentence) => {
    const { code, err } = runHeadless(['current', ...words])
    expect(code).toBe(2)
    expect(err).toMatch(sentence)
  })
})
