import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { beforeAll, describe, expect, it } from 'vitest'
import type { CurrentsAnswer, LocateAnswer, NextAnswer } from '../../src/model/answers.ts'
import type { ComparisonAnswer } from '../../src/model/comparison.ts'
import {
  planSeverities,
  type CoverageAnswer,
  type PlanAnswer,
  type PlanSeverity,
  type SampleAnswer,
} from '../../src/model/planning.ts'
import type { JointRow, KindRow } from '../../src/headless/coverageRows.ts'
import { openSite } from '../../src/files/openSite.ts'
import { programVersion } from '../../src/headless/version.ts'
import { buildHeadless, field, roof, root, runHeadless, runShell } from './runHeadless.ts'

beforeAll(buildHeadless, 120_000)

describe('help and version', () => {
  it('help names every command and the exit codes', () => {
    const { code, out, err } = runHeadless(['--help'])
    expect({ code, err }).toEqual({ code: 0, err: '' })
    for (const name of [
      'check',
      'network',
      'resistance',
      'currents',
      'current',
      'locate',
      'next',
      'plan',
      'coverage',
      'sample',
    ])
      expect(out).toContain(`\n${name} FILE`)
    expect(out).toMatch(/Exit codes/)
    expect(out).toMatch(/local code|Local code/i)
  })

  it('help of a command names its options', () => {
    const { code, out } = runHeadless(['network', '--help'])
    expect(code).toBe(0)
    for (const option of ['--parts', '--joints', '--matrix', '--as-built', '--json'])
      expect(out).toContain(option)
  })

  it('the version is that of the package', () => {
    const { version } = JSON.parse(readFileSync(join(root, 'package.json'), 'utf8')) as { version: string }
    expect(programVersion).toBe(version)
    expect(runHeadless(['--version']).out).toBe(`groundweave ${version}, site file version 2\n`)
  })
})

describe('compare', () => {
  it('tells which readings are unlike their peers, as text and as JSON', () => {
    const { code, out, err } = runHeadless(['compare', roof])
    expect(err).toBe('')
    expect(code).toBe(0)
    expect(out).toContain('Paths to Earth bar: rail, four-wire')
    expect(out).toMatch(/Reading 6, .* 35\.4 mΩ/)
    const answer = JSON.parse(runHeadless(['compare', roof, '--json']).out) as ComparisonAnswer
    const high = answer.groups.flatMap(({ readings }) =>
      readings.filter(({ standing }) => standing === 'high'),
    )
    expect(high.map(({ to }) => to.split('/')[0])).toEqual(['R2', 'R2', 'R2', 'R2'])
    expect(high.every(({ isEarlySign }) => isEarlySign)).toBe(true)
  })
})

describe('plan', () => {
  const args = ['plan', roof, '--four-wire']

  it('proposes pairs and says what no plan goes below', () => {
    const { code, out, err } = runHeadless(args)
    expect({ code, err }).toEqual({ code: 0, err: '' })
    expect(out).toMatch(
      /No plan from these [0-9,]+ candidate pairs that shows as much can do with fewer than/,
    )
  })

  it('has a table of the pairs', () => {
    const [head, ...rows] = runHeadless([...args, '--csv'])
      .out.trimEnd()
      .split('\r\n')
    expect(head).toBe('setUp,from,to,required,expectedOhm,criterionOhm,wayM,minutes')
    expect(rows.length).toBeGreaterThan(0)
    for (const row of rows) expect(row).toMatch(/^[0-9]+,[A-Z][^,]*,[A-Z][^,]*,(true|false),[0-9.e-]+,/)
  })

  it('writes the site file with the plan in it', () => {
    const folder = mkdtempSync(join(tmpdir(), 'plan-'))
    const file = join(folder, 'planned.json')
    const answer = JSON.parse(runHeadless([...args, '--json', '--write', file]).out) as PlanAnswer
    expect(answer.bound?.pairs).toBeLessThanOrEqual(answer.pairs.length)
    const opened = openSite(readFileSync(file), file)
    const plans = opened.ok ? opened.value.drawing.plans : []
    expect(plans.at(-1)?.pairs.map(({ from, to }) => [from, to])).toEqual(
      answer.pairs.map(({ from, to }) => [from, to]),
    )
    rmSync(folder, { recursive: true })
  })

  it.each([
    [['--severity', 'worse'], '--severity takes tripled'],
    [['--tell-apart', '2'], '--tell-apart takes a number from 0 to 1'],
    [['--minutes', '0'], '--minutes takes a whole number'],
    [['--persons', '3'], '--persons takes 1 or 2'],
  ])('says what is wrong with %s', (options, said) => {
    const { code, err } = runHeadless([...args, ...options])
    expect(code).toBe(2)
    expect(err).toContain(said)
  })
})

