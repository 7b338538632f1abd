import { wilsonInterval } from '../wilson.ts'
import { table } from '../locating/markdown.ts'
import { otherNames } from './otherPlans.ts'
import {
  askedOf,
  type BreakFigure,
  type Hits,
  type PatternFigures,
  type PlanFigures,
  type Shows,
} from './planFigures.ts'

const percent = (part: number, whole: number) =>
  whole === 0 ? '–' : `${((100 * part) / whole).toFixed(part === whole ? 0 : 1)} %`
const ratio = (value: number, bound: number) => (bound === 0 ? '–' : (value / bound).toFixed(3))
const count = (value: number) => Math.round(value).toLocaleString('en-GB').replace(/,/g, ' ')

const secondsText = (seconds: number) => seconds.toFixed(seconds < 10 ? 1 : 0)

/** Pairs, walk and seconds against what they are held to. */
export function boundTable(rows: readonly PlanFigures[]): string {
  return table(
    [
      'site',
      'asked for',
      'joints',
      'candidates',
      'pairs',
      'bound',
      'ratio',
      'by',
      'walk, m',
      'ratio',
      'set-ups',
      'minutes',
      'seconds',
      'of the processor',
      'MB',
    ],
    rows.map(({ site, asked, joints, candidates, plan }) => [
      site,
      askedOf[asked].title,
      count(joints),
      count(candidates),
      count(plan.pairs),
      plan.bound ? count(plan.bound.pairs) : '–',
      plan.bound ? ratio(plan.pairs, plan.bound.pairs) : '–',
      plan.bound?.by ?? '–',
      count(plan.wayM),
      ratio(plan.wayM, plan.wayBoundM),
      count(plan.setUps),
      count(plan.minutes),
      secondsText(plan.seconds),
      secondsText(plan.cpuSeconds),
      count(plan.mostMB),
    ]),
  )
}

/** What is seen and told apart of what could be, beside other plans of the same size. */
export function sightTable(rows: readonly PlanFigures[]): string {
  const cells = ({ seen, toldApart, minutes }: Shows, { attainable }: PlanFigures) =>
    `${percent(seen, attainable.seen)} / ${attainable.toldApart === null ? count(toldApart) : percent(toldApart, attainable.toldApart)} / ${count(minutes)}`
  return table(
    ['site', 'asked for', 'can be seen', 'told apart', 'known by', 'pairs', 'proposed', ...otherNames],
    rows.map((row) => [
      row.site,
      askedOf[row.asked].title,
      count(row.attainable.seen),
      row.attainable.toldApart === null ? 'not known' : count(row.attainable.toldApart),
      row.attainable.by === 'allPairs' ? 'all pairs' : 'own ends',
      count(row.plan.pairs),
      cells(row.plan, row),
      ...otherNames.map((name) => cells(row.others[name], row)),
    ]),
  )
}

function hitText(hits: Hits | undefined): string {
  if (!hits || hits.tries === 0) return '–'
  const { low, high } = wilsonInterval(hits.hits, hits.tries)
  return `${percent(hits.hits, hits.tries)} (${(100 * low).toFixed(0)}–${(100 * high).toFixed(0)})`
}

const plans = ['plan', ...otherNames] as const

/** How often the group of a joint that was opened is first, by the readings of each plan. */
export function hitTable(rows: readonly PlanFigures[]): string {
  const tried = rows.filter(({ hits }) => (hits.plan?.tries ?? 0) > 0)
  const lines = tried.map((row) => [
    row.site,
    askedOf[row.asked].title,
    count(row.plan.pairs),
    count(row.hits.plan?.tries ?? 0),
    ...plans.map((name) => hitText(row.hits[name])),
  ])
  const sums = (['telling', 'showing', 'twice'] as const).flatMap((asked) => {
    const of = tried.filter((row) => row.asked === asked)
    const sum = (name: (typeof plans)[number]) => ({
      hits: of.reduce((total, { hits }) => total + (hits[name]?.hits ?? 0), 0),
      tries: of.reduce((total, { hits }) => total + (hits[name]?.tries ?? 0), 0),
    })
    return of.length < 2
      ? []
      : [
          [
            '**all**',
            askedOf[asked].title,
            '',
            count(sum('plan').tries),
            ...plans.map((name) => hitText(sum(name))),
          ],
        ]
  })
  return table(['site', 'asked for', 'pairs', 'breaks', 'proposed', ...otherNames], [...lines, ...sums])
}

export function patternTable(rows: readonly PatternFigures[]): string {
  return table(
    ['site', 'pattern', 'pairs', 'seen', 'seen twice', 'told apart', 'set-ups', 'walk, m', 'minutes'],
    rows.map(({ site, pattern, attainableSeen, shows }) => [
      site,
      pattern,
      count(shows.pairs),
      `${count(shows.seen)} (${percent(shows.seen, attainableSeen)})`,
      count(shows.twice),
      count(shows.toldApart),
      count(shows.setUps),
      count(shows.wayM),
      count(shows.minutes),
    ]),
  )
}

/** The breaks of the field, each planted in turn. */
export function breakTable(rows: readonly BreakFigure[]): string {
  const keyOf = ({ site, asked, severity, noise }: BreakFigure) => [site, asked, severity, noise].join('|')
  const keys = [...new Set(rows.map(keyOf))].toSorted()
  return table(
    [
      'site',
      'plan',
      'planted',
      'noise',
      'breaks',
      'right group first',
      '95 % interval',
      'among the first three',
      'not among the groups',
    ],
    keys.map((key) => {
      const of = rows.filter((row) => keyOf(row) === key)
      const [{ site, asked, severity, noise }] = of
      const within = (most: number) => of.filter(({ rank }) => rank !== null && rank <= most).length
      const { low, high } = wilsonInterval(within(1), of.length)
      return [
        site,
        askedOf[asked].title,
        severity === 'open' ? 'open' : 'raised ×100',
        noise,
        count(of.length),
        `${count(within(1))} (${percent(within(1), of.length)})`,
        `${(100 * low).toFixed(1)}–${(100 * high).toFixed(1)} %`,
        percent(within(3), of.length),
        count(of.filter(({ rank }) => rank === null).length),
      ]
    }),
  )
}
