import type { SiteIndex } from '../../layout/siteIndex.ts'
import { limits } from '../../model/limits.ts'
import type { Problem } from '../../model/problem.ts'
import { problem } from '../../model/problem.ts'
import type { EntryOf, Kit, OhmOrOver, Spot } from '../../model/schema/record.ts'
import { methodNames, methodOf, spotOf, surfaceOf } from '../../text/readingListText.ts'
import { quoted } from '../../text/where.ts'
import { cleanNote } from '../cleanLabel.ts'
import type { Line } from '../tables/readCells.ts'
import { usualSurface } from './usualSurface.ts'
import type { EndMatcher } from './matchEnds.ts'
import { isNone, type ReadingChoices, type ReadingTarget } from './readingChoices.ts'
import { unitOfHeading, type ReadingRole } from './readingColumns.ts'
import { plainDigits, readOhms, saysOver, unitIn, type CellFault, type OhmWord } from './readOhms.ts'
import { readInstant, type ZoneOf } from './readTimes.ts'

/** A reading as a line of a list says it. */
export interface ListedReading {
  /** Line of the list, from 1. */
  readonly line: number
  readonly method: EntryOf<'reading'>['method']
  readonly kit: Kit
  readonly lead: string | null
  readonly from: Spot
  readonly to: Spot
  readonly around: string | null
  readonly result: OhmOrOver
  readonly reverseOhm: number | null
  readonly unsteady: EntryOf<'reading'>['unsteady']
  readonly testCurrentA: number | null
  readonly metalC: number | null
  readonly trackerDeg: number | null
  readonly spikesM: EntryOf<'reading'>['spikesM']
  /** Null where the list gives no time. */
  readonly at: string | null
  readonly isNulled: boolean
  /** The list says so, as against what was chosen for lines that say nothing. */
  readonly saysNulled: boolean
  /** As the list has it: a number of the list, or `true` for the last one of the same pair. */
  readonly repeats: string | true | null
  readonly number: string
  readonly note: string
}

export interface LineContext {
  readonly index: SiteIndex
  readonly matcher: EndMatcher
  readonly target: ReadingTarget
  readonly choices: ReadingChoices
  readonly header: readonly string[]
  readonly zoneOf: ZoneOf
  readonly nowMs: number
}

/** Clocks of devices differ, and days have zones: what was read is not later than this. */
const aheadMs = 24 * 3600_000
const yes = /^(yes|y|true|x|1|ok|✓|✔|ja|si|sí|oui)$/i
const no = /^(no|n|false|0|none|-|–)?$/i

/** Reads cells of one line and collects what is wrong with them. */
export class ReadingLineReader {
  readonly #context: LineContext
  readonly #line: Line
  readonly wrong: Problem[] = []

  constructor(context: LineContext, line: Line) {
    this.#context = context
    this.#line = line
  }

