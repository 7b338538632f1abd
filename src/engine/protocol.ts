import type { Basis } from '../model/answers.ts'
import type { Problem } from '../model/problem.ts'
import type { Progress } from './progress.ts'
import type { AnswerTo, Request, RequestName } from './requests.ts'
import type { SiteChange } from './siteDiff.ts'

/** What a page sends to the worker. Messages arrive in order, so that a question is about the site sent before it. */
export type ToWorker =
  | { readonly kind: 'site'; readonly change: SiteChange }
  | ({ readonly kind: 'ask'; readonly id: number; readonly basis: Basis } & Request)
  | { readonly kind: 'cancel'; readonly id: number }

/** What the worker sends. Each question ends in one of `done`, `problem` and `cancelled`. */
export type FromWorker =
  /** The worker has started, listens, and holds the lock of this name until it ends; null where there are no locks. */
  | { readonly kind: 'ready'; readonly lifeLock: string | null }
  | { readonly kind: 'progress'; readonly id: number; readonly progress: Progress }
  | {
      readonly kind: 'done'
      readonly id: number
      readonly basis: Basis
      readonly answer: AnswerTo<RequestName>
    }
  | { readonly kind: 'problem'; readonly id: number; readonly problems: readonly Problem[] }
  | { readonly kind: 'cancelled'; readonly id: number }
