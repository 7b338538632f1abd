import { afterEach, describe, expect, it, vi } from 'vitest'
import { page } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import type { Site } from '../../src/model/schema/site.ts'
import type { Entry } from '../../src/model/schema/record.ts'
import DefectsPanel from '../../src/panels/defects/DefectsPanel.svelte'
import ReopenedBanner from '../../src/panels/defects/ReopenedBanner.svelte'
import SignPanel from '../../src/panels/defects/SignPanel.svelte'
import InspectorPanel from '../../src/panels/InspectorPanel.svelte'
import { correctReading } from '../../src/panels/correctReading.ts'
import { PairDraft } from '../../src/panels/pairDraft.svelte.ts'
import SuspectsPanel from '../../src/panels/SuspectsPanel.svelte'
import type { AppState } from '../../src/state/appState.ts'
import { lookTexts } from '../../src/text/lookText.ts'
import { signTexts } from '../../src/text/signText.ts'
import { breaches, themes, tooSmallForTouch, wear } from '../ui/accessibility.ts'
import PanelHarness from './PanelHarness.svelte'
import { fieldSite, panelState } from './panelState.ts'

async function show(panels: readonly unknown[], site: Site = fieldSite()): Promise<AppState> {
  await page.viewport(420, 1400)
  const app = panelState(site)
  const draft = new PairDraft()
  await render(PanelHarness, { app, draft, panels: panels.map((panel) => ({ panel: panel as never })) })
  await settled(app)
  return app
}

const settled = (app: AppState) =>
  vi.waitFor(() => expect(app.results.isCurrent).toBe(true), { timeout: 20_000 })
const button = (name: string | RegExp) => page.getByRole('button', { name })
const dialog = () => page.getByRole('dialog')
const last = (app: AppState): Entry => app.session.site!.record.at(-1)!

afterEach(async () => {
  wear('system')
  await page.viewport(1280, 800)
})

/** Opens the leading suspect's card and a defect of it. */
async function openLeading(app: AppState): Promise<string> {
  const { joint } = app.results.locate!.groups[0].joints[0]
  app.selection.pick({ kind: 'suspect', joint })
  await button('Open a defect').click()
  await settled(app)
  return joint
}

describe('looks and repairs', () => {
  it('writes a look with what was found; sound stands alone; the torque is remembered for the next', async () => {
    const app = await show([InspectorPanel])
    const { joint } = app.results.locate!.groups[0].joints[0]
    app.selection.pick({ kind: 'joint', address: joint })
    await button(/^Record a look/).click()
    await dialog().getByRole('button', { name: lookTexts.writeLook }).click()
    await expect.element(dialog().getByText(lookTexts.needsFinding)).toBeVisible()
    for (const name of ['sound', 'loose', 'washer missing']) {
      await dialog().getByRole('button', { name, exact: true }).click()
    }
    await expect
      .element(dialog().getByRole('button', { name: 'sound', exact: true }))
      .toHaveAttribute('aria-pressed', 'false')
    await dialog().getByRole('textbox', { name: lookTexts.torqueAsked }).fill('25')
    await dialog().getByRole('textbox', { name: lookTexts.torqueFound }).fill('8,5')
    await dialog().getByRole('button', { name: lookTexts.writeLook }).click()
    expect(last(app)).toMatchObject({
      entry: 'look',
      joint,
      findings: ['loose', 'washerMissing'],
      torqueAskedNm: 25,
      torqueFoundNm: 8.5,
      torqueSetNm: null,
    })
    await expect.element(page.getByText(/Looked at: loose and washer missing/)).toBeVisible()
    await button(/^Record a look/).click()
    await expect.element(dialog().getByRole('textbox', { name: lookTexts.torqueAsked })).toHaveValue('25')
    for (const name of ['loose', 'sound']) {
      await dialog().getByRole('button', { name, exact: true }).click()
    }
    await dialog().getByRole('button', { name: lookTexts.writeLook }).click()
    expect(last(app)).toMatchObject({ entry: 'look', findings: ['sound'], torqueAskedNm: 25 })
  })

  it('keeps reminding of a coating that was left open until it is made good', async () => {
    const app = await show([SuspectsPanel, DefectsPanel])
    const joint = await openLeading(app)
    await button(/^Record a repair/)
      .first()
      .click()
    await expect.element(dialog().getByText(lookTexts.before)).toBeVisible()
    await dialog().getByRole('button', { name: 'cleaned', exact: true }).click()
    await dialog().getByRole('button', { name: 'still open', exact: true }).click()
    await dialog().getByRole('textbox', { name: lookTexts.by }).fill('B. Alder')
    await dialog().getByRole('button', { name: lookTexts.writeRepair }).click()
    expect(last(app)).toMatchObject({
      entry: 'repair',
      joint,
      done: 'cleaned',
      by: 'B. Alder',
      coating: 'stillOpen',
    })
    await settled(app)
    await button(new RegExp(`^${lookTexts.madeGood}`)).click()
    expect(last(app)).toMatchObject({ entry: 'repair', joint, done: 'other', coating: 'madeGood' })
    await expect.element(button(new RegExp(`^${lookTexts.madeGood}`))).not.toBeInTheDocument()
  })
})

