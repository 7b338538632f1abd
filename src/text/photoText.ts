import { formatCounted } from './units.ts'

/** Sentences of photos that belong to an entry. */
export const photoTexts = {
  title: 'Photos',
  add: 'Add a photo …',
  adding: 'Making the photo smaller …',
  noStore: 'This browser keeps nothing for the program, so no photo can be kept.',
  unreadable: 'The browser cannot read this picture. Take it as JPEG, PNG or WebP.',
  notSmall: 'The picture could not be made small enough to keep. Take it with fewer pixels.',
  elsewhere: 'On another device',
  damaged: 'Damaged here',
  kept: 'Photos stay on the device that took them; the record names each by its checksum.',
} as const

/** Name of the n-th photo, from 1. */
export function namePhoto(number: number): string {
  return `Photo ${number}`
}

/** How many photos an entry names, for one line; null where it names none. */
export function countPhotos(photos: number): string | null {
  return photos === 0 ? null : formatCounted(photos, 'photo')
}
