import { problem } from '../problem.ts'
import type { Entry, EntryOf } from '../schema/record.ts'
import type { Findings, Path } from './findings.ts'
import {
  addTold,
  addWrong,
  checkIds,
  checkJoint,
  checkPart,
  checkPartOrJoint,
  inconsistent,
} from './findings.ts'

type Entries = ReadonlyMap<string, Entry>
type Visit = EntryOf<'visit' | 'amendment'>

/** What each visit lists, in the order in which it was said: itself, then its amendments. */
type Visits = ReadonlyMap<string, readonly Visit[]>

/** Visits of a record with their amendments; O(entries). */
export function visitsOf(record: Iterable<Entry>): Visits {
  const visits = new Map<string, Visit[]>()
  const amendments: EntryOf<'amendment'>[] = []
  for (const entry of record) {
    if (entry.entry === 'visit') visits.set(entry.id, [entry])
    if (entry.entry === 'amendment') amendments.push(entry)
  }
  for (const entry of amendments) visits.get(entry.visit)?.push(entry)
  return visits
}

function unknown(findings: Findings, what: string, name: string, path: Path, entry: Entry): void {
  addWrong(findings, problem('reference.unknownName', { what, name }, { path, entry: entry.id }))
}

function checkInstruments(
  findings: Findings,
  entry: EntryOf<'nulling' | 'leadCheck' | 'reading'>,
  said: readonly Visit[],
  path: Path,
): void {
  if (!said.some(({ kits }) => kits.some((kit) => kit.id === entry.kit))) {
    unknown(findings, 'kit', entry.kit, [...path, 'kit'], entry)
  }
  if (entry.lead !== null && !said.some(({ leads }) => leads.some(({ id }) => id === entry.lead))) {
    unknown(findings, 'lead', entry.lead, [...path, 'lead'], entry)
  }
}

function checkReading(findings: Findings, reading: EntryOf<'reading'>, entries: Entries, path: Path): void {
  const { method, from, to, around, unsteady, repeats, id } = reading
  checkPart(findings, from.part, [...path, 'from', 'part'], 'mayStray', id)
  checkPart(findings, to.part, [...path, 'to', 'part'], 'mayStray', id)
  if (method === 'loopClamp') {
    if (around === null)
      inconsistent(findings, 'a loop clamp needs the joint it was closed around', [...path, 'around'], id)
    if (from.part !== to.part)
      inconsistent(findings, 'a loop clamp has one part at both ends', [...path, 'to'], id)
  } else {
    if (around !== null)
      inconsistent(findings, 'only a loop clamp is closed around a joint', [...path, 'around'], id)
    if (from.part === to.part) {
      const where = { path: [...path, 'to', 'part'], address: to.part, entry: id }
      addWrong(findings, problem('reference.samePart', { text: to.part }, where))
    }
  }
  if (around !== null) checkJoint(findings, around, [...path, 'around'], 'mayStray', id)
  if (from.part === 'earth' || (to.part === 'earth') !== (method === 'earthElectrode')) {
    const reason = 'remote earth is the second point of an earth-electrode test, and of no other reading'
    inconsistent(findings, reason, path, id)
  }
  if (reading.spikesM && method !== 'earthElectrode') {
    inconsistent(findings, 'only an earth-electrode test has spikes', [...path, 'spikesM'], id)
  }
  if (unsteady && unsteady.leastOhm > unsteady.mostOhm) {
    inconsistent(findings, 'the least ohms are above the most', [...path, 'unsteady'], id)
  }
  if (repeats !== null && (entries.get(repeats)?.entry !== 'reading' || repeats === id)) {
    unknown(findings, 'reading', repeats, [...path, 'repeats'], reading)
  }
}

function checkCorrection(
  findings: Findings,
  correction: EntryOf<'correction'>,
  entries: Entries,
  path: Path,
): void {
  const { of, from, to, id } = correction
  const corrected = entries.get(of)?.entry
  if (corrected !== 'reading' && corrected !== 'leadCheck') {
    return unknown(findings, 'reading', of, [...path, 'of'], correction)
  }
  if (corrected === 'leadCheck' && (from ?? to)) {
    inconsistent(findings, 'a lead check has no points to correct', path, id)
  }
  if (from) checkPart(findings, from.part, [...path, 'from', 'part'], 'mayStray', id)
  if (to) checkPart(findings, to.part, [...path, 'to', 'part'], 'mayStray', id)
}

