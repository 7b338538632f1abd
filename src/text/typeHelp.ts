import { capital } from './units.ts'
import type { Words } from './words.ts'

export type TypeHelpName =
  | 'modules'
  | 'station'
  | 'rails'
  | 'splice'
  | 'member'
  | 'crossMember'
  | 'post'
  | 'pivot'
  | 'soil'
  | 'clamp'
  | 'link'
  | 'kind'

export interface TypeHelp {
  readonly about: string
  readonly text: string
}

/** What a field of a table type means, said where it is asked. */
export function typeHelp(name: TypeHelpName, words: Words): TypeHelp {
  const rail = words.longMember
  const help: Readonly<Record<TypeHelpName, TypeHelp>> = {
    modules: {
      about: 'Modules',
      text: 'High counts up the slope, across counts along the row. Portrait stands on its short side.',
    },
    station: {
      about: 'Stations',
      text:
        'Station 1 is the outer edge of the first module, station 2 the gap between modules 1 and 2, and so on; the ' +
        `last is the far edge. Type them as 2, 5, 8 or 3-6, or set them by tapping in the picture. Where a ` +
        `${words.crossMember} or post stands within a module, take the nearer gap.`,
    },
    rails: {
      about: `${capital(rail)}s alike`,
      text:
        `How far the outer ${rail}s lie in from a module's edges; without a figure they are put at its quarter points ` +
        `(judgement). Each ${rail} can be moved by itself further down.`,
    },
    splice: {
      about: 'Splices',
      text:
        `A splice after station 6 joins the two lengths of a ${rail} between stations 6 and 7, along module 6. It is ` +
        'a joint that can fail; the metal between other stations is solid.',
    },
    member: {
      about: `What a ${rail} carries`,
      text:
        'The module rows, counted from the lowest, whose frames rest on it. Its place is measured from the lower ' +
        'edge of the table, along the modules. The area is that of its metal, by which its ohms are computed.',
    },
    crossMember: {
      about: capital(`${words.crossMember}s`),
      text: `Rafters, purlins or beams under the ${rail}s. Each is joined to every ${rail} by one bracket.`,
    },
    post: {
      about: 'Posts',
      text:
        `A post carries the ${words.crossMember} at its station; where there is none, the ${rail} over its line. Name ` +
        'each parallel joint that bonds it: two where a strap lies beside the bolts, none behind a polymer bush.',
    },
    pivot: {
      about: 'Pivot',
      text:
        'A bearing turns on grease or polymer and is not relied on to bond. Name the jumper that bridges it as the ' +
        'bond of the post.',
    },
    soil: {
      about: 'Posts in soil',
      text: `Buried length and diameter give each post its ${words.earthPath}. Leave it off for posts on ballast or concrete.`,
    },
    clamp: {
      about: 'Clamps',
      text:
        `Clamps that pierce the frame's coating, per frame on each ${rail}. One: the clamp in a gap serves the frames ` +
        'on both sides, in pairs. Two: a frame is clamped at both its sides. None: clamps hold but do not bond.',
    },
    link: {
      about: 'Links',
      text: 'A strap or clip from frame to frame: along the table, up the table, or both.',
    },
    kind: {
      about: 'Kinds of joint',
      text:
        "Kinds come from the site's catalogue: the median of sound joints, how they scatter, and how many are bad in " +
        'a new array. The figures a site begins with are judgement; put in your own where you have them.',
    },
  }
  return help[name]
}
