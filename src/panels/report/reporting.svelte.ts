import { run } from '../../engine/run.ts'
import { emptySiteCache, type SiteCache } from '../../engine/siteCache.ts'
import { reportData } from '../../files/report/reportData.ts'
import { reportHead, reportSections } from '../../files/report/reportSections.ts'
import type { ReportSection } from '../../files/report/reportBlocks.ts'
import type { ReportData } from '../../files/report/reportTypes.ts'
import { siteOfVisits } from '../../files/report/siteOfVisits.ts'
import type { JudgeAnswer, LocateAnswer } from '../../model/answers.ts'
import type { ComparisonAnswer } from '../../model/comparison.ts'
import { signaturesOf, signedText } from '../../model/record/signatures.ts'
import type { Problem } from '../../model/problem.ts'
import type { Site } from '../../model/schema/site.ts'
import { sha256Of } from '../../storage/storageEnvironment.ts'
import { asFound } from '../../state/results.svelte.ts'
import type { ReportPart } from '../../text/reportText.ts'
import { inTurns } from '../../ui/inTurns.ts'

export interface ReportAsked {
  readonly site: Site
  readonly visits: readonly string[]
  readonly parts: readonly ReportPart[]
  /** Answers of the whole record where they are current; null where they have to be worked out. */
  readonly known: { readonly locate: LocateAnswer; readonly judge: JudgeAnswer } | null
  readonly madeAt: string
  /** Holds the readings of the whole record against their peers; null where that was overtaken. */
  readonly compare?: () => Promise<ComparisonAnswer | null>
}

export interface ReportMade {
  readonly data: ReportData
  readonly head: readonly (readonly [string, string])[]
  readonly sections: readonly ReportSection[]
  /** Answers of the visits in the report, for its maps. */
  readonly answers: { readonly locate: LocateAnswer; readonly judge: JudgeAnswer }
}

/** A report in the making, some milliseconds at a time; a newer question takes the place of an older one. */
export class Reporting {
  made = $state.raw<ReportMade | null>(null)
  /** 0 … 1 while it is made; else null. */
  share = $state<number | null>(null)
  problems = $state.raw<readonly Problem[]>([])
  /** SHA-256 of what signatures stand for, by text. */
  #digests: Readonly<Record<string, string>> = {}

  /** Returns what ends it early. */
  make(asked: ReportAsked): () => void {
    this.share = 0
    this.problems = []
    let isOver = false
    let end: () => void = () => undefined
    void Promise.all([this.#digest(asked.site), compared(asked)]).then(([, comparison]) => {
      if (!isOver) end = inTurns(this.#steps(asked, comparison))
    })
    return () => {
      isOver = true
      end()
      this.share = null
    }
  }

  /** Works out what the signatures of a site have to match; a browser without the means leaves them unchecked. */
  async #digest({ record }: Site): Promise<void> {
    for (const signature of signaturesOf(record)) {
      const text = signedText(record, signature)
      if (text === null || text in this.#digests) continue
      const digest = await sha256Of(new TextEncoder().encode(text)).catch(() => null)
      if (digest !== null) this.#digests = { ...this.#digests, [text]: digest }
    }
  }

  *#steps(asked: ReportAsked, known: ComparisonAnswer | null): Generator<void, void> {
    const { site, visits, parts, madeAt } = asked
    const chosen = siteOfVisits(site, visits)
    const cache = emptySiteCache()
    const answers = chosen === site && asked.known ? asked.known : yield* this.#answers(chosen, cache)
    if (answers !== null) {
      const comparison = known ?? (isWithReadings(asked) ? yield* comparisonOf(chosen, cache) : null)
      const data = reportData({
        site,
        visits,
        ...answers,
        comparison,
        madeAt,
        digestOf: (text) => this.#digests[text] ?? null,
      })
      yield
      const job = reportSections(data, parts)
      let step = job.next()
      for (; !step.done; step = job.next()) {
        this.share = 0.8 + 0.2 * step.value
        yield
      }
      this.made = { data, head: reportHead(data), sections: step.value, answers }
    }
    this.share = null
  }

  /** What the engine says of some visits alone; the page's own answers stay as they are. */
  *#answers(site: Site, cache: SiteCache): Generator<void, ReportMade['answers'] | null> {
    const judged = run('judge', asFound, site, cache)
    let judge = judged.next()
    for (; !judge.done; judge = judged.next()) yield
    const located = run('locate', asFound, site, cache)
    let locate = located.next()
    for (; !locate.done; locate = located.next()) {
      this.share = 0.8 * locate.value.fraction
      yield
    }
    if (judge.value.ok && locate.value.ok) return { judge: judge.value.value, locate: locate.value.value }
    this.problems = [judge.value, locate.value].flatMap((answer) => (answer.ok ? [] : answer.error))
    return null
  }
}

const isWithReadings = ({ parts }: Pick<ReportAsked, 'parts'>) => parts.includes('readings')

/** What is known of the whole record anyway is not worked out here. */
async function compared(asked: ReportAsked): Promise<ComparisonAnswer | null> {
  const { site, visits, known, compare } = asked
  if (!isWithReadings(asked) || known === null || !compare || siteOfVisits(site, visits) !== site) return null
  return compare()
}

function* comparisonOf(site: Site, cache: SiteCache): Generator<void, ComparisonAnswer | null> {
  const job = run('compare', asFound, site, cache)
  let step = job.next()
  for (; !step.done; step = job.next()) yield
  return step.value.ok ? step.value.value : null
}
