import type { Entry, EntryOf } from '../../../src/model/schema/record.ts'
import { uuid } from '../exampleSite.ts'

/** Writes a record one minute after another as one device would, without a site around it. */
export class Writer {
  #record: readonly Entry[] = []
  readonly visit: string
  readonly #device: number

  constructor(device: number, visit?: string) {
    this.#device = device
    this.visit = visit ?? uuid(device * 1000)
  }

  /** As it is now; an older one that somebody holds stays as it was. */
  get record(): readonly Entry[] {
    return this.#record
  }

  #stamp() {
    const counter = this.#record.length + 1
    const at = new Date(Date.UTC(2026, 4, 4, 8, counter)).toISOString()
    return {
      id: uuid(this.#device * 1000 + counter),
      device: uuid(90 + this.#device),
      counter,
      at,
      visit: this.visit,
    }
  }

  #add<E extends Entry>(entry: E): E {
    this.#record = [...this.#record, entry]
    return entry
  }

  reading(from: string, to: string, ohm: number, plan: { plan: string; planPair: number } | null = null) {
    return this.#add<EntryOf<'reading'>>({
      ...this.#stamp(),
      entry: 'reading',
      method: 'twoWire',
      kit: 'meter',
      lead: 'lead-50m',
      from: { part: from, spot: 'face', surface: 'bare' },
      to: { part: to, spot: 'face', surface: 'bare' },
      around: null,
      result: { form: 'ohm', ohm },
      reverseOhm: null,
      unsteady: null,
      testCurrentA: null,
      metalC: null,
      trackerDeg: null,
      repeats: null,
      trying: null,
      spikesM: null,
      plan: plan?.plan ?? null,
      planPair: plan?.planPair ?? null,
      photos: [],
      note: '',
    })
  }

  defect(number: number, joints: readonly string[], proof: readonly string[]) {
    return this.#add<EntryOf<'defect'>>({
      ...this.#stamp(),
      entry: 'defect',
      number,
      joints: [...joints],
      proof: [...proof],
      note: '',
    })
  }

  step(
    of: string,
    state: EntryOf<'defectStep'>['state'],
    joint: string | null,
    proof: readonly string[],
  ): EntryOf<'defectStep'> {
    return this.#add<EntryOf<'defectStep'>>({
      ...this.#stamp(),
      entry: 'defectStep',
      of,
      state,
      joint,
      proof: [...proof],
      note: '',
    })
  }

  look(joint: string, findings: EntryOf<'look'>['findings']) {
    return this.#add<EntryOf<'look'>>({
      ...this.#stamp(),
      entry: 'look',
      joint,
      findings,
      torqueAskedNm: null,
      torqueFoundNm: null,
      torqueSetNm: null,
      photos: [],
      note: '',
    })
  }

  repair(joint: string, done: EntryOf<'repair'>['done'], coating: EntryOf<'repair'>['coating']) {
    return this.#add<EntryOf<'repair'>>({
      ...this.#stamp(),
      entry: 'repair',
      joint,
      done,
      by: '',
      torqueSetNm: null,
      coating,
      photos: [],
      note: '',
    })
  }

  correction(of: string, ohm: number) {
    return this.#add<EntryOf<'correction'>>({
      ...this.#stamp(),
      entry: 'correction',
      of,
      result: { form: 'ohm', ohm },
      from: null,
      to: null,
      reason: '',
    })
  }

  withdrawal(of: string) {
    return this.#add<EntryOf<'withdrawal'>>({ ...this.#stamp(), entry: 'withdrawal', of, reason: '' })
  }

  note(text: string) {
    return this.#add<EntryOf<'note'>>({ ...this.#stamp(), entry: 'note', about: null, text })
  }

  signature(
    what: Pick<EntryOf<'signature'>, 'drawing' | 'drawingRevision' | 'entries' | 'plan' | 'planPair'>,
    digest: string,
  ) {
    return this.#add<EntryOf<'signature'>>({
      ...this.#stamp(),
      entry: 'signature',
      role: 'tester',
      name: 'A. Rowan',
      note: '',
      ...what,
      digest,
    })
  }
}
