import { expect, it } from 'vitest'
import { basisOf } from '../../src/engine/basis.ts'
import type { FromWorker, ToWorker } from '../../src/engine/protocol.ts'
import type { RequestName, Requests } from '../../src/engine/requests.ts'
import { workerCore } from '../../src/engine/workerCore.ts'
import { asked, site } from './askFault.ts'

const network = { countIncidental: true, asBuilt: false }
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
  const waiting: (() => void)[] = []
  const said: FromWorker[] = []
  const hear = workerCore({
    now: () => performance.now(),
    later: (turn) => waiting.push(turn),
    post: (message) => said.push(message),
  })
  hear({ kind: 'site', change: { form: 'whole', site } })
  const names: RequestName[] = []
  const ask = <N extends RequestName>(name: N, input: Requests[N][0]) => {
    hear({ kind: 'ask', id: names.push(name) - 1, name, input, basis: basisOf(site) } as ToWorker)
  }
  ask('plan', plan)
  ask('locate', network)
  ask('check', network)
  ask('faultSweep', { ...asked, watched: [] })
  ask('groundVolts', { ...asked, fromM: { x: 0, y: 0 }, stepM: 1, across: 4, high: 4, blurM: 0 })
  while (waiting.length > 0) waiting.shift()!()
  const done = said.flatMap((message) => (message.kind === 'done' ? [names[message.id]] : []))
  expect(done).toHaveLength(names.length)
  expect(done.slice(0, 2)).toEqual(['faultSweep', 'groundVolts'])
  expect(done.at(-1)).toBe('plan')
})