  get isWithdrawn(): boolean {
    return yes.test(this.#text('withdrawn'))
  }

  read(): ListedReading | null {
    const { choices } = this.#context
    if (this.#line.isBroken) {
      const expected = 'a quotation mark only around a whole cell, and doubled within it'
      const facts = { expected, found: 'one that stands alone, or is never closed' }
      this.wrong.push(problem('value.wrong', facts, { line: this.#line.number }))
      return null
    }
    const method = this.#method()
    const kit = this.#kit(method)
    if (kit === null) return null
    const from = this.#spot('from', kit.method === 'earthElectrode' ? 'electrode' : 'part')
    const to =
      kit.method === 'earthElectrode' ? earth : kit.method === 'loopClamp' ? from : this.#spot('to', 'part')
    const around = kit.method === 'loopClamp' ? this.#around() : null
    const result = this.#result(kit)
    const extras = this.#extras()
    const at = this.#at()
    const nulled = this.#yesNo('nulled')
    if (from && to && from.part === to.part && kit.method !== 'loopClamp') {
      this.wrong.push(problem('reference.samePart', { text: this.#text('to') }, this.#where('to')))
    }
    if (from === null || to === null || result === null || this.wrong.length > 0) return null
    const repeats = this.#text('repeats')
    return {
      line: this.#line.number,
      method: kit.method,
      kit,
      lead: this.#lead(kit),
      from,
      to,
      around,
      result,
      ...extras,
      at,
      isNulled: nulled ?? choices.nulled,
      saysNulled: nulled !== null,
      repeats:
        repeats === '' || /^(no|n|false|-|–)$/i.test(repeats)
          ? null
          : yes.test(repeats) && choices.columns.number < 0
            ? true
            : repeats,
      number: this.#text('number'),
      note: cleanNote(this.#text('note')),
    }
  }

  #text(role: ReadingRole): string {
    const column = this.#context.choices.columns[role]
    return column < 0 ? '' : (this.#line.cells[column] ?? '').trim()
  }

  #where(role: ReadingRole) {
    const column = this.#context.choices.columns[role]
    const heading = column < 0 ? role : this.#context.header[column] || role
    return {
      path: [this.#context.choices.firstLine === 'headings' ? heading : role],
      line: this.#line.number,
    }
  }

  #fault(role: ReadingRole, { code, expected }: CellFault): null {
    const found = this.#text(role)
    const where = this.#where(role)
    if (code === 'value.missing' || found === '')
      this.wrong.push(problem('value.missing', { expected }, where))
    else this.wrong.push(problem(code, { expected, found: quoted(found, 60) }, where))
    return null
  }

  #spot(role: 'from' | 'to', what: 'part' | 'electrode'): Spot | null {
    const text = this.#text(role)
    if (text === '')
      return this.#fault(role, { code: 'value.missing', expected: 'the name or address of a part' })
    const match = this.#context.matcher.part(text)
    if (!match.ok) {
      const near = match.near.length === 0 ? '' : `; nearest: ${match.near.join(', ')}`
      const expected = match.why === 'ambiguous' ? 'what can mean one part only' : 'a part of this drawing'
      const found = `${quoted(text, 60)}${match.why === 'ambiguous' ? `, which may be ${match.near.join(', or ')}` : near}`
      this.wrong.push(problem('value.wrong', { expected, found }, this.#where(role)))
      return null
    }
    if (match.address === 'earth') {
      const expected = `a ${what}; only an electrode test goes to remote earth, and it is its second point`
      return this.#fault(role, { code: 'value.wrong', expected })
    }
    const spot = spotOf(this.#text(role === 'from' ? 'fromSpot' : 'toSpot'))
    const surface = surfaceOf(this.#text(role === 'from' ? 'fromSurface' : 'toSurface'))
    if (spot === null) {
      return this.#fault(role === 'from' ? 'fromSpot' : 'toSpot', {
        code: 'value.wrong',
        expected: 'face, cut edge, bolt head, lug, conductor, stud or nothing',
      })
    }
    if (surface === null) {
      return this.#fault(role === 'from' ? 'fromSurface' : 'toSurface', {
        code: 'value.wrong',
        expected: 'bare, coated, pierced or nothing',
      })
    }
    return {
      part: match.address,
      spot,
      surface: surface ?? usualSurface(this.#context.index.drawing, match.address),
    }
  }

  #around(): string | null {
    const joint = this.#context.matcher.joint(this.#text('around'))
    const expected = 'the address of the joint or wire that the jaws were closed around'
    return joint ?? this.#fault('around', { code: 'value.wrong', expected })
  }

  #method(): Kit['method'] | null {
    const text = this.#text('method')
    if (text === '') return null
    const method = methodOf(text)
    return (
      method ??
      this.#fault('method', { code: 'value.wrong', expected: Object.values(methodNames).join(', ') })
    )
  }

  #kit(method: Kit['method'] | null): Kit | null {
    const { target, choices } = this.#context
    const text = this.#text('instrument').toLowerCase()
    const serial = this.#text('serial').toLowerCase()
    const own = target.kits.filter(({ method: of }) => method === null || of === method)
    const isCalled = (kit: Kit) =>
      [kit.id, kit.name.trim(), `${kit.name.trim()}, ${kit.serial}`].some(
        (name) => name.toLowerCase() === text,
      )
    if (text === '' && serial === '') {
      const chosen = own.find(({ id }) => id === choices.kit) ?? (method === null ? undefined : own[0])
      if (chosen) return chosen
      const expected = `an instrument of the visit${method === null ? '' : ` for this method (${methodNames[method]})`}`
      return this.#fault('instrument', { code: 'value.missing', expected })
    }
    const said = choices.kitOf.get(text)
    const named = said
      ? own.filter(({ id }) => id === said)
      : own.filter(
          (kit) => (text === '' || isCalled(kit)) && (text !== '' || kit.serial.toLowerCase() === serial),
        )
    const exact = named.length > 1 ? named.filter((kit) => kit.serial.toLowerCase() === serial) : named
    if (exact.length === 1) return exact[0]
    const names = own.map(({ name }) => name).join(', ')
    const expected =
      exact.length > 1
        ? 'a serial number that tells alike instruments apart'
        : `an instrument of the visit (${names || 'none fits'})`
    return this.#fault(text === '' ? 'serial' : 'instrument', { code: 'value.wrong', expected })
  }

  #lead(kit: Kit): string | null {
    const { target, choices } = this.#context
    const text = this.#text('lead')
    if (kit.method !== 'twoWire' && (text === '' || isNone(text))) return null
    if (text === '') return choices.lead
    if (isNone(text)) return null
    const small = text.toLowerCase()
    const said = choices.leadOf.get(small)
    const named = target.leads.filter(({ id, name }) =>
      said ? id === said : [id, name.trim()].some((one) => one.toLowerCase() === small),
    )
    if (named.length === 1) return named[0].id
    return this.#fault('lead', {
      code: 'value.wrong',
      expected: `one lead of the visit (${target.leads.map(({ name }) => name).join(', ') || 'none'})`,
    })
  }

  #unit(role: ReadingRole): OhmWord | null {
    const { choices, header } = this.#context
    const column = choices.columns[role]
    const own =
      role === 'value' || column < 0 || choices.firstLine === 'reading'
        ? null
        : unitOfHeading(header[column] ?? '')
    return own === null || own === 'unclear' ? choices.unit : own
  }

