import { describe, expect, it } from 'vitest'
import { newSite } from '../../src/model/newSite.ts'
import type { Entry } from '../../src/model/schema/record.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { Session } from '../../src/state/session.svelte.ts'

const uuid = (n: number) => `00000000-0000-4000-8000-${String(n).padStart(12, '0')}`
const site = newSite({ id: uuid(1), revision: uuid(2), name: 'a site', units: 'metric' })
const rename = (name: string) => (s: Site) => ({
  ...s,
  drawing: { ...s.drawing, facts: { ...s.drawing.facts, note: name } },
})

function session() {
  let n = 100
  const made = new Session(() => uuid(n++))
  made.show(site, 'saved')
  return made
}
const visit = (n: number): Entry => ({
  id: uuid(n),
  device: uuid(900),
  counter: n,
  at: '2031-05-04T08:00:00Z',
  entry: 'visit',
  party: [],
  purpose: '',
  kits: [],
  leads: [],
  weather: '',
  ambientC: null,
  isolation: '',
  inverter: 'unknown',
  isolators: 'unknown',
  lockOut: '',
})

describe('the history of the drawing', () => {
  it('goes back to the first drawing and forward to the last, step by step', () => {
    const s = session()
    for (const name of ['a', 'b', 'c']) s.commit(rename(name), `note ${name}`)
    const last = s.site?.drawing
    expect(s.undoLabel).toBe('note c')
    for (let k = 0; k < 3; k++) s.undo()
    expect(s.site?.drawing).toBe(site.drawing)
    expect(s.undoLabel).toBeNull()
    expect(s.redoLabel).toBe('note a')
    for (let k = 0; k < 3; k++) s.redo()
    expect(s.site?.drawing).toBe(last)
    expect(s.redoLabel).toBeNull()
  })

  it('takes the name of the site back and forth too, which stands beside its drawing', () => {
    const s = session()
    s.commit((each) => ({ ...each, name: 'b' }), 'name')
    s.commit(rename('a'), 'note')
    s.undo()
    expect(s.site?.name).toBe('b')
    s.undo()
    expect(s.site?.name).toBe('a site')
    s.redo()
    expect(s.site?.name).toBe('b')
  })

  it('gives each committed drawing a revision of its own and its parent', () => {
    const s = session()
    s.commit(rename('a'), 'note')
    const first = s.site?.drawing
    s.commit(rename('b'), 'note')
    expect(first?.parent).toBe(site.drawing.revision)
    expect(s.site?.drawing.parent).toBe(first?.revision)
    expect(new Set([site.drawing.revision, first?.revision, s.site?.drawing.revision]).size).toBe(3)
  })

  it('leaves no step for an edit that changes nothing, and forgets what was undone at a new edit', () => {
    const s = session()
    s.commit((same) => same, 'nothing')
    expect(s.undoLabel).toBeNull()
    s.commit(rename('a'), 'a')
    s.undo()
    s.commit(rename('b'), 'b')
    expect(s.redoLabel).toBeNull()
  })

  it('returns what was picked before the step', () => {
    const s = session()
    s.commit(rename('a'), 'a', { kind: 'part', address: 'B1' })
    expect(s.undo()).toEqual({ kind: 'part', address: 'B1' })
  })
})

describe('the record', () => {
  it('grows, and undoing the drawing leaves it alone', () => {
    const s = session()
    s.commit(rename('a'), 'a')
    expect(s.append(visit(5))).toBeNull()
    s.undo()
    expect(s.site?.record.map((e) => e.id)).toEqual([uuid(5)])
    expect(s.site?.drawing).toBe(site.drawing)
  })

  it('refuses the same id with other content and keeps what was there', () => {
    const s = session()
    s.append(visit(5))
    const other = { ...visit(5), weather: 'rain' } as Entry
    expect(s.append(other)?.code).toBe('reference.conflict')
    expect(s.site?.record).toEqual([visit(5)])
  })

  it('takes nothing while another tab holds the site', () => {
    const s = session()
    s.saving = 'readOnly'
    s.append(visit(5))
    s.commit(rename('a'), 'a')
    expect(s.site).toBe(site)
  })
})

describe('what is saved', () => {
  const changes: [string, (s: Session) => unknown][] = [
    ['an edit', (s) => s.commit(rename('a'), 'a')],
    ['an entry', (s) => s.append(visit(10))],
    ['a step back', (s) => s.undo()],
  ]
  it.each(changes)('is not said to be saved any more from the moment of %s', (_, change) => {
    const s = session()
    s.commit(rename('before'), 'before')
    s.saving = 'saved'
    change(s)
    expect(s.saving).toBe('saving')
  })

  it('stays saved where nothing changed', () => {
    const s = session()
    s.commit((same) => same, 'nothing')
    s.append(visit(10))
    s.saving = 'saved'
    s.append(visit(10))
    expect(s.saving).toBe('saved')
  })
})
