import type { PlanPairInput, SampleInput } from '../../model/planning.ts'
import { fail, ok, type Result } from '../../base/result.ts'
import { problem, type Problem } from '../../model/problem.ts'
import { openNameBook } from '../../text/places.ts'
import { describeSample } from '../../text/sampleText.ts'
import { quoted } from '../../text/where.ts'
import { ask } from '../ask.ts'
import { done, failed, usageOf, type Call, type Command, type Outcome } from '../command.ts'
import { jsonOption, networkInput, networkOptions } from '../commonOptions.ts'
import { toJson } from '../json.ts'
import { Page } from '../page.ts'
import { writeCaution } from '../pageEnd.ts'
import { readSite } from '../readSite.ts'

export const sample: Command = {
  name: 'sample',
  summary: 'How many to test where not all can be, which ones by lot, and what follows a failure.',
  operands: ['FILE', 'LOT'],
  options: [
    { name: 'bad', value: 'PERCENT', help: 'less than this share is to be bad; 5 where left out' },
    { name: 'confidence', value: 'PERCENT', help: 'how sure of it; 95 where left out' },
    { name: 'failures', value: 'N', help: 'so many failures still pass; 0 where left out' },
    { name: 'per-table', value: 'N', help: 'draw tables, then N of each; one by one where left out' },
    {
      name: 'correlation',
      value: 'R',
      help: 'how alike two of a table are in being bad, 0 to 1; 0.1 where left out',
    },
    { name: 'seed', value: 'N', help: 'what the draw begins from; 1 where left out' },
    { name: 'failed', value: 'PAIRS', help: 'pairs that failed: FROM:TO, with commas between them' },
    ...networkOptions,
    jsonOption,
  ],
  run: runSample,
}

/** How far joints of one table share a crew, a day and a batch: judgement, low confidence. */
const usualCorrelation = 0.1

async function runSample({ operands: [file, lot], options, io }: Call): Promise<Outcome> {
  const read = readInput(options)
  if (!read.ok) return failed([read.error])
  const site = await readSite(file, io.input)
  if (!site.ok) return failed(site.error)
  const isPlan = site.value.drawing.plans.some(({ id }) => id === lot)
  const of = isPlan ? { of: 'plan' as const, plan: lot } : { of: 'kind' as const, kind: lot }
  const answered = ask('sample', { ...read.value, lot: of }, site.value, file)
  if (!answered.ok) return failed(answered.error)
  const page = new Page(io.style)
  if (!options.has('json')) {
    page.sections(describeSample(answered.value, openNameBook(site.value.drawing)))
    writeCaution(page)
  }
  await io.out.write(options.has('json') ? `${toJson(answered.value, 2)}\n` : page.toString())
  return done
}

function readInput(options: Call['options']): Result<Omit<SampleInput, 'lot'>, Problem> {
  const wrong = (reason: string) => fail(problem('command.usage', { usage: usageOf(sample), reason }))
  const numbers = new Map<string, number>()
  for (const name of ['bad', 'confidence', 'failures', 'per-table', 'correlation', 'seed']) {
    const text = options.get(name)
    if (typeof text !== 'string') continue
    if (!/^[0-9]+(\.[0-9]+)?$/.test(text)) return wrong(`--${name} takes a number, not ${quoted(text)}`)
    numbers.set(name, Number(text))
  }
  const pairs = readPairs(options.get('failed'))
  if (!pairs) return wrong(`--failed takes pairs as FROM:TO, not ${quoted(String(options.get('failed')))}`)
  return ok({
    ...networkInput(options),
    mostBadShare: (numbers.get('bad') ?? 5) / 100,
    confidence: (numbers.get('confidence') ?? 95) / 100,
    failuresAllowed: numbers.get('failures') ?? 0,
    perTable: numbers.get('per-table') ?? null,
    correlation: numbers.get('correlation') ?? usualCorrelation,
    seed: numbers.get('seed') ?? 1,
    failed: pairs,
  })
}

/** No address has a comma or a colon in it. */
function readPairs(text: string | true | undefined): readonly PlanPairInput[] | null {
  if (typeof text !== 'string') return []
  const pairs = text.split(',').map((pair) => pair.trim().split(':'))
  if (pairs.some((ends) => ends.length !== 2 || ends.some((end) => end === ''))) return null
  return pairs.map(([from, to]) => ({ from, to }))
}
