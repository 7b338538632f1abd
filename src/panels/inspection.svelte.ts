import type { JointAnswer, PartAnswer } from '../model/answers.ts'
import type { Picked } from '../state/picked.ts'
import { asFound, type Results } from '../state/results.svelte.ts'

/** What was asked about and what came back; null where there is no answer to it. */
type Inspected =
  | { readonly kind: 'joint'; readonly address: string; readonly answer: JointAnswer | null }
  | { readonly kind: 'part'; readonly address: string; readonly answer: PartAnswer | null }

/** What the engine says of the part or joint that is picked. The newest question wins, whatever comes back when. */
export class Inspection {
  readonly #results: Results
  #last = $state.raw<Inspected | null>(null)
  #asked = 0

  constructor(results: Results) {
    this.#results = results
  }

  /** `undefined` while nothing is known of it yet, `null` where the question has no answer. */
  joint(address: string): JointAnswer | null | undefined {
    return this.#last?.kind === 'joint' && this.#last.address === address ? this.#last.answer : undefined
  }

  part(address: string): PartAnswer | null | undefined {
    return this.#last?.kind === 'part' && this.#last.address === address ? this.#last.answer : undefined
  }

  async ask(picked: Picked | null): Promise<void> {
    const asked = ++this.#asked
    const inspected = await this.#inspect(picked)
    if (asked === this.#asked && inspected) this.#last = inspected
  }

  async #inspect(picked: Picked | null): Promise<Inspected | null> {
    switch (picked?.kind) {
      case 'part': {
        const { address } = picked
        const answer = await this.#results.ask('inspectPart', { ...asFound, part: address })
        return { kind: 'part', address, answer }
      }
      case 'joint':
      case 'suspect': {
        const address = picked.kind === 'joint' ? picked.address : picked.joint
        const answer = await this.#results.ask('inspectJoint', { ...asFound, joint: address })
        return { kind: 'joint', address, answer }
      }
      default:
        return null
    }
  }
}
