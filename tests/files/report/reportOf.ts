import { readFileSync } from 'node:fs'
import { finish } from '../../../src/engine/progress.ts'
import { run } from '../../../src/engine/run.ts'
import { emptySiteCache } from '../../../src/engine/siteCache.ts'
import { openSite } from '../../../src/files/openSite.ts'
import { reportData } from '../../../src/files/report/reportData.ts'
import type { ReportBlock, ReportSection } from '../../../src/files/report/reportBlocks.ts'
import { reportSections } from '../../../src/files/report/reportSections.ts'
import type { ReportData, ReportInput } from '../../../src/files/report/reportTypes.ts'
import { siteOfVisits } from '../../../src/files/report/siteOfVisits.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { reportParts } from '../../../src/text/reportText.ts'

export function demoSite(name: 'field' | 'roof' | 'tracker'): Site {
  const bytes = readFileSync(new URL(`../../../demo-data/${name}.json`, import.meta.url))
  const opened = openSite(bytes, `${name}.json`)
  if (!opened.ok) throw new Error(`the ${name} demo does not open`)
  return opened.value
}

export const visitsOf = (site: Site): readonly string[] =>
  site.record.flatMap(({ entry, id }) => (entry === 'visit' ? [id] : []))

const asFound = { countIncidental: true, asBuilt: true }

type Answers = Pick<ReportInput, 'locate' | 'judge' | 'comparison'>
const known = new WeakMap<Site, Answers>()

/** The answers of some visits, as the page asks for them; worked out once for a site. */
export function answersOf(site: Site, visits: readonly string[] = visitsOf(site)): Answers {
  const chosen = siteOfVisits(site, visits)
  const answers = known.get(chosen) ?? workOut(chosen)
  known.set(chosen, answers)
  return answers
}

function workOut(chosen: Site): Answers {
  const cache = emptySiteCache()
  const locate = finish(run('locate', asFound, chosen, cache))
  const judge = finish(run('judge', asFound, chosen, cache))
  const comparison = finish(run('compare', asFound, chosen, cache))
  if (!locate.ok || !judge.ok || !comparison.ok) throw new Error('the engine has no answer')
  return { locate: locate.value, judge: judge.value, comparison: comparison.value }
}

export function reportOf(site: Site, visits: readonly string[] = visitsOf(site)): ReportData {
  return reportData({ site, visits, ...answersOf(site, visits), madeAt: '2026-11-29T09:00:00Z' })
}

export function sectionsOf(data: ReportData): readonly ReportSection[] {
  const job = reportSections(data, reportParts)
  let step = job.next()
  while (!step.done) step = job.next()
  return step.value
}

/** Every text of a block, in its order. */
export function textsOf(block: ReportBlock): readonly string[] {
  switch (block.form) {
    case 'heading':
      return [block.text]
    case 'lines':
      return block.lines.map(({ text }) => text)
    case 'facts':
      return block.facts.flatMap(({ term, value }) => [term, value])
    case 'table':
      return [
        block.caption,
        ...block.columns.map(({ title }) => title),
        ...block.rows.flatMap(({ cells }) => cells),
      ]
    case 'plot':
      return [block.title, block.said, block.key]
    case 'maps':
      return []
    case 'signing':
      return block.roles
  }
}
