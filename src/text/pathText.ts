import type { PathKind } from '../model/answers.ts'
import type { Words } from './words.ts'

/** What joins two parts, in a sentence: soil is never called a bond. */
export function describePath(path: PathKind, words: Words): string {
  switch (path) {
    case 'metal':
      return 'Metal joins the two.'
    case 'soilOnly':
      return (
        `No metal path: only soil joins the two, by way of ${words.remoteEarth}. They are not bonded together, ` +
        `whatever a meter reads between them.`
      )
    case 'none':
      return 'No path: neither metal nor soil joins the two.'
  }
}