  #result(kit: Kit): OhmOrOver | null {
    const { choices } = this.#context
    const text = this.#text('value')
    const isOver = this.#yesNo('over') === true || (this.#text('over') !== '' && saysOver(this.#text('over')))
    if (text === '') {
      if (isOver) return { form: 'over', atLeastOhm: kit.mostOhm }
      return this.#fault('value', { code: 'value.missing', expected: 'the ohms that were read' })
    }
    const unitText = this.#text('unit')
    const unit = unitText === '' ? this.#unit('value') : unitIn(unitText.replace(/[\s-]+/g, ''))
    if (unit === 'unclear' || (unitText !== '' && unit === null)) {
      return this.#fault('unit', { code: 'value.wrong', expected: 'Ω, mΩ, µΩ, kΩ or MΩ' })
    }
    const read = readOhms(text, { marks: choices.marks, unit }, kit.mostOhm)
    if (!read.ok) return this.#fault('value', read.error)
    if (isOver && read.value.form === 'ohm') {
      return read.value.ohm > 0
        ? { form: 'over', atLeastOhm: read.value.ohm }
        : { form: 'over', atLeastOhm: kit.mostOhm }
    }
    return read.value
  }

  #ohm(role: 'reverse' | 'least' | 'most'): number | null {
    const text = this.#text(role)
    if (text === '') return null
    const read = readOhms(
      text,
      { marks: this.#context.choices.marks, unit: this.#unit(role) },
      limits.readingOhm,
    )
    if (!read.ok) return this.#fault(role, read.error)
    return read.value.form === 'ohm'
      ? read.value.ohm
      : this.#fault(role, { code: 'value.wrong', expected: 'ohms' })
  }

  #number(role: ReadingRole, expected: string, low: number, high: number): number | null {
    const text = this.#text(role).replace(/\s*(°C|°|A|m|C)$/u, '')
    if (text === '') return null
    const plain = plainDigits(text, this.#context.choices.marks)
    if (plain === null) return this.#fault(role, { code: 'value.wrong', expected })
    const value = Number(plain)
    return value >= low && value <= high ? value : this.#fault(role, { code: 'value.outOfRange', expected })
  }

  #extras() {
    const [least, most] = [this.#ohm('least'), this.#ohm('most')]
    if (least !== null && most !== null && least > most) {
      this.#fault('least', { code: 'value.outOfRange', expected: 'no more than the highest value' })
    }
    const current = this.#number('currentSpike', 'metres of a spike above 0', 1e-3, limits.coordinateM)
    const potential = this.#number('potentialSpike', 'metres of a spike above 0', 1e-3, limits.coordinateM)
    return {
      reverseOhm: this.#ohm('reverse'),
      unsteady: least !== null && most !== null ? { leastOhm: least, mostOhm: most } : null,
      testCurrentA: this.#number('testCurrent', 'amperes above 0', 1e-9, 10_000),
      metalC: this.#number('metalC', 'degrees Celsius from −90 to 200', -90, 200),
      trackerDeg: this.#number('trackerDeg', 'degrees from −90 to 90', -90, 90),
      spikesM: current !== null && potential !== null ? { current, potential } : null,
    }
  }

  #at(): string | null {
    const [date, time] = [this.#text('date'), this.#text('time')]
    if (date === '' && time === '') return null
    const { order } = this.#context.choices
    const read = readInstant(date, time, order, this.#context.zoneOf)
    const role = date === '' ? 'time' : this.#text('time') === '' ? 'date' : 'date'
    if (!read.ok) return this.#fault(role, read.error)
    if (Date.parse(read.value) > this.#context.nowMs + aheadMs) {
      return this.#fault(role, { code: 'value.outOfRange', expected: 'a time that has come already' })
    }
    return read.value
  }

  #yesNo(role: 'nulled' | 'over'): boolean | null {
    const text = this.#text(role)
    if (text === '') return null
    if (yes.test(text)) return true
    if (no.test(text)) return false
    if (role === 'over') return saysOver(text)
    return this.#fault(role, { code: 'value.wrong', expected: 'yes or no' })
  }
}

const earth: Spot = { part: 'earth', spot: 'unknown', surface: 'bare' }
