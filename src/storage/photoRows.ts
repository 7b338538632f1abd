import type { Bytes } from './siteRows.ts'

export const photoTypes = ['image/jpeg', 'image/png', 'image/webp'] as const
export type PhotoType = (typeof photoTypes)[number]

/** What a list of photos shows. */
export interface KeptPhoto {
  /** SHA-256 of its bytes, in hexadecimal: the name by which an entry of the record has it. */
  readonly sha256: string
  readonly type: PhotoType
  readonly size: number
  /** ISO 8601 in the zone of the device. */
  readonly savedAt: string
}

/** The row of a photo in the database. */
export interface PhotoRow extends KeptPhoto {
  readonly bytes: Bytes
}

/** Holds what a list shows, so that no bytes are read for it. */
export const listedIndex = { name: 'listed', keyPath: ['savedAt', 'type', 'size'] }

/** The type that the first bytes tell, whatever a file is called; null where it is none of them. */
export function photoTypeOf(bytes: Uint8Array): PhotoType | null {
  const begins = (at: number, ...codes: number[]) => codes.every((code, k) => bytes[at + k] === code)
  if (begins(0, 0xff, 0xd8, 0xff)) return 'image/jpeg'
  if (begins(0, 0x89, 0x50, 0x4e, 0x47, 0x0d, 0x0a, 0x1a, 0x0a)) return 'image/png'
  // RIFF .... WEBP
  if (begins(0, 0x52, 0x49, 0x46, 0x46) && begins(8, 0x57, 0x45, 0x42, 0x50)) return 'image/webp'
  return null
}
