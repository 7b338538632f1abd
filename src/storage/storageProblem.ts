import type { Problem } from '../model/problem.ts'
import { problem } from '../model/problem.ts'

/** What was being done when storage failed. */
export interface Attempt {
  readonly doing: 'read' | 'write'
  /** The site and its length, where one was being written. */
  readonly name: string | null
  readonly bytes: number
}

/** The problem behind an error of the browser's storage, by the names that the standard gives them. */
export function storageProblem(error: unknown, attempt: Attempt, freeBytes: number | null): Problem {
  const { name, message } = error instanceof Error ? error : { name: '', message: String(error) }
  switch (name) {
    case 'QuotaExceededError':
      return problem('storage.full', { name: attempt.name, bytes: attempt.bytes, freeBytes })
    case 'VersionError':
      return problem('storage.newer', {})
    case 'InvalidStateError':
      return problem('storage.closed', {})
    case 'SecurityError':
      return problem('storage.blocked', { reason: message })
    default:
      return problem('storage.failed', { doing: attempt.doing, reason: message === '' ? name : message })
  }
}
