import type { NetworkInput } from '../engine/requests.ts'
import type { OptionSpec } from './command.ts'

export const jsonOption: OptionSpec = {
  name: 'json',
  value: null,
  help: 'one JSON document instead of text; infinite numbers are written "infinite"',
}

/** Which joints are counted: for every command that works on the network. */
export const networkOptions: readonly OptionSpec[] = [
  {
    name: 'without-incidental',
    value: null,
    help: 'leave out bare contact that happens to conduct today',
  },
  { name: 'as-built', value: null, help: 'count in what was found otherwise than drawn' },
]

export function networkInput(options: ReadonlyMap<string, string | true>): NetworkInput {
  return { countIncidental: !options.has('without-incidental'), asBuilt: options.has('as-built') }
}

/** How joints are counted on the screen: bare contact and what was found otherwise than drawn included. */
export const asFound: NetworkInput = { countIncidental: true, asBuilt: true }
