import { methodNames, type MethodName } from './evaluate.ts'
import { calibrationOf, logScoreLess, methodFigures, regretOf, sureOf } from './figures.ts'
import { figureText, percent, shareText, table } from './markdown.ts'
import type { Row } from './results.ts'

function byFamily(rows: readonly Row[]): Map<string, Row[]> {
  const families = new Map<string, Row[]>()
  for (const row of rows) families.set(row.family, [...(families.get(row.family) ?? []), row])
  return new Map([...families].sort(([a], [b]) => order(rows, a) - order(rows, b)))
}

const order = (rows: readonly Row[], family: string) =>
  Math.min(...rows.filter((row) => row.family === family).map(({ seed }) => seed))

/** Methods that any of these scenarios was given to. */
function methodsOf(rows: readonly Row[]): MethodName[] {
  const all = Object.keys(methodNames) as MethodName[]
  return all.filter((method) => rows.some(({ methods }) => method in methods))
}

/** What the program finds, family by family. */
function programTable(rows: readonly Row[]): string {
  const lines = [...byFamily(rows), ['all', rows] as const].map(([family, part]) => {
    const f = methodFigures(part, 'engine')
    return [
      family,
      String(f.scenarios),
      shareText(f.first),
      shareText(f.firstThree),
      shareText(f.firstOverall),
      shareText(f.healthy),
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
  const methods = methodsOf(rows)
  const lines = [...byFamily(rows), ['all', rows] as const].map(([family, part]) => [
    family,
    ...methods.map((method) => {
      const f = methodFigures(part, method)
      return f.scenarios === 0 ? 'none' : figureText(f.logScore)
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
        figureText(regret),
        `${figureText(ofOne)}; ${ofOne.scenarios}`,
        figureText(told),
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
  const lines = methodsOf(rows).map((method) => {
    const f = methodFigures(rows, method)
    return [
      methodNames[method],
      String(f.scenarios),
      shareText(f.first),
      percent(f.firstLook.value) + ' %',
      f.groupSize.toFixed(1),
      shareText(f.healthy),
      figureText(f.logScoreOfOne),
      method === 'engine' ? '' : figureText(logScoreLess(rows, method, 'engine')),
      figureText(f.brier, 3),
    ]
  })
  return table(
    [
      'method',
      'scenarios',
      'first group',
      'first joint looked at',
      'joints in the first group',
      'nothing to see, called sound',
      'log score, one to see at most',
      'log score less this program’s, same scenarios',
      'Brier score',
    ],
    lines,
  )
}

function calibrationTable(rows: readonly Row[]): string {
  const lines = methodsOf(rows).map((method) => {
    const f = methodFigures(rows, method)
    const sure = sureOf(rows, method, 0.95, 'seen')
    return [
      methodNames[method],
      String(f.states),
      figureText(calibrationOf(rows, method), 3),
      `${percent(f.setMass.value)} %`,
      `${percent(f.setMass.value + f.setExcess.value)} % (${percent(f.setExcess.low)} to ${percent(f.setExcess.high)} points off)`,
      sure.right.tries === 0 ? 'none' : `${shareText(sure.right)}, stated ${percent(sure.stated)} %`,
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

const digMinutes = 120

/** First groups that are called as good as certain, so that what is buried would be dug out. */
function digTable(rows: readonly Row[]): string {
  const lines = methodsOf(rows).flatMap((method) => {
    const { right, stated } = sureOf(rows, method, 0.99, 'any')
    const { scenarios } = methodFigures(rows, method)
    if (right.tries === 0) return []
    const wrong = right.tries - right.hits
    return [
      [
        methodNames[method],
        String(right.tries),
        `${percent(1 - stated)} %`,
        `${percent(wrong / right.tries)} % (${percent(1 - right.high)} to ${percent(1 - right.low)}; ${wrong})`,
        ((digMinutes * wrong) / scenarios).toFixed(2),
      ],
    ]
  })
  return table(
    ['method', 'first groups ≥ 99 %', 'wrong: stated', 'wrong: was', 'minutes lost per array'],
    lines,
  )
}

/** Tables of the scenarios of the families, as Markdown by the name of their marks in the document. */
export function reportTables(rows: readonly Row[]): Readonly<Record<string, string>> {
  if (rows.length === 0) return {}
  return {
    program: programTable(rows),
    logScores: logScoreTable(rows),
    regret: regretTable(rows),
    methods: methodTable(rows),
    calibration: calibrationTable(rows),
    digs: digTable(rows),
  }
}