describe('coverage', () => {
  it('tells by kind what the pairs of the plans show, what stays hidden, why and what cures it', () => {
    const { code, out, err } = runHeadless(['coverage', roof])
    expect({ code, err }).toEqual({ code: 0, err: '' })
    expect(out).toMatch(/^Kind +Joints +× 3 +× 10 +× 100 +Open +Once +Twice$/m)
    expect(out).toMatch(/144 × pierced frame clamp\. Paths beside them/)
    expect(out).toContain('What would cure it: a look and a torque check')
    expect(out).toContain('Look alike')
  })

  it('has the same for every joint as JSON, in numbers that add up, and no worse joint hidden from what shows it', () => {
    const { out } = runHeadless(['coverage', roof, '--pattern', 'chain', '--json', '--joints'])
    const answer = JSON.parse(out) as {
      bySeverity: Record<PlanSeverity, Pick<CoverageAnswer, 'joints' | 'counts' | 'twice'>>
      kinds: readonly KindRow[]
      joints: readonly JointRow[]
    }
    const { counts, joints, twice } = answer.bySeverity.open
    const shown = answer.joints.filter(({ shownBy }) => shownBy.open > 0)
    expect(answer.joints).toHaveLength(joints)
    expect(shown).toHaveLength(counts.criterion + counts.comparison)
    expect(shown.length).toBeGreaterThan(0)
    expect(shown.filter(({ shownBy }) => shownBy.open > 1)).toHaveLength(twice)
    for (const { kind, shown: ofKind, once, twice: often, joints: all } of answer.kinds) {
      const own = answer.joints.filter((joint) => joint.kind === kind)
      expect(own).toHaveLength(all)
      expect(own.filter(({ shownBy }) => shownBy.hundredfold > 0)).toHaveLength(ofKind.hundredfold)
      expect(once + often).toBe(ofKind.open)
    }
    for (const { shownBy } of answer.joints) {
      const rising = planSeverities.map((severity) => shownBy[severity])
      expect(rising).toEqual(rising.toSorted((x, y) => x - y))
    }
  })

  it('takes one plan by its id, and has nothing to tell where none is drawn', () => {
    const opened = openSite(readFileSync(roof), roof)
    const plans = opened.ok ? opened.value.drawing.plans : []
    const [{ id, pairs }] = plans
    const { out } = runHeadless(['coverage', roof, '--plan', id, '--json'])
    expect((JSON.parse(out) as { pairs: unknown[] }).pairs).toHaveLength(pairs.length)
    const site = JSON.parse(readFileSync(roof, 'utf8')) as {
      drawing: { plans: unknown[] }
      record: unknown[]
    }
    const bare = { ...site, drawing: { ...site.drawing, plans: [] }, record: [] }
    const { code, out: said } = runHeadless(['coverage', '-'], JSON.stringify(bare))
    expect(code).toBe(1)
    expect(said).toContain('0 of 172 joints would show')
  })

  it.each([
    [['--severity', 'worse'], '--severity takes tripled'],
    [['--pattern', 'spiral'], '--pattern takes proposed'],
    [['--plan', 'noSuchPlan'], 'noSuchPlan'],
    [['--joints'], '--joints goes with --json'],
    [['--plan', 'x', '--pattern', 'star'], '--plan and --pattern exclude each other'],
  ])('says what is wrong with %s', (options, said) => {
    const { code, err } = runHeadless(['coverage', roof, ...options])
    expect(code).toBe(2)
    expect(err).toContain(said)
  })
})

describe('sample', () => {
  it('draws the same pairs for the same seed and says what they are worth', () => {
    const { code, out, err } = runHeadless(['sample', field, 'jumper', '--bad', '10', '--seed', '7'])
    expect({ code, err }).toEqual({ code: 0, err: '' })
    expect(out).toMatch(/of 42 joints of the kind “jumper with its lugs”/)
    expect(out).toMatch(/by lot with seed 7/)
    const args = ['sample', field, 'firstTest', '--seed', '7', '--json']
    const answer = JSON.parse(runHeadless(args).out) as SampleAnswer
    expect(answer.lot.items).toBe(49)
    expect(answer.confidence).toBeGreaterThanOrEqual(0.95)
    expect(runHeadless(args).out).toBe(runHeadless(args).out)
    const { from, to } = answer.drawn[3]
    const failed = JSON.parse(runHeadless([...args, '--failed', `${from}:${to}`]).out) as SampleAnswer
    expect(failed.result).toMatchObject({ failed: 1, isAccepted: false })
    expect(failed.drawn).toEqual(answer.drawn)
    const { tables, rows, rest } = failed.result
    expect(answer.drawn.length + tables.length + rows.length + rest.length).toBe(49)
  })

  it.each([
    [['--failed', 'B1'], 'FROM:TO'],
    [['--failed', 'B1:B1'], 'B1 to B1'],
    [['--confidence', '100'], 'a chance between 0 and 1'],
    [['--bad', 'few'], '--bad takes a number'],
  ])('%j is told; exit 2', (options, said) => {
    const { code, err } = runHeadless(['sample', field, 'firstTest', ...options])
    expect(code).toBe(2)
    expect(err).toContain(said)
    expect(runHeadless(['sample', field, 'noSuchLot']).err).toContain('noSuchLot')
  })
})

