import { describe, expect, it } from 'vitest'
import { problem, type ProblemCode, type ProblemFacts } from '../../src/model/problem.ts'
import { describeProblem, problemLine } from '../../src/text/problems.ts'
import { describeWhere, printable } from '../../src/text/where.ts'

/** Facts of each code, and what its sentence must say: a code that is missing here does not compile. */
const examples: {
  readonly [C in ProblemCode]: { readonly facts: ProblemFacts[C]; readonly says: readonly string[] }
} = {
  'file.missing': { facts: { reason: 'no such file' }, says: ['no such file', 'Check'] },
  'file.tooLarge': {
    facts: { bytes: 70 * 1024 ** 2, mostBytes: 64 * 1024 ** 2 },
    says: ['(70 MB)', '64 MB'],
  },
  'file.tooLongToSave': {
    facts: { bytes: 70 * 1024 ** 2, mostBytes: 64 * 1024 ** 2 },
    says: ['(70 MB)', '64 MB', 'not saved', 'as it was', 'Undo'],
  },
  'file.empty': { facts: {}, says: ['empty'] },
  'file.notText': { facts: {}, says: ['UTF-8'] },
  'file.notJson': {
    facts: { reason: 'a comma is missing', truncated: false },
    says: ['JSON', 'a comma is missing'],
  },
  'file.notASite': { facts: { found: 'nothing' }, says: ['groundweave-site', 'nothing'] },
  'file.newerVersion': { facts: { version: 7, known: 1 }, says: ['version 7', 'up to 1', 'newer program'] },
  'file.badVersion': { facts: { found: '"one"' }, says: ['whole number', '"one"'] },
  'value.unknownKey': { facts: { keys: ['colour'] }, says: ['“colour”'] },
  'value.missing': { facts: { expected: 'a number' }, says: ['missing', 'a number'] },
  'value.wrong': { facts: { expected: 'a number', found: '"x"' }, says: ['a number', '"x"'] },
  'value.outOfRange': { facts: { expected: 'at most 90', found: '95' }, says: ['at most 90', '95', 'unit'] },
  'value.inconsistent': { facts: { reason: 'station 9 does not exist' }, says: ['station 9 does not exist'] },
  'reference.badAddress': {
    facts: { text: 'R3-T7', expected: 'part' },
    says: ['“R3-T7”', 'part', 'R3/T7/F2.14'],
  },
  'reference.noSuchPart': {
    facts: { text: 'R3/T9/F1.1', nearest: 'R3/T8/F1.1' },
    says: ['R3/T9/F1.1', 'R3/T8/F1.1'],
  },
  'reference.noSuchJoint': { facts: { text: 'J9', nearest: null }, says: ['“J9”', 'joint'] },
  'reference.duplicateId': { facts: { what: 'row', id: '4' }, says: ['row', '“4”', 'more than once'] },
  'reference.unknownName': { facts: { what: 'joint kind', name: 'glue' }, says: ['joint kind', '“glue”'] },
  'reference.idNotCounted': { facts: { what: 'table', id: 9, next: 9 }, says: ['table 9', '10'] },
  'reference.samePart': { facts: { text: 'B1' }, says: ['“B1”', 'same'] },
  'reference.conflict': { facts: { id: 'abc' }, says: ['“abc”', 'differ'] },
  'reference.otherSite': { facts: { found: 'North', expected: 'South' }, says: ['“North”', '“South”'] },
  'edit.notThere': { facts: { what: 'row', id: '3' }, says: ['row', '“3”'] },
  'edit.inUse': { facts: { what: 'table type', id: 'a', users: 2 }, says: ['table type', '2 places'] },
  'edit.orphans': { facts: { addresses: ['J1', 'J2'], total: 12 }, says: ['12 addresses', 'J1', '10 more'] },
  'label.placeholder': {
    facts: { found: '{tabel}', counted: ['row', 'table'] },
    says: ['{tabel}', '{row}, {table} and {name}', '{row:02}'],
  },
  'label.noLetter': { facts: { counted: 'table' }, says: ['no letter for 0', 'tables count from 1'] },
  'size.tooManyJoints': { facts: { joints: 6_000_000, most: 5_000_000 }, says: ['6,000,000', '5,000,000'] },
  'size.tooMany': { facts: { what: 'parts', found: 9, most: 8 }, says: ['9 parts', '8'] },
  'file.notWritten': {
    facts: { reason: 'the disk is full.' },
    says: ['the disk is full. What', 'as it was'],
  },
  'file.notTable': { facts: {}, says: ['no text', 'CSV'] },
  'file.notGeoJson': { facts: { found: '“circle”' }, says: ['GeoJSON', '“circle”', 'FeatureCollection'] },
  'file.several': { facts: { count: 3 }, says: ['3 files', 'one site file'] },
  'storage.blocked': { facts: { reason: 'a setting' }, says: ['a setting', 'as a file', 'private'] },
  'storage.newer': { facts: {}, says: ['newer version', 'nothing was changed'] },
  'storage.closed': { facts: {}, says: ['closed', 'as a file', 'again'] },
  'storage.full': {
    facts: { name: 'North', bytes: 3 * 1024 ** 2, freeBytes: 1024 ** 2 },
    says: ['“North”', '3 MB', '1 MB are free', 'as it was', 'as a file', 'bin'],
  },
  'storage.failed': {
    facts: { doing: 'write', reason: 'disk error' },
    says: ['disk error', 'as it was', 'as a file'],
  },
  'storage.notThere': { facts: {}, says: ['not kept', 'bin', 'file'] },
  'storage.conflict': {
    facts: { name: 'North', savedAt: '2031-05-04T08:05:00+02:00', keptAs: 'North, recovered' },
    says: ['“North”', '2031-05-04 08:05', '“North, recovered”', 'nothing was written over'],
  },
  'storage.damaged': {
    facts: {
      name: 'North',
      savedAt: '2031-05-04T08:05:00+02:00',
      olderSavedAt: '2031-05-03T17:30:00+02:00',
    },
    says: ['“North”', '2031-05-04 08:05', '2031-05-03 17:30', 'set aside'],
  },
  'storage.recovered': { facts: { names: ['North'] }, says: ['“North”', 'was brought back', 'file'] },
  'storage.heldElsewhere': { facts: {}, says: ['another tab', 'looked at'] },
  'photo.tooLarge': { facts: { bytes: 900_000, mostBytes: 600_000 }, says: ['879 KB', '586 KB', 'smaller'] },
  'photo.notThere': { facts: { sha256: 'ab12cd34ef' }, says: ['ab12cd34', 'not kept'] },
  'photo.damaged': { facts: { sha256: 'ab12cd34ef' }, says: ['ab12cd34', 'damaged'] },
  'photo.inUse': { facts: { sha256: 'ab12cd34ef' }, says: ['ab12cd34', 'stays'] },
  'zip.refused': {
    facts: { reason: 'name', name: '../x' },
    says: ['“../x”', 'not opened', 'no site with its photos'],
  },
  'photo.notAPhoto': { facts: { found: 'text' }, says: ['JPEG', 'text'] },
  'numeric.residual': { facts: { residual: 1e-3, most: 1e-6 }, says: ['1.0e-3', '1e-6'] },
  'command.unknown': {
    facts: { given: 'loacte', known: ['check', 'locate'] },
    says: ['“loacte”', 'check and locate'],
  },
  'command.usage': {
    facts: { usage: 'x FILE', reason: 'no file is named' },
    says: ['no file is named.', 'x FILE'],
  },
  'command.noReadings': { facts: {}, says: ['no reading'] },
  'drill.none': { facts: {}, says: ['No drill', 'hide a joint'] },
  'drill.over': { facts: {}, says: ['over'] },
  'drill.nothingToHide': { facts: {}, says: ['no joint', 'finer instrument'] },
  'drill.unseen': { facts: {}, says: ['hardly change', 'another joint'] },
  'drill.nothingRead': { facts: {}, says: ['Read a pair first'] },
  'drill.noSuchReading': { facts: { reading: 9, readings: 3 }, says: ['no reading 9', '3 were taken'] },
  'drill.changed': { facts: {}, says: ['cannot go on', 'begin another'] },
  'drill.mayNotAsk': { facts: {}, says: ['switched this help off'] },
  'drill.nothingToGoOn': { facts: {}, says: ['Read a pair first'] },
  'drill.calledBefore': { facts: { what: 'Joint J1.' }, says: ['Joint J1.', 'called before'] },
  cancelled: { facts: {}, says: ['stopped'] },
}
const codes = Object.keys(examples) as ProblemCode[]