function checkProof(
  findings: Findings,
  entry: EntryOf<'defect' | 'defectStep'>,
  entries: Entries,
  path: Path,
): void {
  entry.proof.forEach((id, k) => {
    if (!entries.has(id)) unknown(findings, 'entry', id, [...path, 'proof', k], entry)
  })
}

/** One entry against the record that it stands in or is to be added to. */
export function checkEntry(
  findings: Findings,
  entry: Entry,
  entries: Entries,
  visits: Visits,
  path: Path,
): void {
  if (entry.entry === 'visit' || entry.entry === 'amendment') {
    checkIds(findings, entry.kits, 'kit', [...path, 'kits'])
    checkIds(findings, entry.leads, 'lead', [...path, 'leads'])
  }
  if (entry.entry === 'visit') return
  const said = visits.get(entry.visit)
  if (!said) return unknown(findings, 'visit', entry.visit, [...path, 'visit'], entry)
  switch (entry.entry) {
    case 'amendment':
      return
    case 'nulling':
    case 'leadCheck':
      return checkInstruments(findings, entry, said, path)
    case 'volts':
      checkPart(findings, entry.from, [...path, 'from'], 'mayStray', entry.id)
      return checkPart(findings, entry.to, [...path, 'to'], 'mayStray', entry.id)
    case 'reading':
      checkInstruments(findings, entry, said, path)
      return checkReading(findings, entry, entries, path)
    case 'correction':
      return checkCorrection(findings, entry, entries, path)
    case 'withdrawal':
      if (!entries.has(entry.of) || entry.of === entry.id) {
        unknown(findings, 'entry', entry.of, [...path, 'of'], entry)
      }
      return
    case 'look':
      if (entry.findings.includes('sound') && entry.findings.length > 1) {
        inconsistent(
          findings,
          'a joint that looks sound has no other finding',
          [...path, 'findings'],
          entry.id,
        )
      }
      return checkJoint(findings, entry.joint, [...path, 'joint'], 'mayStray', entry.id)
    case 'defect':
      entry.joints.forEach((joint, k) =>
        checkJoint(findings, joint, [...path, 'joints', k], 'mayStray', entry.id),
      )
      return checkProof(findings, entry, entries, path)
    case 'defectStep':
      if (entries.get(entry.of)?.entry !== 'defect') {
        unknown(findings, 'defect', entry.of, [...path, 'of'], entry)
      }
      if (entry.joint !== null) checkJoint(findings, entry.joint, [...path, 'joint'], 'mayStray', entry.id)
      return checkProof(findings, entry, entries, path)
    case 'repair':
      return checkJoint(findings, entry.joint, [...path, 'joint'], 'mayStray', entry.id)
    case 'note':
      if (entry.about !== null) checkPartOrJoint(findings, entry.about, [...path, 'about'], entry.id)
      return
    case 'signature':
      entry.entries.forEach((id, k) => {
        if (!entries.has(id)) unknown(findings, 'entry', id, [...path, 'entries', k], entry)
      })
  }
}

/** The record's entries against each other and against the drawing. */
export function checkRecord(findings: Findings, record: readonly Entry[]): void {
  checkIds(findings, record, 'entry', ['record'])
  const counted = new Set<string>()
  const entries = new Map<string, Entry>()
  record.forEach((entry, k) => {
    if (!entries.has(entry.id)) entries.set(entry.id, entry)
    const count = `${entry.device} ${entry.counter}`
    if (counted.has(count)) {
      const where = { path: ['record', k, 'counter'], entry: entry.id }
      // It happens with two windows on one device, and what both recorded is wanted: told, not refused.
      addTold(findings, problem('reference.duplicateId', { what: 'device and counter', id: count }, where))
    }
    counted.add(count)
  })
  const visits = visitsOf(record)
  record.forEach((entry, k) => checkEntry(findings, entry, entries, visits, ['record', k]))
}
