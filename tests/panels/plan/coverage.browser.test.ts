import { afterEach, describe, expect, it, vi } from 'vitest'
import { page } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../../src/app/app.css'
import type { CoverageAnswer } from '../../../src/model/planning.ts'
import { PairDraft } from '../../../src/panels/pairDraft.svelte.ts'
import InspectorPanel from '../../../src/panels/InspectorPanel.svelte'
import { addPlanPair } from '../../../src/panels/plan/planEdits.ts'
import PlanPanel from '../../../src/panels/PlanPanel.svelte'
import type { AppState } from '../../../src/state/appState.ts'
import { shownOf } from '../../../src/text/planSightText.ts'
import { breaches, themes, tooSmallForTouch, wear } from '../../ui/accessibility.ts'
import PanelHarness from '../PanelHarness.svelte'
import { fieldSite, panelState } from '../panelState.ts'

async function show(before: (app: AppState) => void = () => undefined) {
  await page.viewport(400, 3600)
  const app = panelState(fieldSite(), { hasRanking: false })
  app.preferences.workspace = 'plan'
  before(app)
  const draft = new PairDraft()
  const asked = { shown: [] as unknown[], saved: [] as { file: Blob; name: string }[] }
  const props = {
    draft,
    linking: false,
    onlinking: () => undefined,
    onshow: (picked: unknown) => asked.shown.push(picked),
    onsheet: () => undefined,
    save: (file: Blob, name: string) => asked.saved.push({ file, name }),
  }
  const panels = [
    { panel: InspectorPanel, props: {} },
    { panel: PlanPanel, props },
  ]
  await render(PanelHarness, { app, draft, panels })
  // as the page does: what the plan would show is asked while somebody looks at it
  const settle = async () => {
    await app.planDesk.refresh()
    await app.planDesk.refreshWalk()
  }
  await settle()
  return { app, asked, settle, coverage: app.planDesk.coverage! }
}

const button = (name: string | RegExp) => page.getByRole('button', { name })
const region = () => page.getByRole('region', { name: 'What the plan would show' })
const said = ({ joints }: CoverageAnswer, shown: number) =>
  new RegExp(`^${shown} of ${joints} joints would show`)

afterEach(async () => {
  vi.restoreAllMocks()
  wear('system')
  await page.viewport(1280, 800)
})

describe('what the plan would show', () => {
  it('is counted by how it would show, and follows the plan; until then the older counts are marked', async () => {
    const { app, coverage, settle } = await show()
    const plain = { joints: coverage.joints } as CoverageAnswer
    await expect.element(region().getByText(said(plain, shownOf(coverage)))).toBeVisible()
    addPlanPair(app, 'R1/T1/F1.1', 'R1/T1/F1.2')
    await expect.element(region().getByText(/^Being updated/)).toBeVisible()
    expect(region().element().querySelector('.answer')!.getAttribute('aria-busy')).toBe('true')
    await settle()
    await expect.element(region().getByText(/^Being updated/)).not.toBeInTheDocument()
    const next = app.planDesk.coverage!
    expect(shownOf(next)).toBeGreaterThanOrEqual(shownOf(coverage))
    await expect.element(region().getByText(said(plain, shownOf(next)))).toBeVisible()
  })

  it('is asked for another severity', async () => {
    const { app, coverage, settle } = await show()
    await region().getByRole('combobox', { name: 'If a joint goes to' }).selectOptions('tripled')
    await settle()
    expect(app.planDesk.coverage!.severity).toBe('tripled')
    expect(shownOf(app.planDesk.coverage!)).toBeLessThanOrEqual(shownOf(coverage))
    await expect.element(region().getByText(/went to three times its ohms/)).toBeVisible()
  })

  it('names what stays hidden with what would cure it, and adds the pair that would', async () => {
    const { app, asked, coverage } = await show()
    await button(/^What stays hidden/).click()
    expect(coverage.hidden.length).toBeGreaterThan(0)
    await button(/^Show on map ?: /)
      .first()
      .click()
    expect(asked.shown).toEqual([{ kind: 'joint', address: expect.any(String) as string }])
    const before = app.planDesk.plan!.pairs.length
    const curing = coverage.hidden.flatMap(({ cures }) =>
      cures.flatMap((cure) => (cure.cure === 'addPair' ? [[cure.from, cure.to]] : [])),
    )
    expect(curing.length).toBeGreaterThan(0)
    // the first button of this name is that of the form for two ends
    await button('Add this pair').nth(1).click()
    expect(app.planDesk.plan!.pairs).toHaveLength(before + 1)
    const { from, to } = app.planDesk.plan!.pairs.at(-1)!
    expect(curing).toContainEqual([from, to])
  })

  it('is told of a joint that is picked: the pairs that show it, or why none does', async () => {
    const { app, coverage } = await show()
    app.selection.pick({ kind: 'joint', address: coverage.hidden[0].example })
    await expect.element(page.getByText(/^If it went open, /)).toBeVisible()
    await expect.element(page.getByText('What would cure it:').first()).toBeVisible()
    app.selection.pick({ kind: 'joint', address: 'R4/T6+T7~1' })
    await expect
      .element(page.getByText(/^If it went open, /))
      .toHaveTextContent(/It shows in \d+ pairs?|no pair/)
  })
})

