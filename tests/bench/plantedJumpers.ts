import { parseArgs } from 'node:util'
import { assert } from '../../src/base/assert.ts'
import { randomStream } from '../../src/base/random.ts'
import { prepareNetwork } from '../../src/network/prepare.ts'
import { soundJoints } from '../generator/assumedValues.ts'
import { drawnNetwork } from '../generator/drawnNetwork.ts'
import { drawAddedOhm } from '../generator/drawTruth.ts'
import { runToEnd } from '../generator/locateIn.ts'
import { benchDrawing, jumpers, rankOf, runTrial } from './plantedTrial.ts'
import { describeFailure, rateRow } from './report.ts'

// Plants each jumper of the demo field in turn, with a new truth and new contacts for every seed, and asks for
// suspects; then does the same with nothing planted. Prints a Markdown table and what went wrong.
//   npm run bench:planted -- --jumpers 1-21 --seeds 20 --healthy 100
//   npm run bench:planted -- --jumpers 22-42 --seeds 20 --healthy 100 --healthy-from 101
//   npm run bench:planted -- --defect raised
const { values } = parseArgs({
  options: {
    jumpers: { type: 'string', default: `1-${jumpers.length}` },
    seeds: { type: 'string', default: '20' },
    'seed-from': { type: 'string', default: '1' },
    healthy: { type: 'string', default: '200' },
    'healthy-from': { type: 'string', default: '1' },
    defect: { type: 'string', default: 'open' },
  },
})

function wholeNumber(text: string): number {
  assert(/^[0-9]+$/.test(text), `${text} is no whole number`)
  return Number(text)
}
const jumperOhm = soundJoints['jumper'].medianOhm
const [first, last = first] = values.jumpers.split('-').map(wholeNumber)
const seeds = wholeNumber(values.seeds)
const seedFrom = wholeNumber(values['seed-from'])
const healthy = wholeNumber(values.healthy)
const healthyFrom = wholeNumber(values['healthy-from'])
const isOpen = values.defect === 'open'
assert(isOpen || values.defect === 'raised', '--defect is open or raised')
assert(first >= 1 && last <= jumpers.length, `the jumpers are 1-${jumpers.length}`)

const prepared = runToEnd(prepareNetwork(drawnNetwork(benchDrawing)))
const startedMs = performance.now()
const counted = { planted: 0, first: 0, firstThree: 0, named: 0, healthy: 0, calledHealthy: 0, accused: 0 }
const failures: string[] = []
/** A raised jumper is the harder to see the less it is raised. */
const stretches = [
  { belowOhm: 0.03, added: 'under 30 mΩ' },
  { belowOhm: 0.1, added: '30 to 100 mΩ' },
  { belowOhm: 1, added: '0.1 to 1 Ω' },
  { belowOhm: 10, added: '1 to 10 Ω' },
  { belowOhm: Infinity, added: 'above 10 Ω' },
].map((stretch) => ({ ...stretch, planted: 0, firstThree: 0 }))

for (let number = first; number <= last; number++) {
  const joint = jumpers[number - 1]
  for (let s = seedFrom; s < seedFrom + seeds; s++) {
    const seed = 1000 * number + s
    const addedOhm = isOpen ? Infinity : drawAddedOhm(randomStream(2_000_000 + seed), jumperOhm)
    const planted = isOpen ? { opened: [joint] } : { raised: [{ joint, addedOhm }] }
    const trial = runTrial(prepared, seed, planted)
    const rank = rankOf(trial.answer, joint)
    counted.planted++
    const stretch = stretches.find(({ belowOhm }) => addedOhm < belowOhm)
    if (stretch) {
      stretch.planted++
      if (rank <= 3) stretch.firstThree++
    }
    if (rank === 1) counted.first++
    if (rank <= 3) counted.firstThree++
    if (trial.answer.headline === 'suspects' && rank === 1) counted.named++
    if (rank > 1)
      failures.push(`${describeFailure(trial, joint, rank)}${isOpen ? '' : `; added ${addedOhm} ohm`}`)
  }
}
for (let s = healthyFrom; s < healthyFrom + healthy; s++) {
  const trial = runTrial(prepared, 1_000_000 + s, {})
  counted.healthy++
  if (trial.answer.headline === 'nothingBroken') counted.calledHealthy++
  else failures.push(describeFailure(trial, null, Infinity))
  if (trial.answer.headline === 'suspects') counted.accused++
}

const what = isOpen ? 'open' : 'raised'
console.log(
  `Jumpers ${first}-${last} ${what}, ${seeds} seeds each from ${seedFrom}; ${healthy} sound fields.\n`,
)
console.log('| what | seen | of | share | 95 % interval |')
console.log('| --- | ---: | ---: | ---: | --- |')
console.log(rateRow(`${what} jumper ranked first`, counted.first, counted.planted))
console.log(rateRow(`${what} jumper among the first three`, counted.firstThree, counted.planted))
console.log(rateRow(`${what} jumper first, and the headline names it`, counted.named, counted.planted))
for (const { added, planted, firstThree } of isOpen ? [] : stretches) {
  console.log(rateRow(`… among the first three, ${added} added`, firstThree, planted))
}
console.log(rateRow('sound field called sound', counted.calledHealthy, counted.healthy))
console.log(rateRow('sound field accused of a bad joint', counted.accused, counted.healthy))
const trials = counted.planted + counted.healthy
console.log(`\n${((performance.now() - startedMs) / Math.max(trials, 1) / 1000).toFixed(2)} s a trial.`)
if (failures.length > 0) console.log(`\nNot first, or not called sound:\n${failures.join('\n')}`)
