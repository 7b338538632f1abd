import { emptySheet, testSheet, type TestSheet } from '../../files/report/testSheet.ts'
import type { CoverageAnswer } from '../../model/planning.ts'
import { effectiveRecord } from '../../model/record/effectiveRecord.ts'
import type { EntryOf } from '../../model/schema/record.ts'
import type { Site } from '../../model/schema/site.ts'
import { fixedParts, reportParts, type ReportPart } from '../../text/reportText.ts'
import type { Paper } from './printStyle.ts'

/** Instead of a plan: empty rows. */
export const freePairs = 'free pairs'

/** What is chosen of a report or test sheet; all visits and sections until something is taken out. */
export class ReportChoice {
  kind = $state<'report' | 'sheet'>('report')
  paper = $state<Paper>('a4')
  hasAreas = $state(true)
  /** A second map with readings as multiples of what was expected. */
  hasTimes = $state(true)
  plan = $state<string | null>(null)
  freeRows = $state(20)
  #leftOutVisits = $state.raw<readonly string[]>([])
  #leftOutParts = $state.raw<readonly ReportPart[]>([])

  /** @param plan whose sheet it begins with; null for a report */
  constructor(plan: string | null = null) {
    if (plan === null) return
    this.kind = 'sheet'
    this.plan = plan
  }

  visitsOf(site: Site): readonly EntryOf<'visit'>[] {
    return effectiveRecord(site.record).flatMap(({ entry }) => (entry.entry === 'visit' ? [entry] : []))
  }

  hasVisit(id: string): boolean {
    return !this.#leftOutVisits.includes(id)
  }

  chosenVisits(site: Site): readonly string[] {
    return this.visitsOf(site).flatMap(({ id }) => (this.hasVisit(id) ? [id] : []))
  }

  toggleVisit(id: string): void {
    this.#leftOutVisits = toggled(this.#leftOutVisits, id)
  }

  get parts(): readonly ReportPart[] {
    return reportParts.filter((part) => this.hasPart(part))
  }

  hasPart(part: ReportPart): boolean {
    return fixedParts.includes(part) || !this.#leftOutParts.includes(part)
  }

  togglePart(part: ReportPart): void {
    this.#leftOutParts = toggled(this.#leftOutParts, part)
  }

  /** The plan that is chosen, else the first one. */
  planOf({ drawing }: Site): string {
    if (this.plan === freePairs || drawing.plans.length === 0) return freePairs
    return drawing.plans.some(({ id }) => id === this.plan) ? this.plan! : drawing.plans[0].id
  }

  /** @param coverage what the plan is expected to read, where that is known */
  sheetOf(site: Site, coverage: CoverageAnswer | null = null): TestSheet {
    const id = this.planOf(site)
    const plan = site.drawing.plans.find((one) => one.id === id)
    return plan ? testSheet(site.drawing, plan, coverage) : emptySheet(this.freeRows)
  }
}

function toggled<T>(list: readonly T[], one: T): readonly T[] {
  return list.includes(one) ? list.filter((other) => other !== one) : [...list, one]
}
