import { limits } from '../model/limits.ts'

/** Name of a copy that was kept beside a site which had been saved elsewhere. */
export function recoveredName(name: string): string {
  const ending = ', recovered'
  return `${name.slice(0, limits.nameLength - ending.length).replace(/[\uD800-\uDBFF]$/, '')}${ending}`
}
