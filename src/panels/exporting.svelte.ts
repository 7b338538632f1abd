import type { Result } from '../base/result.ts'
import type { ExportPiece } from '../files/exportPiece.ts'
import type { Problem } from '../model/problem.ts'
import { inTurns } from '../ui/inTurns.ts'

export type ExportKind = 'readings' | 'geojson' | 'tables' | 'joints' | 'svg' | 'png'

/** What pieces come in before they are handed to the browser, which may keep them outside the page's memory. */
const partLength = 4_000_000

/** A file in the making: some milliseconds at a time, in parts, until it is done or stopped. */
export class Exporting {
  doing = $state<ExportKind | null>(null)
  share = $state<number | null>(null)
  problems = $state.raw<readonly Problem[]>([])
  #end: () => void = () => undefined

  start(
    kind: ExportKind,
    type: string,
    job: Generator<ExportPiece, Result<null, Problem[]> | void>,
    done: (file: Blob) => void,
  ): void {
    this.stop()
    this.problems = []
    this.doing = kind
    this.share = 0
    this.#end = inTurns(this.#steps(type, job, done))
  }

  stop(): void {
    this.#end()
    this.doing = null
    this.share = null
  }

  *#steps(
    type: string,
    job: Generator<ExportPiece, Result<null, Problem[]> | void>,
    done: (file: Blob) => void,
  ): Generator<void, void> {
    const parts: Blob[] = []
    let text = ''
    let step = job.next()
    for (; !step.done; step = job.next()) {
      text += step.value.text
      if (text.length > partLength) {
        parts.push(new Blob([text]))
        text = ''
      }
      this.share = step.value.fraction
      yield
    }
    this.doing = null
    this.share = null
    if (step.value && !step.value.ok) this.problems = step.value.error
    else done(new Blob([...parts, text], { type }))
  }
}
