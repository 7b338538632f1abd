import type { StationTrouble } from '../model/stationList.ts'
import { quoted } from './where.ts'

/** What is wrong with stations as they were typed, and what would be right. */
export function describeStationTrouble(trouble: StationTrouble): string {
  switch (trouble.code) {
    case 'none':
      return 'At least one station is needed here, such as 2, 5, 8.'
    case 'notANumber':
      return `${quoted(trouble.text)} is no station. Type numbers with commas between them, such as 2, 5, 8.`
    case 'beyond':
      return trouble.station < 1
        ? 'Stations count from 1, the outer edge of the first module.'
        : `There is no station ${trouble.station} here; the last is ${trouble.last}.`
    case 'twice':
      return `Station ${trouble.station} is named twice. Take one of them out.`
    case 'backwards':
      return `${quoted(trouble.text)} runs backwards. Type the lower station first.`
  }
}

/** The same of module rows, which are typed in the same way. */
export function describeRowTrouble(trouble: StationTrouble): string {
  switch (trouble.code) {
    case 'none':
      return 'At least one module row is needed here, such as 1 or 1, 2.'
    case 'notANumber':
      return `${quoted(trouble.text)} is no module row. Type numbers with commas between them, such as 1, 2.`
    case 'beyond':
      return trouble.station < 1
        ? 'Module rows count from 1, the lowest.'
        : `There is no module row ${trouble.station} here; the last is ${trouble.last}.`
    case 'twice':
      return `Module row ${trouble.station} is named twice. Take one of them out.`
    case 'backwards':
      return `${quoted(trouble.text)} runs backwards. Type the lower row first.`
  }
}
