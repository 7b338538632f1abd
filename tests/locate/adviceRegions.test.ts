import { describe, expect, it } from 'vitest'
import { assert, present } from '../../src/base/assert.ts'
import { randomStream } from '../../src/base/random.ts'
import { nextActions } from '../../src/locate/next/next.ts'
import type { NextAction, NextAnswer } from '../../src/model/answers.ts'
import type { Entry, EntryOf } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { drawTruth, type Truth } from '../generator/drawTruth.ts'
import { roundTo } from '../generator/instrument.ts'
import { spotOn } from '../generator/spotOn.ts'
import { finish, kitA, locateIn, prepare, rowSite, uuid, withReadings } from './rowSite.ts'

/** What two sound clips add to every reading. */
const clipsOhm = 0.003
const mostReadings = 8
const mostActions = 16

const bare = rowSite()
const prepared = prepare(bare)

/** The same rows whichever joints are open: the ohms of all others are drawn alike. */
function rowsWith(opened: readonly string[]): Truth {
  return drawTruth(prepared.network, randomStream(41), { opened })
}

function shown(truth: Truth, from: string, to: string): number {
  return roundTo(kitA.resolutionOhm, truth.trueResistance(from, to) + clipsOhm)
}

/** One reading from the west end of each row to its east end: both high, and any of the jumpers may be why. */
function endsOfRows(truth: Truth): Site {
  const taken = [1, 2].map((row) => {
    const [from, to] = [`R${row}/T1/L1.3`, `R${row}/T6/L1.3`]
    return { from, to, ohm: shown(truth, from, to) }
  })
  return withReadings(bare, taken)
}

/** An entry of the visit, a minute and a half after the last. */
function following({ record }: Site) {
  const last = present(record.at(-1), 'there are entries')
  return {
    id: uuid(500 + record.length),
    device: uuid(3),
    counter: last.counter + 1,
    at: new Date(Date.parse(last.at) + 90_000).toISOString(),
    visit: uuid(10),
  }
}

function added(site: Site, ...entries: readonly Entry[]): Site {
  return { ...site, record: [...site.record, ...entries] }
}

function withAdvised(site: Site, truth: Truth, { kind, from = '', to = '', entry }: NextAction): Site {
  const like = present(
    site.record.findLast((each): each is EntryOf<'reading'> => each.entry === 'reading'),
    'there is a reading',
  )
  return added(site, {
    ...like,
    ...following(site),
    from: spotOn(from),
    to: spotOn(to),
    result: { form: 'ohm', ohm: shown(truth, from, to) },
    repeats: kind === 'repeat' ? present(entry, 'a repeat is of a reading') : null,
  })
}

/** A look with the torque; a joint that is found broken is replaced at once. */
function lookedAt(site: Site, joint: string, isBroken: boolean): Site {
  const looked = added(site, {
    ...following(site),
    entry: 'look',
    joint,
    findings: [isBroken ? 'broken' : 'sound'],
    torqueAskedNm: 12,
    torqueFoundNm: isBroken ? 0 : 12,
    torqueSetNm: null,
    photos: [],
    note: '',
  })
  return isBroken
    ? added(looked, {
        ...following(looked),
        entry: 'repair',
        joint,
        done: 'replaced',
        torqueSetNm: null,
        coating: 'notTouched',
        photos: [],
        by: 'electrician',
        note: '',
      })
    : looked
}

interface Done {
  readonly found: readonly string[]
  /** What was said before each of them was found, and after it was put right. */
  readonly before: readonly NextAnswer[]
  readonly after: readonly NextAnswer[]
  readonly readings: number
  readonly lookedInVain: number
  readonly site: Site
}

/** Does what is advised first, and puts right what that finds, until every open joint was found. */
function follow(opened: readonly string[]): Done {
  const open = new Set(opened)
  const [found, before, after]: [string[], NextAnswer[], NextAnswer[]] = [[], [], []]
  let truth = rowsWith(opened)
  let site = endsOfRows(truth)
  let readings = 0
  let lookedInVain = 0
  let answer = finish(nextActions(site, prepared))
  for (let done = 0; open.size > 0 && done < mostActions && answer.actions.length > 0; done++) {
    const [action] = answer.actions
    assert(action.kind !== 'shortLeads', 'leads that were nulled this morning are not in doubt')
    if (action.joint === undefined) {
      site = withAdvised(site, truth, action)
      readings++
    }
    const joints = action.joint === undefined ? [] : (action.joints ?? [action.joint])
    for (const joint of joints) site = lookedAt(site, joint, open.has(joint))
    const broken = joints.filter((joint) => open.delete(joint))
    if (joints.length > broken.length) lookedInVain++
    if (broken.length > 0) {
      truth = rowsWith([...open])
      found.push(...broken)
      before.push(answer)
    }
    answer = finish(nextActions(site, prepared))
    if (broken.length > 0) after.push(answer)
  }
  return { found, before, after, readings, lookedInVain, site }
}

describe('following the advice on two rows with an open jumper each', () => {
  it.each([
    ['R2/T1+T2~1', 'R1/T5+T6~1'],
    ['R1/T1+T2~1', 'R2/T3+T4~1'],
  ])('finds %s, goes on when it is put right, and finds %s', (first, second) => {
    const both = locateIn(endsOfRows(rowsWith([first, second])))
    expect(both.headline).toBe('undecided')
    expect(both.groups[0].jointCount).toBeGreaterThan(1)

    const { found, before, after, readings, lookedInVain, site } = follow([first, second])
    expect(found).toEqual([first, second])
    expect(readings).toBeGreaterThan(2)
    expect(readings).toBeLessThanOrEqual(mostReadings)
    expect(lookedInVain).toBeLessThanOrEqual(2)
    // it is as good as certain when the crew is sent to look
    expect(before.map(({ stop, actions }) => [stop, actions[0].kind])).toEqual([
      ['foundIt', 'look'],
      ['foundIt', 'look'],
    ])

    const [afterFirst, afterBoth] = after
    expect(afterFirst.stop).toBe('goOn')
    expect(afterFirst.entropyBits).toBeGreaterThan(1)
    expect(afterFirst.actions[0].kind).toBe('pair')
    const row = second.slice(0, 3)
    const toldOf = afterFirst.actions[0].outcomes.flatMap(({ joints }) => joints)
    expect(toldOf.filter((joint) => joint.startsWith(row)).length).toBeGreaterThan(1)
    expect(toldOf).not.toContain(first)
    expect(afterBoth).toMatchObject({ stop: 'nothingWorthIt', actions: [] })
    expect(locateIn(site).headline).toBe('nothingBroken')
  })
})
