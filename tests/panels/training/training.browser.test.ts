import { describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../../src/app/app.css'
import TrainingPanel from '../../../src/panels/TrainingPanel.svelte'
import type { AppState } from '../../../src/state/appState.ts'
import { shippedLessons } from '../../../src/text/lessons/shippedLessons.ts'
import { breaches, themes, tooSmallForTouch, wear } from '../../ui/accessibility.ts'
import PanelHarness from '../PanelHarness.svelte'
import { fieldSite, panelState } from '../panelState.ts'

async function show(site = fieldSite()) {
  await page.viewport(400, 2600)
  const app = panelState(site, { hasRanking: false })
  app.preferences.workspace = 'fault'
  const asked = {
    shown: [] as unknown[],
    demos: [] as string[],
    saved: [] as { file: Blob; name: string }[],
    linking: [] as boolean[],
    print: vi.fn(),
  }
  const props = {
    linking: false,
    onlinking: (on: boolean) => asked.linking.push(on),
    onshow: (picked: unknown) => asked.shown.push(picked),
    ondemo: (file: string) => asked.demos.push(file),
    demoName: (file: string) => file.replace('.json', ' demo'),
    save: (file: Blob, name: string) => asked.saved.push({ file, name }),
    print: asked.print,
  }
  const { container } = await render(PanelHarness, { app, panels: [{ panel: TrainingPanel, props }] })
  return { app, asked, container }
}

const button = (name: string | RegExp) => page.getByRole('button', { name })
const openLessons = () => button('Lessons').click()
const [first, second, third] = shippedLessons

async function openLesson(title: string) {
  await openLessons()
  await button(new RegExp(`^${title}`)).click()
}

describe('lessons', () => {
  it('go step by step with figures of the engine, and the map shows what a step is about', async () => {
    const { app, asked } = await show()
    await openLesson(first.title)
    await expect.element(page.getByText(/ 14 A flow from/)).toBeVisible()
    await button('Next').click()
    expect(app.selection.picked).toEqual({ kind: 'joint', address: 'R4/T8/F2.5~L4.6' })
    expect(asked.shown).toEqual([
      { kind: 'part', address: 'R4/T8/F2.5' },
      { kind: 'joint', address: 'R4/T8/F2.5~L4.6' },
    ])
    await expect.element(page.getByText('Step 2 of 5')).toBeVisible()
    expect(app.faultDesk.question?.drawn.at).toBe('R4/T8/F2.5')
    await button('All lessons').click()
    expect(app.lessonDesk.lesson).toBeNull()
    expect(app.faultDesk.question).toBeNull()
  })

  it('begin each step at its head, also where the panel is low', async () => {
    await show()
    await openLesson(second.title)
    await page.viewport(400, 420)
    await button('Next').click()
    const step = page.getByRole('region', { name: /^Step 2 of/ })
    await expect.poll(() => step.element().getBoundingClientRect().top).toBeLessThan(140)
    expect(step.element().getBoundingClientRect().top).toBeGreaterThanOrEqual(0)
  })

  it('say of a choice whether it is right, and why', async () => {
    await show()
    await openLesson(second.title)
    await button('Next').click()
    await page.getByRole('radio', { name: 'It stops' }).click({ force: true })
    await expect.element(page.getByText('Not so.')).toBeVisible()
    await expect.element(page.getByText('Right is: It hardly changes.')).toBeVisible()
    await page.getByRole('radio', { name: 'It hardly changes' }).click({ force: true })
    await expect.element(page.getByText('Right.', { exact: true })).toBeVisible()
    await expect.element(page.getByText(/14 A, where 14 A flowed before/)).toBeVisible()
  })

  it('say where the site no longer bears an answer out', async () => {
    const site = fieldSite()
    const { facts } = site.drawing
    await show({ ...site, drawing: { ...site.drawing, facts: { ...facts, soilOhmM: 1 } } })
    await openLesson(first.title)
    for (let k = 0; k < 3; k++) await button('Next').click()
    await page.getByRole('radio', { name: 'A few parts in a hundred' }).click({ force: true })
    await expect.element(page.getByText(/do not bear this answer out/)).toBeVisible()
  })

  it('of another site offer to open it', async () => {
    const { asked } = await show()
    await openLesson(third.title)
    await button('Open roof demo').click()
    expect(asked.demos).toEqual(['roof.json'])
  })

  it('are kept as copies whose texts change, with undo', async () => {
    const { app } = await show()
    await openLesson(first.title)
    await button('Keep a copy in this site').click()
    const lessons = () => app.session.site!.drawing.lessons
    expect(lessons().map(({ id }) => id)).toEqual([first.id])
    await button('Change the texts').click()
    const field = page.getByRole('textbox', { name: 'Step 1' })
    await field.fill('Our own words: {all}. And {ours}.')
    await userEvent.tab()
    await expect.element(page.getByText('Our own words: 14 A. And {ours}.')).toBeVisible()
    app.session.undo()
    expect(lessons()[0].steps[0].text).toBe(first.steps[0].text)
    await button('Remove this copy').click()
    expect(lessons()).toEqual([])
    app.session.undo()
    await expect.element(page.getByRole('list', { name: 'Kept in this site' })).toBeVisible()
  })

  it('print a sheet: steps, questions with lines, answers apart', async () => {
    const { asked } = await show()
    await openLesson(first.title)
    await expect.element(page.getByText(/ 14 A flow from/)).toBeVisible()
    await button('Sheet for the crew').click()
    const dialog = page.getByRole('dialog', { name: 'Sheet for the crew' })
    await expect.element(dialog.getByText(/Test dead/)).toBeVisible()
    await expect.element(dialog.getByText(/^Answers/)).toBeVisible()
    expect(dialog.getByText('…').elements()).toEqual([])
    for (const { see } of first.steps.filter(({ see }) => !see.includes('{')))
      await expect.element(dialog.getByText(see)).toBeVisible()
    await dialog.getByRole('button', { name: 'Print' }).click()
    expect(asked.print).toHaveBeenCalledOnce()
    await userEvent.keyboard('{Escape}')
    await expect.element(dialog).not.toBeInTheDocument()
  })
})

const jumper = { kind: 'joint', address: 'R4/T6+T7~1' } as const

async function beginByTrainer(app: AppState) {
  await button('Drill').click()
  await beginDrill(app)
}

async function beginDrill(app: AppState) {
  await page.getByRole('textbox', { name: 'Trainee' }).fill('=Tester 1')
  await userEvent.tab()
  await page.getByRole('radio', { name: 'The trainer picks the joint' }).click({ force: true })
  app.selection.pick(jumper)
  await button('Begin: hide the joint').click()
  await expect.element(page.getByText('0 readings, 0 min, 0 wrong calls')).toBeVisible()
}

async function place(app: AppState, from: string, to: string) {
  app.selection.pick({ kind: 'part', address: from })
  await button('First clip: what is picked').click()
  app.selection.pick({ kind: 'part', address: to })
  await button('Second clip: what is picked').click()
}

describe('the drill', () => {
  it('hides what the trainer picked, and shows nothing of it until it is over', async () => {
    const { app, container } = await show()
    const record = app.session.site!.record
    await beginByTrainer(app)
    expect(app.selection.picked).toBeNull()
    expect(container.textContent).not.toContain('R4/T6+T7')
    await expect.element(page.getByText(/Leads are not nulled/)).toBeVisible()
    await button('Null the leads').click()
    await expect.element(page.getByText('Leads are nulled.')).toBeVisible()
    await place(app, 'R4/T6/L1.6', 'R4/T7/L1.6')
    await button('Read it').click()
    await expect.element(page.getByText(/^1 reading, /)).toBeVisible()
    await expect.element(page.getByText(/A sound array reads/)).toBeVisible()
    expect(app.drillDesk.answer!.revealed).toBeNull()
    await button('Seat the clips afresh and read').click()
    await expect.element(page.getByText(/^2 readings, /)).toBeVisible()

    app.selection.pick({ kind: 'joint', address: 'R1/T1+T2~1' })
    await button('This is the bad joint').click()
    await expect.element(page.getByText(/: wrong$/).first()).toBeVisible()
    app.selection.pick(jumper)
    await button('This is the bad joint').click()
    await expect.element(page.getByText(/^Found: the .* was open\.$/)).toBeVisible()
    await expect.element(page.getByRole('row', { name: /Wrong calls −15/ })).toBeVisible()
    expect(app.session.site!.record).toBe(record)
  })

  it('keeps a line on the sheet of this device, for paper and as CSV without formulas', async () => {
    const { app, asked } = await show()
    await beginByTrainer(app)
    await button('Give up and show it').click()
    await expect.element(page.getByText(/^Not found: /)).toBeVisible()
    await button('Keep on the result sheet').click()
    expect(app.drillSheets.sheets).toHaveLength(1)
    await button('Attendance and result sheet').click()
    await button('As CSV').click()
    const csv = await asked.saved[0].file.text()
    expect(asked.saved[0].name).toMatch(/\.csv$/)
    expect(csv).toContain(`'=Tester 1`)
    expect(csv.split('\r\n')).toHaveLength(3)
    await button('Print').click()
    const dialog = page.getByRole('dialog', { name: 'Attendance and result sheet' })
    await expect.element(dialog.getByRole('cell', { name: '=Tester 1' })).toBeVisible()
    await dialog.getByRole('button', { name: 'Print' }).click()
    expect(asked.print).toHaveBeenCalledOnce()
    await userEvent.keyboard('{Escape}')
    await button(/^Remove this line/).click()
    expect(app.drillSheets.sheets).toEqual([])
  })

  it('answers what the readings say and what to measure next, counted to the sheet', async () => {
    const { app } = await show()
    await beginByTrainer(app)
    const suspects = button('What do the readings say?')
    await expect.element(suspects).toHaveAttribute('aria-disabled', 'true')
    await button('Null the leads').click()
    await place(app, 'R4/T6/L1.6', 'R4/T7/L1.6')
    await button('Read it').click()
    await expect.element(page.getByText(/^1 reading, /)).toBeVisible()
    await suspects.click()
    const said = page.getByRole('region', { name: 'What the readings say' })
    await expect.element(said.getByText(/jumper/i).first()).toBeVisible()
    await button('What to measure next?').click()
    const next = page.getByRole('region', { name: 'What to measure next' })
    await expect.element(next.getByText(/^(Read|Short|Look)/).first()).toBeVisible()
    await expect.element(page.getByText(/asked 2 times$/)).toBeVisible()
    expect(app.session.site!.record).toEqual(fieldSite().record)

    // what was told is of the readings as they were
    await place(app, 'R2/T6/L1.6', 'R2/T7/L1.6')
    await button('Read it').click()
    await expect.element(page.getByText(/^2 readings, /)).toBeVisible()
    expect(said.elements()).toEqual([])
    await button('Give up and show it').click()
    await expect.element(page.getByRole('row', { name: /Asked the program −10/ })).toBeVisible()
    await button('Keep on the result sheet').click()
    expect(app.drillSheets.sheets[0].asked).toEqual({ suspects: 1, next: 1 })
  })

  it('asks nothing that the trainer switched off, and keeps that for the next drill', async () => {
    const { app } = await show()
    await button('Drill').click()
    await page.getByRole('switch', { name: 'What do the readings say?' }).click()
    await beginDrill(app)
    expect(button('What do the readings say?').elements()).toEqual([])
    await expect.element(button('What to measure next?')).toBeVisible()
    await button('Give up and show it').click()
    await button('Keep on the result sheet').click()
    expect(app.drillSheets.sheets[0].asked).toEqual({ suspects: null, next: 0 })
    await button('Another drill').click()
    await page.getByRole('switch', { name: 'What to measure next?' }).click()
    await beginDrill(app)
    await expect.element(page.getByText('The trainer switched this off.')).toBeVisible()
  })

  it('is taken with an instrument and a lead of the site, and their troubles follow', async () => {
    const site = fieldSite()
    const visit = site.record.find((entry) => entry.entry === 'visit')!
    const own = { ...visit.kits[0], id: 'own', name: 'Our tester', method: 'twoWire' as const }
    const clamp = { ...own, id: 'clamp', name: 'Our clamp', method: 'loopClamp' as const }
    const thin = { id: 'thin', name: 'thin lead', lengthM: 100, areaMm2: 0.75, material: 'copper' as const }
    const { app } = await show({ ...site, record: [{ ...visit, kits: [own, clamp], leads: [thin] }] })
    await button('Drill').click()
    const instrument = page.getByRole('combobox', { name: 'Instrument' })
    await expect.element(instrument).toHaveValue('own')
    expect(instrument.element().textContent).not.toContain('Our clamp')
    expect(instrument.element().textContent).toContain('Four-wire')
    const lead = page.getByRole('combobox', { name: 'Lead' })
    await expect.element(lead).toHaveValue('thin')
    await beginDrill(app)
    expect(app.drillDesk.answer!.kit).toEqual(own)
    expect(app.drillDesk.answer!.lead).toEqual(thin)
    await place(app, 'R1/T1/L1.1', 'R1/T1/L1.2')
    await button('Read it').click()
    await expect.element(page.getByText(/^1 reading, /)).toBeVisible()
    // 100 m of 0.75 mm² copper, out and not nulled: about 2.3 Ω
    expect(app.drillDesk.answer!.readings[0].expectedOhm).toBeGreaterThan(2)
    await button('Give up and show it').click()
    await button('Another drill').click()
    await instrument.selectOptions('four-wire-10a')
    expect(lead.elements()).toEqual([])
  })

  it('takes both ends by name, and says what is wrong with one', async () => {
    const { app } = await show()
    await beginByTrainer(app)
    const from = page.getByRole('combobox', { name: 'First clip' })
    await from.fill('R99/T1/F1.1')
    await userEvent.keyboard('{Enter}')
    await expect.element(page.getByText(/names no part|no part/i).first()).toBeVisible()
    await from.fill('B1')
    await userEvent.keyboard('{Enter}')
    expect(app.drillDesk.from).toBe('B1')
    await page.getByRole('combobox', { name: 'Second clip' }).fill('R1/T1/L1.1')
    await userEvent.keyboard('{Enter}')
    await button('Read it').click()
    await expect.element(page.getByText(/^1 reading, /)).toBeVisible()
    expect(app.drillDesk.from).toBe('B1')
  })

  it.each(themes)('can be read and touched in the %s theme', async (theme) => {
    wear(theme)
    const { app, container } = await show()
    await openLessons()
    await beginByTrainer(app)
    await place(app, 'B1', 'R1/T1/L1.1')
    await button('Read it').click()
    await expect.element(page.getByText(/^1 reading, /)).toBeVisible()
    expect(await breaches()).toEqual([])
    expect(tooSmallForTouch(container)).toEqual([])
  })
})
