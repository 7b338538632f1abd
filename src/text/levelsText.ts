import type { LocateAnswer } from '../model/answers.ts'
import { nameKind } from './jointNames.ts'
import type { NameBook } from './places.ts'

type Level = LocateAnswer['levels'][number]

const times = (factor: number) => `${factor.toPrecision(2)} ×`

/** How far a whole kind of joint, or the soil, lies from what was entered, as far as the readings say. */
export function describeLevel({ kind, factor, low, high }: Level, book: NameBook): string {
  const of = kind === 'earthPath' ? 'Soil as a whole' : `${nameKind(book, kind)}, as a kind`
  const entered = kind === 'earthPath' ? 'what the stated resistivity gives' : 'what the catalogue has'
  return (
    `${of.charAt(0).toUpperCase()}${of.slice(1)}: about ${times(factor)} ${entered} ` +
    `(nine times out of ten between ${times(low)} and ${times(high)}).`
  )
}

export const levelsTitle = 'What the readings say of whole kinds'