describe('what was typed wrongly is told with what was meant; exit 2', () => {
  it.each([
    [[], 'No command is given'],
    [['loacte', roof], 'did you mean locate?'],
    [
      ['weld', roof],
      'The commands are check, network, resistance, currents, current, locate, next, plan, coverage, compare, sample, readings, import-readings and report',
    ],
    [['--hepl'], 'did you mean --help?'],
    [['check'], 'FILE is missing'],
    [['check', roof, 'more'], '1 word too many: “more”'],
    [['resistance', roof], 'FROM and TO are missing'],
    [['locate', roof, '--jsn'], 'did you mean --json?'],
    [['locate', roof, '--colour'], 'there are --without-incidental'],
    [['locate', roof, '--top'], '--top needs a value, N'],
    [['locate', roof, '--top', '-3'], '--top'],
    [['locate', roof, '--top=many'], 'a whole number from 1 on, not “many”'],
    [['locate', roof, '--json=yes'], '--json takes no value'],
    [['locate', roof, '--json', '--json'], '--json is given twice'],
    [['network', roof, '--json', '--parts', 'x.csv'], 'leave out --parts'],
    [['network', roof, '--parts', '-', '--joints', '-'], 'written to one place'],
    [['network', roof, '--parts', roof], 'over the site file itself'],
    [['resistance', roof, 'B1', 'R99/T1/F1.1'], 'The nearest is R3/T1/F1.1'],
    [['resistance', roof, 'B1', 'row 1'], 'not the address of a part'],
    [['resistance', roof, 'B1', 'B1'], 'the same part'],
  ])('%j', (args, told) => {
    const { code, out, err } = runHeadless(args)
    expect(err).toContain(told)
    expect(err).not.toMatch(/ {4}at |undefined/)
    expect(out).toBe('')
    expect(code).toBe(2)
  })

  it('the site file is whole after it was named as an output', () => {
    expect(runHeadless(['check', roof]).code).toBe(0)
  })
})

