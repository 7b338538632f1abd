import { expect, it } from 'vitest'
import type { FaultDrive } from '../../src/model/faultAnswers.ts'
import { basisOf } from '../../src/engine/basis.ts'
import type { FromWorker, ToWorker } from '../../src/engine/protocol.ts'
import type { RequestName, Requests } from '../../src/engine/requests.ts'
import { workerCore } from '../../src/engine/workerCore.ts'
import { smallSite } from './smallSite.ts'

const drive: FaultDrive = {
  form: 'ac',
  source: {
    id: 'mains',
    form: 'ac',
    name: 'Mains',
    phaseV: 230,
    frequencyHz: 50,
    sourceOhm: 0.4,
    returnPart: 'E1',
  },
  conductorOhm: 0.25,
}
const network = { countIncidental: true, asBuilt: false }
const fault = { ...network, at: 'E3', drive, altered: [], person: null }
const plan: Requests['plan'][0] = {
  ...network,
  kit: null,
  lead: null,
  severity: 'open',
  required: [],
  how: 'proposed',
  tellApart: 0,
  timesShown: 1,
  mostMinutes: null,
  persons: 1,
}

it('what somebody presses a button for and has within seconds goes before a ranking and a plan', () => {
  const site = smallSite()
  const waiting: (() => void)[] = []
  const said: FromWorker[] = []
  const hear = workerCore({
    now: () => performance.now(),
    later: (turn) => waiting.push(turn),
    post: (message) => said.push(message),
  })
  hear({ kind: 'site', change: { form: 'whole', site } })
  const asked: RequestName[] = []
  const ask = <N extends RequestName>(name: N, input: Requests[N][0]) => {
    hear({ kind: 'ask', id: asked.push(name) - 1, name, input, basis: basisOf(site) } as ToWorker)
  }
  ask('plan', plan)
  ask('locate', network)
  ask('check', network)
  ask('faultSweep', { ...fault, watched: [] })
  ask('groundVolts', { ...fault, fromM: { x: 0, y: 0 }, stepM: 1, across: 4, high: 4, blurM: 0 })
  while (waiting.length > 0) waiting.shift()!()
  const done = said.flatMap((message) => (message.kind === 'done' ? [asked[message.id]] : []))
  expect(done).toHaveLength(asked.length)
  expect(done.slice(0, 2)).toEqual(['faultSweep', 'groundVolts'])
  expect(done.at(-1)).toBe('plan')
})