describe('proposals', () => {
  it('are the usual patterns side by side; one is looked at, taken in as one step, and taken back', async () => {
    const { app, settle } = await show()
    const before = app.planDesk.plan!.pairs
    await button('Propose a plan').click()
    await button('Lay out the usual patterns').click()
    await vi.waitFor(() => expect(app.planDesk.proposing.made).toHaveLength(4), 60_000)
    const star = page.getByRole('row', { name: /^Star/ })
    await expect.element(star.getByRole('button', { name: 'Star' })).toHaveAttribute('aria-pressed', 'true')
    await star.getByRole('button', { name: 'Star' }).click()
    expect(app.planDesk.proposing.draft).toBeNull()
    await page
      .getByRole('row', { name: /^Chain/ })
      .getByRole('button')
      .click()
    const { answer } = app.planDesk.proposing.draft!
    await expect
      .element(page.getByRole('article', { name: 'Draft' }))
      .toHaveTextContent(new RegExp(`${answer.pairs.length} pairs`))
    expect(app.planDesk.shownCoverage).toBe(answer.coverage)
    await button('Take it into the plan').click()
    expect(app.planDesk.plan!.pairs.map(({ from, to }) => [from, to])).toEqual(
      answer.pairs.map(({ from, to }) => [from, to]),
    )
    expect(app.planDesk.proposing.draft).toBeNull()
    await settle()
    expect(shownOf(app.planDesk.coverage!)).toBe(shownOf(answer.coverage))
    app.session.undo()
    expect(app.planDesk.plan!.pairs).toEqual(before)
  }, 90_000)

  it('tell how far they have come and can be stopped; the plan is as before', async () => {
    const { app } = await show(({ planDesk: { proposing } }) => {
      vi.spyOn(proposing, 'working', 'get').mockReturnValue('proposed')
      vi.spyOn(proposing, 'progress', 'get').mockReturnValue({ stage: 'choose', fraction: 0.5 })
    })
    const site = app.session.site
    const cancel = vi.spyOn(app.planDesk.proposing, 'cancel')
    await button('Propose a plan').click()
    await expect.element(page.getByRole('progressbar').last()).toHaveAttribute('aria-valuenow', '50')
    await button(/^Stop A proposal/).click()
    expect(cancel).toHaveBeenCalledOnce()
    expect(app.announcer.sentence).toMatch(/^The proposal was stopped/)
    expect(app.session.site).toBe(site)
  })
})

describe('out', () => {
  it('saves the pairs as CSV, with what they are expected to read', async () => {
    const { app, asked } = await show()
    await button('Pairs as CSV').click()
    const [{ file, name }] = asked.saved
    expect(name).toMatch(/pairs of .*\.csv$/)
    const lines = (await file.text()).trim().split('\r\n')
    expect(lines).toHaveLength(app.planDesk.plan!.pairs.length + 1)
    expect(lines[1].split(',').at(-2)).toMatch(/^\d/)
  })

  it('draws a sample by lot and keeps it as a plan of its own', async () => {
    const { app } = await show()
    const { pairs } = app.planDesk.plan!
    await button('Sample by lot').click()
    const dialog = page.getByRole('dialog', { name: 'Test a sample, drawn by lot' })
    await dialog.getByRole('textbox', { name: 'Less than this share is to be bad' }).fill('20')
    await dialog.getByRole('button', { name: 'Draw', exact: true }).click()
    await expect.element(dialog.getByRole('heading', { name: 'To be tested' })).toBeVisible()
    await dialog.getByRole('button', { name: 'Keep as a plan of its own' }).click()
    const kept = app.planDesk.plan!
    expect(kept.name).toMatch(/sample of \d+ pairs/)
    expect(kept.note).toMatch(/by lot with seed \d+/)
    expect(kept.pairs.length).toBeLessThan(pairs.length)
    for (const { from, to } of kept.pairs) {
      expect(pairs.some((pair) => pair.from === from && pair.to === to)).toBe(true)
    }
  })
})

it('all of it is easy to hit, has names and contrast in every theme, and fits 360 px', async () => {
  await show()
  await page.viewport(360, 4200)
  await button('Propose a plan').click()
  await button(/^What stays hidden/).click()
  await button(/^Look alike/).click()
  expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(document.documentElement.clientWidth)
  expect(tooSmallForTouch(document)).toEqual([])
  for (const theme of themes) {
    wear(theme)
    expect(await breaches()).toEqual([])
  }
})
