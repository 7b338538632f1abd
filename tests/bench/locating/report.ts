import { methodNames, type MethodName } from './evaluate.ts'
import { methodFigures, regretOf, type Share } from './figures.ts'
import type { Row } from './results.ts'
import type { Interval } from './scores/interval.ts'

const percent = (value: number) => (100 * value).toFixed(1)

function share({ hits, tries, low, high }: Share): string {
  if (tries === 0) return 'none'
  return `${percent(hits / tries)} % (${percent(low)} to ${percent(high)}; ${hits} of ${tries})`
}

const figure = ({ value, low, high }: Interval, digits = 2) =>
  `${value.toFixed(digits)} (${low.toFixed(digits)} to ${high.toFixed(digits)})`

function table(head: readonly string[], lines: readonly (readonly string[])[]): string {
  const rule = head.map((_, k) => (k === 0 ? '---' : '---:'))
  return [head, rule, ...lines].map((cells) => `| ${cells.join(' | ')} |`).join('\n')
}

function byFamily(rows: readonly Row[]): Map<string, Row[]> {
  const families = new Map<string, Row[]>()
  for (const row of rows) families.set(row.family, [...(families.get(row.family) ?? []), row])
  return new Map([...families].sort(([a], [b]) => order(rows, a) - order(rows, b)))
}

const order = (rows: readonly Row[], family: string) =>
  Math.min(...rows.filter((row) => row.family === family).map(({ seed }) => seed))

/** What the program finds, family by family. */
function programTable(rows: readonly Row[]): string {
  const lines = [...byFamily(rows), ['all', rows] as const].map(([family, part]) => {
    const f = methodFigures(part, 'engine')
    return [
      family,
      String(f.scenarios),
      share(f.first),
      share(f.firstThree),
      share(f.firstOverall),
      share(f.healthy),
    ]
  })
  return table(
    [
      'family',
      'scenarios',
      'first group',
      'first three',
      'first group, seen or not',
      'nothing to see, called sound',
    ],
    lines,
  )
}

function logScoreTable(rows: readonly Row[]): string {
  const methods = Object.keys(methodNames) as MethodName[]
  const lines = [...byFamily(rows), ['all', rows] as const].map(([family, part]) => [
    family,
    ...methods.map((method) => {
      const f = methodFigures(part, method)
      return f.scenarios === 0 ? 'none' : figure(f.logScore)
    }),
  ])
  return table(['family', ...methods.map((method) => methodNames[method])], lines)
}

function regretTable(rows: readonly Row[]): string {
  const lines = [...byFamily(rows), ['all', rows] as const].flatMap(([family, part]) => {
    const regret = regretOf(part, 'engine')
    if (regret.scenarios === 0) return []
    const ofOne = regretOf(
      part.filter(({ visible }) => visible <= 1),
      'engine',
    )
    const told = regretOf(part, 'engineTold')
    const errors = part.flatMap(({ ceilingError }) => (ceilingError === null ? [] : [ceilingError]))
    const sampling = Math.sqrt(errors.reduce((sum, e) => sum + e * e, 0)) / errors.length
    const noisy = errors.filter((error) => error > 0.15).length
    return [
      [
        family,
        String(regret.scenarios),
        figure(regret),
        `${figure(ofOne)}; ${ofOne.scenarios}`,
        figure(told),
        sampling.toFixed(3),
        String(noisy),
      ],
    ]
  })
  return table(
    [
      'family',
      'scenarios',
      'regret',
      'one bad joint to see at most; scenarios',
      'told how many to expect',
      'sampling error of the ceiling’s mean',
      'scenarios with more than 0.15',
    ],
    lines,
  )
}

function methodTable(rows: readonly Row[]): string {
  const lines = (Object.keys(methodNames) as MethodName[]).map((method) => {
    const f = methodFigures(rows, method)
    return [
      methodNames[method],
      share(f.first),
      percent(f.firstLook.value) + ' %',
      f.groupSize.toFixed(1),
      share(f.healthy),
      figure(f.logScoreOfOne),
      figure(f.brier, 3),
    ]
  })
  return table(
    [
      'method',
      'first group',
      'first joint looked at',
      'joints in the first group',
      'nothing to see, called sound',
      'log score, one to see at most',
      'Brier score',
    ],
    lines,
  )
}