describe('answers', () => {
  it('locate names the joint, with the caution under it; JSON is the answer alone', () => {
    const plain = runHeadless(['locate', field])
    const json = runHeadless(['locate', field, '--json'])
    expect([plain.code, json.code]).toEqual([0, 0])
    const answer = JSON.parse(json.out) as LocateAnswer
    expect(plain.out).toContain(answer.groups[0].joints[0].joint)
    expect(plain.out).toContain('Lead for inspection')
    expect(plain.out).toContain('not proof of safety')
    expect(plain.out).not.toMatch(/\bsafe\b|NaN|undefined/)
    expect(json.out).not.toContain('not proof of safety')
    expect(answer.badCount.reduce((sum, p) => sum + p, 0)).toBeCloseTo(1, 9)
    expect(answer.basis.recordLength).toBe(
      (JSON.parse(readFileSync(field, 'utf8')) as { record: unknown[] }).record.length,
    )
  })

  it('next says what to read; at most N actions; JSON is the answer alone', () => {
    const plain = runHeadless(['next', field])
    const json = runHeadless(['next', field, '--json', '--top', '1'])
    expect([plain.code, json.code]).toEqual([0, 0])
    const { actions, stop } = JSON.parse(json.out) as NextAnswer
    expect(stop).toBe('goOn')
    expect(actions).toHaveLength(1)
    expect(plain.out).toContain(`Reference clip at ${actions[0].from}, second clip at ${actions[0].to}`)
    expect(plain.out).toContain('not proof of safety')
    expect(plain.out).not.toMatch(/\bsafe\b|NaN|undefined/)
  })

  it('--top leaves groups out and counts them among the others', () => {
    const whole = JSON.parse(runHeadless(['locate', field, '--json']).out) as LocateAnswer
    const answer = JSON.parse(runHeadless(['locate', field, '--json', '--top', '1']).out) as LocateAnswer
    expect(answer.groups).toEqual(whole.groups.slice(0, 1))
    expect(answer.otherProbability).toBeGreaterThan(whole.otherProbability)
    expect(answer.otherProbability).toBeGreaterThanOrEqual(whole.groups[1].probability)
  })

  it('locate without readings has nothing to answer: exit 1', () => {
    const site = JSON.parse(readFileSync(roof, 'utf8')) as { record: { entry: string }[] }
    const text = JSON.stringify({ ...site, record: [] })
    const { code, out, err } = runHeadless(['locate', '-'], text)
    expect({ code, err }).toEqual({ code: 1, err: '' })
    expect(out).toContain('No reading can be counted')
  })

  it('currents: at most N, largest first, summing over the two ends of the pair to one ampere', () => {
    const { code, out } = runHeadless(['currents', roof, 'B1', 'R1/T2/L2.4', '--json'])
    expect(code).toBe(0)
    const answer = JSON.parse(out) as CurrentsAnswer
    expect(answer.currents).toHaveLength(answer.jointsWithCurrent)
    const sizes = answer.currents.map(({ perAmpere }) => Math.abs(perAmpere))
    expect(sizes).toEqual([...sizes].sort((a, b) => b - a))
    const leaving = answer.currents.reduce(
      (sum, { from, to, perAmpere }) => sum + (from === 'B1' ? perAmpere : 0) - (to === 'B1' ? perAmpere : 0),
      0,
    )
    expect(leaving).toBeCloseTo(1, 9)
    const short = runHeadless(['currents', roof, 'B1', 'R1/T2/L2.4', '--top', '2'])
    expect(short.out).toContain(`${answer.jointsWithCurrent - 2} more are not listed`)
  })

  it('what nothing joins is infinite, in words and in JSON', () => {
    const site = JSON.parse(readFileSync(roof, 'utf8')) as {
      drawing: { enclosures: unknown[]; nextIds: { enclosure: number } }
    }
    const id = site.drawing.nextIds.enclosure
    site.drawing.nextIds.enclosure++
    site.drawing.enclosures.push({ id, label: '', atM: { x: 0, y: 0 }, widthM: 1, depthM: 1, bearingDeg: 0 })
    const text = JSON.stringify(site)
    const json = runHeadless(['resistance', '-', 'B1', `E${id}`, '--json'], text)
    expect(JSON.parse(json.out)).toMatchObject({
      path: 'none',
      resistanceOhm: 'infinite',
      expectedOhm: 'infinite',
    })
    const plain = runHeadless(['resistance', '-', 'B1', `E${id}`], text)
    expect(plain).toMatchObject({ code: 0, err: '' })
    expect(plain.out).toMatch(/Median network +no path/)
    expect(plain.out).toContain('neither metal nor soil joins the two')
  })

  it('a US site speaks of ground', () => {
    const text = readFileSync(field, 'utf8').replace('"units":"metric"', '"units":"us"')
    expect(text).toContain('"units":"us"')
    const { out } = runHeadless(['check', '-'], text)
    expect(out).toMatch(/Electrodes and posts share soil/)
  })

  it('no escape sequences where the output is no terminal', () => {
    expect(runHeadless(['check', roof]).out).not.toContain('\u001b')
  })
})

describe('pipes', () => {
  it('a reader that leaves early is no error', () => {
    const { code, out, err } = runShell('prog network "$1" | head -n 1; exit "${PIPESTATUS[0]}"', field)
    expect(err).toBe('')
    expect(out).toMatch(/^address,kind,/)
    expect(code).toBe(0)
  })

  it('a slow reader gets everything', () => {
    const whole = runHeadless(['network', field]).out
    const slow = runShell('prog network "$1" | { sleep 1; wc -c; }', field)
    expect(Number(slow.out)).toBe(Buffer.byteLength(whole))
  })

  it('with nobody to hear what is wrong, the exit code still tells', () => {
    expect(runShell('prog check 2> >(exit 0)').code).toBe(2)
    expect(runShell('prog check "$1/nowhere" 2>&-', roof).code).toBe(2)
  })

  it('nothing on standard input is an empty file', () => {
    const { code, out, err } = runShell('prog check - < /dev/null')
    expect({ code, err }).toEqual({ code: 1, err: '' })
    expect(out).toContain('standard input: The file is empty')
  })

  it('a full disk is told', () => {
    const { code, err } = runShell('prog network "$1" --joints /dev/full', field)
    expect(err).toMatch(/could not be written: the disk is full/)
    expect(code).toBe(2)
  })
})
