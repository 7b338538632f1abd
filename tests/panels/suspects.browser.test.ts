import { afterEach, describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import { problem } from '../../src/model/problem.ts'
import type { Site } from '../../src/model/schema/site.ts'
import SuspectsPanel from '../../src/panels/SuspectsPanel.svelte'
import type { AppState } from '../../src/state/appState.ts'
import { formatChance } from '../../src/text/units.ts'
import { breaches, themes, tooSmallForTouch, wear } from '../ui/accessibility.ts'
import PanelHarness from './PanelHarness.svelte'
import { fieldSite, panelState } from './panelState.ts'

async function show(site: Site | null = fieldSite()): Promise<AppState> {
  await page.viewport(400, 2400)
  const app = panelState(site)
  await render(PanelHarness, { app, panels: [{ panel: SuspectsPanel }] })
  if (site) await vi.waitFor(() => expect(app.results.isCurrent).toBe(true), 20_000)
  return app
}

const suspect = (place: number) => page.getByRole('button', { name: new RegExp(`^Suspect ${place}:`) })
const overflows = () => document.documentElement.scrollWidth > document.documentElement.clientWidth

afterEach(async () => {
  wear('system')
  await page.viewport(1280, 800)
})

describe('SuspectsPanel', () => {
  it('says what to do without a site and without readings', async () => {
    await show(null)
    await expect.element(page.getByText(/No site is open/)).toBeVisible()
  })

  it('says what to do without readings', async () => {
    await show({ ...fieldSite(), record: [] })
    await expect.element(page.getByText(/Go to Measure/)).toBeVisible()
    await expect.element(suspect(1)).not.toBeInTheDocument()
  })

  it('ranks the groups of the answer, each with its chance in words', async () => {
    const app = await show()
    const { groups } = app.results.locate!
    const rows = page.getByRole('button', { name: /^Suspect \d+:/ }).elements()
    expect(rows).toHaveLength(Math.max(1, groups.filter(({ probability }) => probability >= 0.01).length))
    await expect.element(suspect(1)).toHaveTextContent(formatChance(groups[0].probability))
    const left = groups.length - rows.length
    await page.getByRole('button', { name: `${left} more, each under 1 %` }).click()
    await expect.element(suspect(groups.length)).toBeVisible()
    await expect.element(page.getByText(/not proof of safety/)).toBeVisible()
  })

  it('opens a group by keyboard alone, picks it and shows the current of its strongest reading', async () => {
    const app = await show()
    const [group] = app.results.locate!.groups
    suspect(1).element().focus()
    await userEvent.keyboard('{Enter}')
    expect(app.selection.picked).toEqual({ kind: 'suspect', joint: group.joints[0].joint })
    await expect.element(suspect(1)).toHaveAttribute('aria-expanded', 'true')
    const strongest = group.evidence.reduce((a, b) => (b.bits > a.bits ? b : a))
    const reading = app.results.locate!.readings.find(({ entry }) => entry === strongest.entry)!
    await vi.waitFor(() => expect(app.results.currentMap?.from).toBe(reading.from))
    expect(app.results.currentMap!.to).toBe(reading.to)
    await userEvent.keyboard('{Enter}')
    expect(app.selection.picked).toBeNull()
    await expect.element(suspect(1)).toHaveAttribute('aria-expanded', 'false')
  })

  it('picks the reading of a row of evidence, shows its current and stays open', async () => {
    const app = await show()
    await suspect(1).click()
    const row = page.getByRole('button', { name: /^Reading \d+ speaks strongly for it/ }).nth(1)
    const number = Number(/^Reading (\d+)/.exec(row.element().textContent.trim())![1])
    row.element().focus()
    await userEvent.keyboard(' ')
    const reading = app.results.locate!.readings[number - 1]
    expect(app.selection.picked).toEqual({ kind: 'reading', entry: reading.entry })
    await vi.waitFor(() => expect(app.results.currentMap?.from).toBe(reading.from))
    await expect.element(row).toHaveAttribute('aria-pressed', 'true')
    await expect.element(suspect(1)).toHaveAttribute('aria-expanded', 'true')
  })

  it('says in its first lines what and where, how likely, and how far the readings reach', async () => {
    const app = await show()
    const { joint } = app.results.locate!.groups[0].joints[0]
    const lead = page.getByText(/^Lead for inspection: /)
    await expect.element(lead).toHaveTextContent(joint)
    const weight = (element: Element) => Number(getComputedStyle(element).fontWeight)
    const next = page.getByText(/^Look and check its torque/)
    expect(weight(lead.element())).toBeGreaterThan(weight(next.element()))
    const fold = page.getByRole('button', { name: 'What could not be seen', exact: true })
    await fold.click()
    await expect.element(fold).toHaveAttribute('aria-expanded', 'false')
    await page.getByRole('button', { name: /^These readings can show 58 of 3326 joints/ }).click()
    await expect.element(fold).toHaveAttribute('aria-expanded', 'true')
    await expect.element(fold).toHaveFocus()
  })

  it('with two open jumpers: how many are bad, both by name, and how the chances of the numbers stand', async () => {
    const site = fieldSite()
    const beyond = site.record.filter(({ entry }) => entry === 'reading').slice(11, 14)
    const record = site.record.map((entry) =>
      entry.entry === 'reading' && beyond.includes(entry)
        ? { ...entry, result: { form: 'ohm' as const, ohm: 2.1 } }
        : entry,
    )
    await show({ ...site, record })
    await expect
      .element(page.getByText('Probably two bad joints. Leads for inspection:', { exact: true }))
      .toBeVisible()
    for (const joint of ['R4/T6+T7~1', 'R1/T5+T6~1'])
      await expect
        .element(page.getByRole('listitem').filter({ hasText: `(${joint}), > 99 % likely.` }))
        .toBeVisible()
    await expect.element(page.getByText(/^Two bad joints: \d+ %, three or more: \d+ %\.$/)).toBeVisible()
    await expect.element(page.getByText(/so these chances do not add up to 100 %\.$/)).toBeVisible()
  })

  it('tells in its first suspect what rules out the joints before it, and folds what says nothing', async () => {
    await show()
    await suspect(1).click()
    await expect.element(page.getByText(/^Reading 34 is low .* so the fault lies beyond\.$/)).toBeVisible()
    const rows = () => page.getByRole('button', { name: /^Reading \d+ s(ays|peaks)/ }).elements().length
    expect(rows()).toBe(2)
    await page.getByRole('button', { name: '48 readings that say nothing about it' }).click()
    await vi.waitFor(() => expect(rows()).toBe(50))
  })

  it('says the same expected value in evidence, in advice and of the reading itself', async () => {
    const app = await show()
    await suspect(1).click()
    const [group] = app.results.locate!.groups
    const strongest = group.evidence.reduce((a, b) => (b.bits > a.bits ? b : a))
    const { expectedOhm } = app.results.locate!.readings.find(({ entry }) => entry === strongest.entry)!
    const expected = `${Number((expectedOhm * 1000).toPrecision(2))} mΩ`
    const text = document.querySelector('main')!.textContent
    expect(text).toContain(`With sound joints the meter should show ${expected} give or take`)
    expect(text).toMatch(new RegExp(`should fall from 2\\.1\\d Ω to about ${expected}`))
  })

  it('opens the group of a joint that was picked on the map', async () => {
    const app = await show()
    app.selection.pick({ kind: 'suspect', joint: app.results.locate!.groups[1].joints[0].joint })
    await expect.element(suspect(2)).toHaveAttribute('aria-expanded', 'true')
    await expect.element(suspect(1)).toHaveAttribute('aria-expanded', 'false')
  })

  it('offers each joint of a group that nothing tells apart', async () => {
    const site = fieldSite()
    const readings = site.record.filter(({ entry }) => entry === 'reading')
    const kept = new Set([readings[34], readings[35]])
    const app = await show({
      ...site,
      record: site.record.filter((entry) => entry.entry !== 'reading' || kept.has(entry)),
    })
    const group = app.results.locate!.groups.find(({ jointCount }) => jointCount > 1)!
    app.selection.pick({ kind: 'suspect', joint: group.joints[0].joint })
    const second = group.joints[1].joint
    await page
      .getByRole('button')
      .filter({ hasText: `${second},` })
      .click()
    expect(app.selection.picked).toEqual({ kind: 'joint', address: second })
    await expect.element(page.getByText(/Nothing read so far tells these apart/)).toBeVisible()
  })

  it('says that what is shown is older, after a moment, and greys it', async () => {
    await page.viewport(400, 1600)
    const app = panelState(fieldSite())
    app.results.refresh(app.session.site)
    await vi.waitFor(() => expect(app.results.isCurrent).toBe(true), 20_000)
    vi.spyOn(app.results, 'isCurrent', 'get').mockReturnValue(false)
    await render(PanelHarness, { app, panels: [{ panel: SuspectsPanel }] })
    const sentence = page.getByText(/^Updating/)
    await expect.element(sentence).toBeVisible()
    expect(getComputedStyle(sentence.element().parentElement!).animationDelay).toBe('0.4s')
    const answer = document.querySelector('[aria-busy="true"]')!
    await expect.element(suspect(1)).toBeVisible()
    await vi.waitFor(() => {
      const style = getComputedStyle(answer)
      expect(style.getPropertyValue('--ink')).toBe(style.getPropertyValue('--ink-soft'))
    })
  })

  it('is not busy when working it out was stopped, however old what is shown', async () => {
    const app = panelState(fieldSite())
    app.results.refresh(app.session.site)
    await vi.waitFor(() => expect(app.results.isCurrent).toBe(true), 20_000)
    vi.spyOn(app.results, 'isCurrent', 'get').mockReturnValue(false)
    vi.spyOn(app.results, 'isStopped', 'get').mockReturnValue(true)
    await render(PanelHarness, { app, panels: [{ panel: SuspectsPanel }] })
    await expect.element(suspect(1)).toBeVisible()
    expect(document.querySelector('[aria-busy="true"]')).toBeNull()
  })

  it('says what is wrong in a sentence where nothing can be computed', async () => {
    const app = panelState(fieldSite())
    const problems = [problem('size.tooManyJoints', { joints: 2_000_000, most: 400_000 })]
    vi.spyOn(app.results, 'problems', 'get').mockReturnValue(problems)
    await render(PanelHarness, { app, panels: [{ panel: SuspectsPanel }] })
    await expect.element(page.getByRole('alert')).toHaveTextContent(/2,000,000/)
  })

  it('leaves names from a file as text', async () => {
    const site = fieldSite()
    const label = '<img src=x onerror=alert(1)>'
    const rows = site.drawing.rows.map((row) => ({ ...row, label }))
    const app = await show({ ...site, drawing: { ...site.drawing, rows } })
    await expect.element(suspect(1)).toBeVisible()
    app.selection.pick({ kind: 'suspect', joint: app.results.locate!.groups[0].joints[0].joint })
    expect(document.querySelector('main img')).toBeNull()
    expect(document.querySelector('main')!.textContent).toContain(label)
  })

  it('speaks as a US site does', async () => {
    const site = fieldSite()
    const facts = { ...site.drawing.facts, units: 'us' as const }
    await show({ ...site, drawing: { ...site.drawing, facts } })
    await suspect(1).click()
    const text = document.querySelector('main')!.textContent
    expect(text).toContain('grounding electrode conductor (GEC)')
    expect(text).not.toMatch(/\bearth (bar|rod|path|electrode)s?\b|\bearthing/)
  })

  it.each(themes)('has no breach that axe can find and fits 360 px, %s', async (theme) => {
    wear(theme)
    await show()
    await suspect(1).click()
    expect(await breaches()).toEqual([])
    expect(tooSmallForTouch(document.querySelector('main')!)).toEqual([])
    await page.viewport(360, 2400)
    expect(overflows()).toBe(false)
  })
})
