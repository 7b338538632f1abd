import { parseArgs } from 'node:util'
import { drawScenario } from '../generator/drawScenario.ts'
import { families } from '../generator/families.ts'
import { seedOf } from '../generator/seeds.ts'
import { meanInterval } from '../scores/interval.ts'
import { targetOf } from '../scores/target.ts'
import { typedSite } from '../typedSite.ts'
import { follow, type Found } from './follow.ts'
import { advised, halfSplitting, nearestHighest } from './policies.ts'

// How many readings, minutes and metres it takes to come to a bad joint, by the program's advice and by two other
// ways; arrays with one bad joint that a first test could show.
//   node .ci/script.mjs tests/bench/locating/sequential/main.ts --minutes 5 --set dev
const { values } = parseArgs({
  options: { minutes: { type: 'string', default: '10' }, set: { type: 'string', default: 'test' } },
})
const set = values.set === 'dev' ? 'dev' : 'test'
const endMs = performance.now() + 60_000 * Number(values.minutes)
const found = new Map<string, Found[]>()
let arrays = 0
for (let k = 0; k < 1000 && performance.now() < endMs; k++) {
  for (const family of families) {
    if (performance.now() >= endMs || family.withLoopClamp) continue
    const scenario = drawScenario(family, seedOf(set, family, k))
    if (scenario.faults.length !== 1) continue
    if (targetOf(scenario, typedSite(scenario.site)).visible.length !== 1) continue
    arrays++
    for (const policy of [advised, halfSplitting, nearestHighest].map((make) => make(scenario.pairs))) {
      found.set(policy.name, [...(found.get(policy.name) ?? []), follow(scenario, policy)])
    }
  }
}
console.log(`${arrays} arrays of the ${set} seeds with one bad joint that can be seen.\n`)
console.log('| way | found | readings | minutes | metres | vain looks |')
console.log('| --- | ---: | ---: | ---: | ---: | ---: |')
const figure = (values: readonly number[]) => {
  const { value, low, high } = meanInterval(values)
  return `${value.toFixed(1)} (${low.toFixed(1)} to ${high.toFixed(1)})`
}
for (const [name, runs] of found) {
  const cells = [
    name,
    `${runs.filter((run) => run.found).length} of ${runs.length}`,
    figure(runs.map(({ readings }) => readings)),
    figure(runs.map(({ minutes }) => minutes)),
    figure(runs.map(({ metres }) => metres)),
    figure(runs.map(({ vainLooks }) => vainLooks)),
  ]
  console.log(`| ${cells.join(' | ')} |`)
}