describe('problems', () => {
  it.each(codes)('%s says what happened and ends as a sentence', (code) => {
    const { facts, says } = examples[code]
    const sentence = describeProblem(problem(code, facts))
    for (const fact of says) expect(sentence).toContain(fact)
    expect(sentence).not.toMatch(/undefined|NaN|\[object/)
    if (code !== 'command.usage') expect(sentence).toMatch(/^\S.*[.]$/s)
    expect(sentence).not.toMatch(/\bsafe\b/i)
  })

  it('a file that was cut off is not blamed for its grammar', () => {
    const cut = describeProblem(problem('file.notJson', { reason: 'the end', truncated: true }))
    expect(cut).toContain('cut off')
    expect(cut).not.toContain('not valid JSON')
  })

  it('storage that fails says in both ways whether something was read or written', () => {
    const read = describeProblem(problem('storage.failed', { doing: 'read', reason: 'disk error' }))
    expect(read).toContain('could not be read: disk error')
    const gone = { name: 'North', savedAt: '2031-05-04T08:05:00Z', olderSavedAt: null }
    expect(describeProblem(problem('storage.damaged', gone))).toContain('cannot be opened')
    const full = describeProblem(problem('storage.full', { name: null, bytes: 2048, freeBytes: null }))
    expect(full).toContain('it takes 2 KB. What')
  })

  it('place and sentence in one line', () => {
    const line = problemLine(problem('file.empty', {}, { file: 'roof.json' }))
    expect(line).toBe('roof.json: The file is empty. Open an earlier copy of it.')
    expect(problemLine(problem('cancelled', {}))).toMatch(/^The computation/)
  })
})

describe('places', () => {
  it('from the file down, list items counted from 1st', () => {
    expect(
      describeWhere({ file: 'roof.json', path: ['drawing', 'rows', 3, 'bearingDeg'], line: 3, column: 14 }),
    ).toBe('roof.json, drawing › rows › 4th › bearingDeg, line 3, column 14')
    expect(describeWhere({ address: 'R3/T7/F2.14', entry: 'abc' })).toBe('R3/T7/F2.14, record entry abc')
    expect(describeWhere({})).toBe('')
  })

  it('what comes from a file cannot command a terminal or break a line', () => {
    expect(printable('a\u001b[2J\r\nb\u202ec\u009b')).toBe('a [2J bc ')
    expect(printable('x'.repeat(500))).toHaveLength(120)
    expect(describeWhere({ file: 'a\nb.json', path: ['k\u0007'] })).toBe('a b.json, k ')
  })
})
