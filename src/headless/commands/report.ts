import { createHash } from 'node:crypto'

import { reportData } from '../../files/report/reportData.ts'
import { reportHtml } from '../../files/report/reportHtml.ts'
import { reportHead, reportSections } from '../../files/report/reportSections.ts'
import { siteOfVisits } from '../../files/report/siteOfVisits.ts'
import { asFound } from '../commonOptions.ts'
import { reportParts } from '../../text/reportText.ts'
import { printable } from '../../text/where.ts'
import { ask } from '../ask.ts'
import { chosenVisit, visitOption, visitsOf } from '../chosenVisits.ts'
import { failed, type Call, type Command, type Outcome } from '../command.ts'
import { readSite } from '../readSite.ts'
import { toEnd } from '../toEnd.ts'
import { writeTo } from '../toPlace.ts'

export const report: Command = {
  name: 'report',
  summary: 'Write the report of the visits as one page of HTML that prints anywhere, without the map.',
  operands: ['FILE'],
  options: [
    visitOption,
    { name: 'out', value: 'FILE.html', help: 'write it there instead of on standard output' },
  ],
  run: runReport,
}

const sha256 = (text: string) => createHash('sha256').update(text).digest('hex')

/** Joints are counted as on the screen: bare contact and what was found otherwise than drawn included. */
async function runReport({ operands: [file], options, io }: Call): Promise<Outcome> {
  const read = await readSite(file, io.input)
  if (!read.ok) return failed(read.error)
  const site = read.value
  const visit = chosenVisit(report, options, site)
  if (!visit.ok) return failed([visit.error])
  const visits = (visit.value ? [visit.value] : visitsOf(site)).map(({ id }) => id)
  const chosen = siteOfVisits(site, visits)
  const locate = ask('locate', asFound, chosen, file)
  if (!locate.ok) return failed(locate.error)
  const judge = ask('judge', asFound, chosen, file)
  if (!judge.ok) return failed(judge.error)
  const comparison = ask('compare', asFound, chosen, file)
  if (!comparison.ok) return failed(comparison.error)
  const data = reportData({
    site,
    visits,
    locate: locate.value,
    judge: judge.value,
    comparison: comparison.value,
    madeAt: new Date().toISOString(),
    digestOf: sha256,
  })
  const parts = reportParts.filter((part) => part !== 'map')
  const page = {
    title: printable(site.name, 200),
    head: reportHead(data),
    sections: toEnd(reportSections(data, parts)),
  }
  const outcome = await writeTo(report, 'out', options.get('out'), [file], io, async (output) => {
    for (const piece of reportHtml(page)) await output.write(piece)
  })
  return outcome.exit === 0 && visits.length === 0 ? { exit: 1 } : outcome
}
