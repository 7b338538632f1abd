import { limits } from '../model/limits.ts'

/** Name of a copy that was kept beside a site which had been saved elsewhere. */
export function recoveredName(name: string): string {
  const ending = ', recovered'
  return `${name.slice(0, limits.nameLength - ending.length).replace(/[\uD800-\uDBFF]$/, '')}${ending}`
}

/** What a browser's file dialogue calls the files that it offers. */
export const siteFileKind = 'Groundweave site'

const fileReasons: Readonly<Record<string, string>> = {
  NotFoundError: 'it is a folder, or there is no such file any more',
  NotReadableError: 'the device or another program does not let it be read',
  NotAllowedError: 'permission was refused',
  SecurityError: 'the browser does not allow it here',
  NoModificationAllowedError: 'another program holds it',
  QuotaExceededError: 'there is no room left',
  InvalidStateError: 'it was changed by another program meanwhile',
}

/** Why a browser did not let a file be read or written, by the standard name of its error. */
export function fileErrorReason(name: string, message: string): string {
  return (
    (Object.hasOwn(fileReasons, name) ? fileReasons[name] : undefined) ?? (message || 'no reason was given')
  )
}

/** Why nothing can be kept on the device, before the browser was even asked. */
export const noStorageReasons = {
  switchedOff: 'its storage is switched off',
  insecure: 'the page was opened over a connection that is not encrypted',
} as const
