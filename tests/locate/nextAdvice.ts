import { assert, present } from '../../src/base/assert.ts'
import type { RandomStream } from '../../src/base/random.ts'
import { locate } from '../../src/locate/locate.ts'
import { emptyLocateCache } from '../../src/locate/locateCache.ts'
import { nextActions } from '../../src/locate/next/next.ts'
import type { NextAction, NextAnswer } from '../../src/model/answers.ts'
import type { Entry, EntryOf } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import type { PreparedNetwork } from '../../src/network/prepare.ts'
import { falseLowRate } from '../generator/assumedValues.ts'
import { drawContact } from '../generator/drawContact.ts'
import type { LeadOffset } from '../generator/drawLead.ts'
import type { Truth } from '../generator/drawTruth.ts'
import { drawUuid } from '../generator/identity.ts'
import type { Instrument } from '../generator/instrument.ts'
import { runToEnd } from '../generator/locateIn.ts'
import { spotOn } from '../generator/spotOn.ts'

/** A visit whose readings go on as they are advised: what is true, and what is drawn with. */
export interface Going {
  readonly truth: Truth
  readonly instrument: Instrument
  readonly offset: LeadOffset
  readonly random: RandomStream
}

/** What is found by looking, drawn with the chances that a look has. */
function look(action: NextAction, bad: string, { random }: Going): 'bad' | 'sound' {
  const joints = action.joints ?? [present(action.joint, 'a look is at a joint')]
  const chance = action.kind === 'look' ? 0.8 : 0.9
  return joints.includes(bad) && random.uniform() < chance ? 'bad' : 'sound'
}

/** The reading that an action asks for, a minute and a half after the last entry. */
function takeReading(site: Site, action: NextAction, going: Going): Entry {
  const { truth, instrument, offset, random } = going
  const last = site.record[site.record.length - 1]
  const like = present(
    site.record.findLast((entry): entry is EntryOf<'reading'> => entry.entry === 'reading'),
    'there is a reading',
  )
  const spots = [present(action.from, 'a first point'), present(action.to, 'a second point')].map(spotOn)
  const isAgain = action.kind === 'repeat'
  const between = random.uniform() < falseLowRate ? 0 : truth.trueResistance(spots[0].part, spots[1].part)
  const contactOhm = drawContact('twoWire', spots, isAgain, random)
  return {
    ...like,
    id: drawUuid(random),
    counter: last.counter + 1,
    at: new Date(Date.parse(last.at) + 90_000).toISOString(),
    from: spots[0],
    to: spots[1],
    result: instrument.read(Math.max(0, between + contactOhm + offset(0.5))),
    repeats: isAgain ? present(action.entry, 'a repeat is of a reading') : null,
    plan: null,
    planPair: null,
    trying: null,
    spikesM: null,
    note: '',
  }
}

export interface Followed {
  readonly readings: number
  readonly minutes: number
  readonly answers: readonly NextAnswer[]
  /** What was found in the end: a joint by looking, or the first group's joints. */
  readonly joints: readonly string[]
  readonly stop: NextAnswer['stop']
}

/**
 * Does what is advised first until the advice is to stop, a look finds something, or `most` things were done. A joint
 * that was looked at in vain is not looked at again: the next best thing is done.
 */
export function follow(
  start: Site,
  prepared: PreparedNetwork,
  bad: string,
  going: Going,
  most: number,
): Followed {
  const cache = emptyLocateCache()
  const answers: NextAnswer[] = []
  const lookedAt = new Set<string>()
  let site = start
  let readings = 0
  let minutes = 0
  for (let done = 0; ; done++) {
    const answer = runToEnd(nextActions(site, prepared, cache))
    answers.push(answer)
    const ended = (joints: readonly string[]) => ({ readings, minutes, answers, joints, stop: answer.stop })
    if (answer.stop !== 'goOn' || done === most) {
      const [first] = runToEnd(locate(site, prepared, cache)).groups
      return ended(first?.joints.map(({ joint }) => joint) ?? [])
    }
    const action = answer.actions.find(({ joint }) => joint === undefined || !lookedAt.has(joint))
    assert(action !== undefined && action.kind !== 'shortLeads', 'there is something else to do')
    minutes += action.minutes
    if (action.joint !== undefined) {
      const joints = action.joints ?? [action.joint]
      if (look(action, bad, going) === 'bad') return ended([bad])
      joints.forEach((joint) => lookedAt.add(joint))
    } else {
      site = { ...site, record: [...site.record, takeReading(site, action, going)] }
      readings++
    }
  }
}
