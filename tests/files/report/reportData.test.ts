import { describe, expect, it } from 'vitest'
import { kitWarnings } from '../../../src/files/report/reportVisits.ts'
import { siteOfVisits } from '../../../src/files/report/siteOfVisits.ts'
import { reportData } from '../../../src/files/report/reportData.ts'
import type { Entry, EntryOf } from '../../../src/model/schema/record.ts'
import type { Site } from '../../../src/model/schema/site.ts'
import { leadOhm } from '../../../src/reading/leadOhm.ts'
import { lookOf, verdictsOf } from '../../../src/state/readingLook.ts'
import { formatReadOhm } from '../../../src/text/ohms.ts'
import { fixedParts } from '../../../src/text/reportText.ts'
import { reportSections } from '../../../src/files/report/reportSections.ts'
import { answersOf, demoSite, reportOf, sectionsOf, textsOf, visitsOf } from './reportOf.ts'

const field = demoSite('field')
const device = field.record[0].device
const uuid = (n: number) => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`
const isReading = (entry: Entry): entry is EntryOf<'reading'> => entry.entry === 'reading'
const readingsOf = (site: Site) => site.record.filter(isReading)
const stamp = (n: number, at: string) => ({ id: uuid(n), device, counter: 5000 + n, at })
const allText = (site: Site, visits = visitsOf(site)) =>
  sectionsOf(reportOf(site, visits)).flatMap(({ blocks }) => blocks.flatMap(textsOf))

function withEntries(site: Site, ...entries: readonly Entry[]): Site {
  return { ...site, record: [...site.record, ...entries] }
}

const [firstVisit] = visitsOf(field)

/** The field with a withdrawal and a correction. */
function changedField(): Site {
  const [one, other] = readingsOf(field)
  return withEntries(
    field,
    {
      ...stamp(1, '2026-05-12T09:00:00Z'),
      entry: 'withdrawal',
      visit: firstVisit,
      of: one.id,
      reason: 'Wrong point',
    },
    {
      ...stamp(2, '2026-05-12T09:01:00Z'),
      entry: 'correction',
      visit: firstVisit,
      of: other.id,
      result: { form: 'ohm', ohm: 0.777 },
      from: null,
      to: null,
      reason: 'Typed wrongly',
    },
  )
}

/** A second visit of one reading, with a note of its own. */
function twoVisits(): Site {
  const visit = field.record.find((entry): entry is EntryOf<'visit'> => entry.entry === 'visit')!
  const [like] = readingsOf(field)
  return withEntries(
    field,
    { ...visit, ...stamp(10, '2026-06-01T08:00:00Z'), purpose: 'Second round' },
    {
      ...like,
      ...stamp(11, '2026-06-01T08:10:00Z'),
      visit: uuid(10),
      result: { form: 'ohm', ohm: 0.123 },
      note: 'of the second round',
    },
  )
}

describe.each(['field', 'roof', 'tracker'] as const)('the report of the %s demo', (name) => {
  const site = demoSite(name)
  const data = reportOf(site)
  const sections = sectionsOf(data)
  const rows = sections
    .filter(({ part }) => part === 'readings')
    .flatMap(({ blocks }) => blocks.flatMap((block) => (block.form === 'table' ? block.rows : [])))

  it('tells every reading exactly once, with the ohms of the record', () => {
    expect(rows.map(({ key }) => key).sort()).toEqual(
      readingsOf(site)
        .map(({ id }) => id)
        .sort(),
    )
    for (const { id, result } of readingsOf(site)) {
      const cells = rows.find(({ key }) => key === id)!.cells
      const shown = result.form === 'ohm' && result.ohm > 0 ? formatReadOhm(result.ohm) : null
      if (shown !== null) expect(cells).toContain(shown)
    }
  })

  it('has the numbers that it was computed from', () => {
    const { locate, judge } = answersOf(site)
    for (const { entry, answer, judged } of data.groups.flatMap(({ readings }) => readings)) {
      expect(answer).toEqual(locate.readings.find((one) => one.entry === entry))
      expect(judged).toEqual(judge.readings.find((one) => one.entry === entry))
    }
    const counted = Object.values(data.counts).reduce((sum, count) => sum + count, 0)
    expect(counted).toBe(readingsOf(site).length)
  })

  it('never calls anything safe, and says pass of nothing', () => {
    const words = sections.flatMap(({ blocks }) => blocks.flatMap(textsOf)).join(' ')
    expect(words).not.toMatch(/\bsafe\b|\bpass(ed|es)?\b/i)
  })
})

describe('what changed in the record', () => {
  it('has withdrawn readings in their own list and nowhere among those that count', () => {
    const site = changedField()
    const [one] = readingsOf(site)
    const data = reportOf(site)
    expect(data.withdrawn.map(({ entry }) => entry)).toEqual([one.id])
    expect(data.groups.flatMap(({ readings }) => readings).some(({ entry }) => entry === one.id)).toBe(false)
    expect(data.counts.withdrawn).toBe(1)
  })

  it('tells the first value of a correction beside the one that holds', () => {
    const site = changedField()
    const other = readingsOf(site)[1]
    const changes = sectionsOf(reportOf(site)).find(({ part }) => part === 'changes')!
    const rows = changes.blocks.flatMap((block) => (block.form === 'table' ? block.rows : []))
    const row = rows.find(({ key }) => key === uuid(2))!
    const first = other.result.form === 'ohm' ? formatReadOhm(other.result.ohm) : ''
    expect(row.cells).toEqual(['2026-05-12 09:01', 'reading 2', first, '777 mΩ', 'Typed wrongly'])
  })

  it('is told whatever sections are left out', () => {
    const job = reportSections(reportOf(changedField()), [])
    let step = job.next()
    while (!step.done) step = job.next()
    expect(step.value.map(({ part }) => part)).toEqual(fixedParts)
    expect(step.value.flatMap(({ blocks }) => blocks.flatMap(textsOf))).toContain('Wrong point')
  })
})

describe('one visit of two', () => {
  const site = twoVisits()

  it('has nothing of the other visit', () => {
    const first = allText(site, [firstVisit]).join('\n')
    expect(first).not.toMatch(/Second round|of the second round|123 mΩ|2026-06-01/)
    const second = allText(site, [uuid(10)]).join('\n')
    expect(second).toMatch(/of the second round/)
    expect(second).not.toMatch(/First test after erection|2\.14 Ω/)
  })

  it('keeps the numbers that readings have in the whole record', () => {
    const data = reportOf(site, [uuid(10)])
    expect(data.groups.flatMap(({ readings }) => readings).map(({ number }) => number)).toEqual([51])
    expect(data.locate.readings).toHaveLength(51)
  })

  it('takes along what was said later, in another visit, about its readings', () => {
    const [one] = readingsOf(site)
    const taken = withEntries(site, {
      ...stamp(12, '2026-06-01T08:20:00Z'),
      entry: 'withdrawal',
      visit: uuid(10),
      of: one.id,
      reason: 'Clip slipped',
    })
    const ids = siteOfVisits(taken, [firstVisit]).record.map(({ id }) => id)
    expect(ids).toContain(uuid(12))
    expect(ids).not.toContain(uuid(11))
    const answers = answersOf(taken, [firstVisit])
    const data = reportData({ site: taken, visits: [firstVisit], ...answers, madeAt: '2026-06-02T00:00:00Z' })
    expect(data.withdrawn.map(({ entry }) => entry)).toEqual([one.id])
  })

  it('is the site itself where all visits are chosen', () => {
    expect(siteOfVisits(site, visitsOf(site))).toBe(site)
  })
})

describe('what was signed', () => {
  const entries = field.record.map(({ id }) => id)
  const draft = {
    ...stamp(20, '2026-05-12T10:00:00Z'),
    entry: 'signature' as const,
    visit: firstVisit,
    role: 'tester' as const,
    name: 'A. Rowan',
    drawing: field.drawing.revision,
    drawingRevision: field.drawing.facts.drawingRevision,
    plan: null,
    planPair: null,
    note: '',
    entries,
    digest: 'a'.repeat(64),
  }
  const signed = withEntries(field, draft)
  const stateOf = (site: Site, digest: string | null) => {
    const data = reportData({
      site,
      visits: visitsOf(site),
      ...answersOf(site),
      madeAt: '2026-06-02T00:00:00Z',
      digestOf: () => digest,
    })
    return { data, state: data.signatures[0].state.state }
  }

  it('holds, or does not match, by its digest; without one it was not checked', () => {
    expect(stateOf(signed, draft.digest).state).toBe('holds')
    expect(stateOf(signed, 'b'.repeat(64)).state).toBe('doesNotMatch')
    expect(stateOf(signed, null).state).toBe('unchecked')
  })

  it('is reopened by what was added after it, and that is listed', () => {
    const late = withEntries(signed, {
      ...stamp(21, '2026-05-12T11:00:00Z'),
      entry: 'note',
      visit: firstVisit,
      about: null,
      text: 'Came back once more.',
    })
    const { data, state } = stateOf(late, draft.digest)
    expect(state).toBe('reopened')
    const changes = sectionsOf(data).find(({ part }) => part === 'changes')!
    const rows = changes.blocks.flatMap((block) => (block.form === 'table' ? block.rows : []))
    expect(rows.map(({ key }) => key)).toEqual([uuid(21)])
  })

  it('leaves lines for the roles that have not signed', () => {
    const block = sectionsOf(stateOf(signed, draft.digest).data)
      .flatMap(({ blocks }) => blocks)
      .find(({ form }) => form === 'signing')!
    expect(textsOf(block)).toEqual(['Contractor', 'Witness', 'Owner’s engineer'])
  })
})

describe('a defect', () => {
  it('is listed with its joint, its state and what is still to do', () => {
    const joint = 'R4/T6+T7~1'
    const about = { visit: firstVisit }
    const site = withEntries(
      field,
      {
        ...stamp(30, '2026-05-12T09:00:00Z'),
        ...about,
        entry: 'defect',
        number: 1,
        joints: [joint],
        proof: [],
        note: '',
      },
      {
        ...stamp(31, '2026-05-12T09:10:00Z'),
        ...about,
        entry: 'repair',
        joint,
        done: 'replaced',
        by: 'A. Rowan',
        torqueSetNm: 12,
        coating: 'madeGood',
        photos: [],
        note: '',
      },
      {
        ...stamp(32, '2026-05-12T09:11:00Z'),
        ...about,
        entry: 'defectStep',
        of: uuid(30),
        state: 'repaired',
        joint,
        proof: [uuid(31)],
        note: '',
      },
    )
    const defects = sectionsOf(reportOf(site)).find(({ part }) => part === 'defects')!
    const [row] = defects.blocks.flatMap((block) => (block.form === 'table' ? block.rows : []))
    expect(row.cells).toEqual([
      'D1',
      'jumper between table 4-06 and table 4-07 of Row 4 (R4/T6+T7~1)',
      'repaired',
      '2026-05-12 09:11 repaired',
      'read again after the repair',
      '',
    ])
    // what was read before the repair is not counted, and that is said
    expect(allText(site).join(' ')).toContain('taken before a repair on its path')
  })
})

describe('instruments', () => {
  const [kit] = field.record.find((entry): entry is EntryOf<'visit'> => entry.entry === 'visit')!.kits

  it('say when calibration was due before the day, and when a check lies beyond the stated error', () => {
    const checked = {
      ...kit,
      calibrationDue: '2026-05-01',
      lastCheck: { on: '2026-05-01', referenceOhm: 0.5, readOhm: 0.6 },
    }
    const warnings = kitWarnings(checked, '2026-05-12')
    expect(warnings.map(({ warning }) => warning)).toEqual(['calibrationPast', 'checkOff'])
    // ±(2 % of 0.6 Ω + 3 digits of 0.01 Ω)
    const [, off] = warnings
    expect(off.warning === 'checkOff' && [off.byOhm, off.allowedOhm].map((ohm) => ohm.toFixed(6))).toEqual([
      '0.100000',
      '0.042000',
    ])
  })

  it('say nothing of one that is in order', () => {
    const checked = {
      ...kit,
      calibrationDue: '2026-05-12',
      lastCheck: { on: '2026-05-01', referenceOhm: 0.5, readOhm: 0.53 },
    }
    expect(kitWarnings(checked, '2026-05-12')).toEqual([])
  })
})

describe('hostile text', () => {
  it('stands in a report as text, without marks that turn the direction of writing', () => {
    const hostile = '<script>1</script>=1+1\u202e מבחן 🙂'
    const site = {
      ...field,
      record: field.record.map((entry) => (isReading(entry) ? { ...entry, note: hostile } : entry)),
    }
    const told = allText(site).find((text) => text.includes('<script>'))!
    expect(told).toContain('<script>1</script>=1+1 מבחן 🙂')
  })
})

describe('plots of the readings', () => {
  const site = demoSite('roof')
  const data = reportOf(site)
  const blocks = sectionsOf(data).find(({ part }) => part === 'readings')!.blocks
  const plots = blocks.flatMap((block) => (block.form === 'plot' ? [block] : []))

  it('are drawn of every group, each with all its readings', () => {
    const { groups } = answersOf(site).comparison!
    expect(plots).toHaveLength(groups.length)
    const marks = plots.map(({ svg }) => (svg.match(/<path /g) ?? []).length)
    expect(marks.toSorted()).toEqual(groups.map(({ readings }) => readings.length).toSorted())
  })

  it('name what stands out by the number and the ohms that the table has', () => {
    const out = answersOf(site).comparison!.groups.flatMap(({ readings }) =>
      readings.filter(({ standing }) => standing !== 'alike'),
    )
    expect(out.length).toBeGreaterThan(0)
    const named = plots.map(({ svg }) => svg).join('')
    for (const { entry, readOhm } of out) {
      const { number } = data.groups.flatMap(({ readings }) => readings).find((one) => one.entry === entry)!
      expect(named).toContain(`No. ${number}: ${formatReadOhm(readOhm)}`)
    }
  })

  it('call readings of some visits by the numbers of the whole record', () => {
    const two = twoVisits()
    const visit = two.record.find((entry): entry is EntryOf<'visit'> => entry.id === uuid(10))!
    const like = readingsOf(field)
    const added = like.map((one, k) => ({
      ...one,
      ...stamp(30 + k, `2026-06-01T09:${String(k).padStart(2, '0')}:00Z`),
      visit: visit.id,
    }))
    const chosen = reportOf(withEntries(two, ...added), [visit.id])
    const texts = sectionsOf(chosen)
      .find(({ part }) => part === 'readings')!
      .blocks.flatMap((block) => (block.form === 'plot' ? [block.svg] : []))
    const numbers = texts.flatMap((svg) =>
      [...svg.matchAll(/No\. (\d+):/g)].map(([, number]) => Number(number)),
    )
    expect(numbers.length).toBeGreaterThan(0)
    expect(numbers.every((number) => number > 50)).toBe(true)
  })

  it('are left out where nothing was compared, and the tables stay', () => {
    const { locate, judge } = answersOf(site)
    const without = reportData({
      site,
      visits: visitsOf(site),
      locate,
      judge,
      madeAt: '2026-06-02T00:00:00Z',
    })
    const forms = sectionsOf(without)
      .find(({ part }) => part === 'readings')!
      .blocks.map(({ form }) => form)
    expect(forms).not.toContain('plot')
    expect(forms).toContain('table')
  })
})

describe('a lead that nobody nulled', () => {
  const visit = field.record.find((entry): entry is EntryOf<'visit'> => entry.entry === 'visit')!
  const [lead] = visit.leads
  const ownOhm = leadOhm(lead, visit.ambientC ?? field.drawing.facts.ambientC)
  // the field's readings as the same instrument shows them with the lead's own ohms in
  const site: Site = {
    ...field,
    record: field.record.flatMap((entry): Entry[] => {
      if (entry.entry === 'nulling' || entry.entry === 'leadCheck') return []
      if (entry.entry !== 'reading' || entry.result.form === 'over') return [entry]
      return [{ ...entry, result: { form: 'ohm', ohm: Math.round((entry.result.ohm + ownOhm) * 100) / 100 } }]
    }),
  }
  const data = reportOf(site)
  const readings = data.groups.flatMap((group) => group.readings)
  const rows = sectionsOf(data)
    .find(({ part }) => part === 'readings')!
    .blocks.flatMap((block) => (block.form === 'table' ? block.rows : []))

  it('is what readings above a level are told by, and not as a joint to investigate', () => {
    const above = readings.filter(
      ({ judged }) => judged?.verdict === 'investigate' || judged?.verdict === 'reject',
    )
    const inLine = above.filter(({ answer }) => answer?.verdict === 'inLine')
    expect(inLine.length).toBeGreaterThan(5)
    for (const { entry, state } of inLine) {
      expect(state).toBe('leadIn')
      const row = rows.find(({ key }) => key === entry)!
      expect(row.cells.join(' ')).toMatch(/lead not nulled: the value includes the lead’s own ohms, about \d/)
      expect(row.cells.join(' ')).not.toMatch(/investigate/)
    }
  })

  it('takes nothing from a reading that its ohms do not explain', () => {
    const high = readings.filter(({ answer }) => answer?.verdict === 'highBySuspect')
    expect(high.length).toBeGreaterThan(0)
    for (const { state } of high) expect(state).not.toBe('leadIn')
  })

  it('has the look of it on the map, and none has where leads were nulled', () => {
    const looksOf = (of: Site) => {
      const { locate, judge } = answersOf(of)
      const verdicts = verdictsOf(locate, judge)
      return readingsOf(of).map(({ id }) => lookOf(id, verdicts))
    }
    expect(looksOf(site)).toContain('leadIn')
    expect(looksOf(field)).not.toContain('leadIn')
    expect(reportOf(field).counts.leadIn).toBe(0)
  })

  it('is said below the plots that its readings are in', () => {
    const said = sectionsOf(data).flatMap(({ blocks }) => blocks.flatMap(textsOf))
    expect(said.join('\n')).toMatch(/All were taken with the lead not nulled/)
    expect(allText(field).join('\n')).not.toMatch(/not nulled: the values/)
  })
})