describe('defects', () => {
  it('are opened from a suspect with its proof, and recorded on with one tap for each thing entered', async () => {
    const app = await show([SuspectsPanel, DefectsPanel])
    const [group] = app.results.locate!.groups
    const joint = await openLeading(app)
    const opened = last(app)
    expect(opened).toMatchObject({ entry: 'defect', number: 1 })
    const positive = group.evidence.filter(({ bits }) => bits > 1).map(({ entry }) => entry)
    expect(opened.entry === 'defect' && positive.every((id) => opened.proof.includes(id))).toBe(true)
    expect(opened.entry === 'defect' && opened.joints).toEqual(group.joints.map((one) => one.joint))
    await expect.element(page.getByRole('article', { name: 'D1, suspected' })).toBeVisible()
    await expect.element(button('Open a defect')).not.toBeInTheDocument()

    await button(/^Record a look/)
      .first()
      .click()
    await dialog().getByRole('button', { name: 'loose', exact: true }).click()
    await dialog().getByRole('button', { name: lookTexts.writeLook }).click()
    const look = last(app)
    await settled(app)
    await button(/^Record it.*D1$/)
      .last()
      .click()
    expect(last(app)).toMatchObject({
      entry: 'defectStep',
      of: opened.id,
      state: 'confirmed',
      joint,
      proof: [look.id],
    })
    await expect.element(page.getByRole('article', { name: 'D1, confirmed' })).toBeVisible()
  })

  it('are dismissed only with a reason', async () => {
    const app = await show([SuspectsPanel, DefectsPanel])
    await openLeading(app)
    const before = app.session.site!.record.length
    await button('Dismiss …').click()
    await dialog().getByRole('button', { name: 'Dismiss it' }).click()
    expect(app.session.site!.record.length).toBe(before)
    await dialog().getByRole('textbox', { name: 'Reason' }).fill('read on the wrong table')
    await dialog().getByRole('button', { name: 'Dismiss it' }).click()
    expect(last(app)).toMatchObject({
      entry: 'defectStep',
      state: 'dismissed',
      note: 'read on the wrong table',
    })
    await expect.element(button(/^Defects: 0 open of 1/)).toBeVisible()
  })
})

describe('signatures', () => {
  async function sign(role: string, name: string) {
    await button(signTexts.sign).click()
    await dialog().getByRole('button', { name: role, exact: true }).click()
    await dialog().getByRole('textbox', { name: signTexts.name }).fill(name)
    await dialog().getByRole('switch', { name: signTexts.confirm }).click()
    await dialog().getByRole('button', { name: signTexts.done, exact: true }).click()
    await expect.element(dialog()).not.toBeInTheDocument()
  }

  it('stand for what was entered, are reopened by a correction, and can be given again', async () => {
    const app = await show([ReopenedBanner, SignPanel])
    await button(/^Signatures/).click()
    await button(signTexts.sign).click()
    await dialog().getByRole('button', { name: signTexts.done, exact: true }).click()
    await expect.element(dialog().getByText(signTexts.needsName)).toBeVisible()
    await dialog().getByRole('button', { name: signTexts.cancel }).click()
    await sign('tester', 'A. Rowan')
    await sign('witness', 'C. Hazel')
    const signature = last(app)
    expect(signature).toMatchObject({ entry: 'signature', role: 'witness', name: 'C. Hazel' })
    await expect.element(page.getByText('holds').first()).toBeVisible()
    expect(page.getByText('holds').elements()).toHaveLength(2)
    expect(page.getByText(signTexts.reopened).elements()).toHaveLength(0)

    const reading = app.session.site!.record.findLast(({ entry }) => entry === 'reading')!
    if (reading.entry !== 'reading') throw new Error('no reading')
    correctReading(app.session, app.identity, reading, { form: 'ohm', ohm: 0.5 }, 'Typed wrongly')
    await expect.element(page.getByText(signTexts.reopened)).toBeVisible()
    await expect.element(page.getByText(/Corrected after signing: reading \d+/).first()).toBeVisible()
    await settled(app)
    await sign('tester', 'A. Rowan')
    await sign('witness', 'C. Hazel')
    await expect.element(page.getByText(signTexts.reopened)).not.toBeInTheDocument()
  })
})

describe('what stands in the panels', () => {
  it.each(themes)('can be read and touched in the theme %s', async (theme) => {
    wear(theme)
    const app = await show([SuspectsPanel, DefectsPanel, SignPanel])
    await openLeading(app)
    await button(/^Signatures/).click()
    expect(await breaches()).toEqual([])
    expect(tooSmallForTouch(document.querySelector('main')!)).toEqual([])
    await button(/^Record a repair/)
      .first()
      .click()
    expect(await breaches()).toEqual([])
    expect(tooSmallForTouch(document.querySelector('dialog')!)).toEqual([])
  })
})