function calibrationTable(rows: readonly Row[]): string {
  const lines = (Object.keys(methodNames) as MethodName[]).map((method) => {
    const f = methodFigures(rows, method)
    return [
      methodNames[method],
      String(f.states),
      figure(f.calibration, 3),
      `${percent(f.setMass.value)} %`,
      `${percent(f.setMass.value + f.setExcess.value)} % (${percent(f.setExcess.low)} to ${percent(f.setExcess.high)} points off)`,
      f.sure.tries === 0 ? 'none' : `${share(f.sure)}, stated ${percent(f.sureStated)} %`,
    ]
  })
  return table(
    [
      'method',
      'states',
      'calibration error',
      '90 % sets: stated',
      '90 % sets: held',
      'sure of a group (≥ 95 %): right',
    ],
    lines,
  )
}

function conditionsTable(rows: readonly Row[]): string {
  const parts: (readonly [string, readonly Row[]])[] = [
    ...[1, 2, 3, 4].map((c) => [`${c} clamps a frame`, rows.filter((r) => r.clampsPerFrame === c)] as const),
    ['posts in soil', rows.filter((r) => r.inSoil)],
    ['no soil but the rod', rows.filter((r) => !r.inSoil)],
    ...[0, 1, 2, 3].map((v) => [`${v} bad joints to see`, rows.filter((r) => r.visible === v)] as const),
  ]
  const lines = parts
    .filter(([, part]) => part.length > 0)
    .map(([name, part]) => {
      const f = methodFigures(part, 'engine')
      return [
        name,
        String(f.scenarios),
        share(f.first),
        share(f.healthy),
        figure(f.logScore),
        figure(f.calibration, 3),
      ]
    })
  return table(
    [
      'condition',
      'scenarios',
      'first group',
      'nothing to see, called sound',
      'log score',
      'calibration error',
    ],
    lines,
  )
}

export interface RunFacts {
  readonly testSeedHash: string
  readonly program: string
  readonly set: string
  readonly load: number
}

/** All tables of a run, as Markdown by the name of their marks in the document. */
export function reportTables(rows: readonly Row[], facts: RunFacts): Readonly<Record<string, string>> {
  const seconds = rows.reduce((sum, row) => sum + row.seconds, 0)
  const visible = rows.filter(({ visible: v }) => v > 0).length
  const commits = [...new Set(rows.map(({ commit }) => commit))].join(', ')
  return {
    run: [
      `${rows.length} scenarios of the ${facts.set} seeds in ${(seconds / 60).toFixed(0)} minutes; ` +
        `${visible} with a bad joint that could be seen, ` +
        `${rows.filter((r) => r.faults > 0 && r.visible === 0).length} with none but hidden ones, ` +
        `${rows.filter((r) => r.faults === 0).length} with nothing bad. ` +
        `The ceiling was computed for ${rows.filter((r) => r.ceilingError !== null).length} of them.`,
      `Program: commit ${commits}, digest \`${facts.program}\`. List of test seeds: SHA-256 \`${facts.testSeedHash}\`.`,
      `Load of the machine, average of a minute at the time of writing: ${facts.load.toFixed(1)} on two cores; times play no part in the figures.`,
    ].join('\n'),
    program: programTable(rows),
    logScores: logScoreTable(rows),
    regret: regretTable(rows),
    methods: methodTable(rows),
    calibration: calibrationTable(rows),
    conditions: conditionsTable(rows),
  }
}

/** Puts texts between their marks; a document without a mark is a mistake. */
export function betweenMarks(text: string, tables: Readonly<Record<string, string>>): string {
  let out = text
  for (const [name, body] of Object.entries(tables)) {
    const [open, close] = [`<!-- locating ${name} -->`, `<!-- /locating ${name} -->`]
    const [from, to] = [out.indexOf(open), out.indexOf(close)]
    if (from < 0 || to < from) throw new Error(`no mark for ${name}`)
    out = `${out.slice(0, from + open.length)}\n\n${body}\n\n${out.slice(to)}`
  }
  return out
}
