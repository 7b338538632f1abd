import { createHash } from 'node:crypto'
import { describe, expect, it } from 'vitest'
import { signedState, signedText, signaturesOf, toSign } from '../../../src/model/record/signatures.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { exampleSite, uuid } from '../exampleSite.ts'
import { Writer } from './writer.ts'

const digestOf = (text: string) => createHash('sha256').update(text, 'utf8').digest('hex')
const base = exampleSite()
const siteOf = (w: Writer): Site => ({ ...base, record: [...base.record, ...w.record] })

function sign(w: Writer, point: { plan: string; planPair: number } | null = null) {
  const site = siteOf(w)
  const what = toSign(site, w.visit, point)
  return w.signature(what, digestOf(signedText(site.record, what) ?? ''))
}

function begun() {
  const w = new Writer(1)
  const first = w.reading('R1/T1/F1.1', 'B1', 0.02)
  const second = w.reading('R1/T1/F1.2', 'B1', 0.03)
  return { w, first, second }
}

describe('a signature', () => {
  it('stands for all entries of its visit so far, and holds while nothing changes', () => {
    const { w, first, second } = begun()
    const signature = sign(w)
    expect(signature.entries).toEqual([first.id, second.id])
    expect(signedState(siteOf(w), signature, digestOf)).toEqual({ state: 'holds' })
  })

  it('still holds when another one signs the same visit, and when a visit after it goes on', () => {
    const { w } = begun()
    const tester = sign(w)
    const witness = sign(w)
    const other = new Writer(2)
    other.reading('R1/T1/F1.1', 'B1', 0.5)
    const site = { ...siteOf(w), record: [...siteOf(w).record, ...other.record] }
    expect(witness.entries).toEqual(tester.entries)
    for (const one of [tester, witness]) expect(signedState(site, one, digestOf)).toEqual({ state: 'holds' })
    expect(signaturesOf(w.record).map(({ id }) => id)).toEqual([tester.id, witness.id])
  })

  it('is reopened by a correction, a withdrawal and an entry after it, each named once', () => {
    const { w, first, second } = begun()
    const signature = sign(w)
    const correction = w.correction(first.id, 0.2)
    const withdrawal = w.withdrawal(second.id)
    const note = w.note('later')
    expect(signedState(siteOf(w), signature, digestOf)).toEqual({
      state: 'reopened',
      by: [
        { why: 'corrected', by: correction.id, of: first.id },
        { why: 'withdrawn', by: withdrawal.id, of: second.id },
        { why: 'added', by: note.id },
      ],
    })
    const again = sign(w)
    expect(signedState(siteOf(w), again, digestOf)).toEqual({ state: 'holds' })
  })

  it('is reopened by a correction that another visit wrote', () => {
    const { w, first } = begun()
    const signature = sign(w)
    const other = new Writer(2)
    const correction = other.correction(first.id, 0.2)
    const site = { ...siteOf(w), record: [...siteOf(w).record, ...other.record] }
    expect(signedState(site, signature, digestOf)).toEqual({
      state: 'reopened',
      by: [{ why: 'corrected', by: correction.id, of: first.id }],
    })
  })

  it('is reopened by a later drawing', () => {
    const { w } = begun()
    const signature = sign(w)
    const site = siteOf(w)
    const redrawn = { ...site, drawing: { ...site.drawing, revision: uuid(777) } }
    expect(signedState(redrawn, signature, digestOf)).toEqual({ state: 'reopened', by: [{ why: 'drawing' }] })
  })

  it('does not match when what it names was changed outside, whatever else was added', () => {
    const { w, first } = begun()
    const signature = sign(w)
    w.note('later')
    const site = siteOf(w)
    const forged = {
      ...site,
      record: site.record.map((entry) =>
        entry.id === first.id && entry.entry === 'reading'
          ? { ...entry, result: { form: 'ohm' as const, ohm: 0.01 } }
          : entry,
      ),
    }
    expect(signedState(forged, signature, digestOf)).toEqual({ state: 'doesNotMatch' })
    const without = { ...site, record: site.record.filter(({ id }) => id !== first.id) }
    expect(signedState(without, signature, digestOf)).toEqual({ state: 'doesNotMatch' })
  })

  it('digests the same text whatever the order of keys', () => {
    const { w } = begun()
    const signature = sign(w)
    const turned = siteOf(w).record.map(
      (entry) => Object.fromEntries(Object.entries(entry).reverse()) as unknown as typeof entry,
    )
    expect(signedText(turned, signature)).toBe(signedText(siteOf(w).record, signature))
  })

  it('that is withdrawn says so, and its withdrawal reopens no other one', () => {
    const { w } = begun()
    const tester = sign(w)
    const witness = sign(w)
    const withdrawal = w.withdrawal(tester.id)
    expect(signedState(siteOf(w), tester, digestOf)).toEqual({ state: 'withdrawn', by: withdrawal.id })
    expect(signedState(siteOf(w), witness, digestOf)).toEqual({ state: 'holds' })
  })

  it('tells what reopens it before its digest is known', () => {
    const { w } = begun()
    const signature = sign(w)
    const note = w.note('later')
    expect(signedState(siteOf(w), signature, () => null)).toEqual({
      state: 'unchecked',
      by: [{ why: 'added', by: note.id }],
    })
  })

  it('of a point of a plan stands for the readings of that pair alone', () => {
    const { w } = begun()
    const point = { plan: 'handover', planPair: 3 }
    const held = w.reading('R1/T1/F1.1', 'B1', 0.04, point)
    const signature = sign(w, point)
    expect(signature).toMatchObject({ ...point, entries: [held.id] })
    w.reading('R1/T1/F1.3', 'B1', 0.04, { plan: 'handover', planPair: 4 })
    expect(signedState(siteOf(w), signature, digestOf)).toEqual({ state: 'holds' })
    const correction = w.correction(held.id, 0.05)
    expect(signedState(siteOf(w), signature, digestOf)).toEqual({
      state: 'reopened',
      by: [{ why: 'corrected', by: correction.id, of: held.id }],
    })
  })
})
