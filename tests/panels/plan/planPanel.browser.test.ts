import { afterEach, describe, expect, it } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../../src/app/app.css'
import type { Site } from '../../../src/model/schema/site.ts'
import { PairDraft } from '../../../src/panels/pairDraft.svelte.ts'
import { addPlanPair } from '../../../src/panels/plan/planEdits.ts'
import PlanPanel from '../../../src/panels/PlanPanel.svelte'
import { pairPick } from '../../../src/state/planMarks.ts'
import { breaches, themes, tooSmallForTouch, wear } from '../../ui/accessibility.ts'
import PanelHarness from '../PanelHarness.svelte'
import { fieldSite, panelState } from '../panelState.ts'

interface Asked {
  linking: boolean[]
  shown: unknown[]
  sheets: string[]
}

async function show(site: Site = fieldSite()) {
  await page.viewport(400, 2600)
  const app = panelState(site, { hasRanking: false })
  app.preferences.workspace = 'plan'
  const draft = new PairDraft()
  const asked: Asked = { linking: [], shown: [], sheets: [] }
  const props = {
    draft,
    linking: false,
    onlinking: (on: boolean) => asked.linking.push(on),
    onshow: (picked: unknown) => asked.shown.push(picked),
    onsheet: (plan: string) => asked.sheets.push(plan),
  }
  await render(PanelHarness, { app, draft, panels: [{ panel: PlanPanel, props }] })
  return { app, draft, asked }
}

const withoutPlans = (): Site => {
  const site = fieldSite()
  return { ...site, drawing: { ...site.drawing, plans: [] } }
}
const button = (name: string | RegExp) => page.getByRole('button', { name })
const pairs = () => page.getByRole('listbox', { name: 'Pairs' })

afterEach(async () => {
  wear('system')
  await page.viewport(1280, 800)
})

describe('plans', () => {
  it('are made, renamed and removed, each as a step that can be undone', async () => {
    const { app } = await show(withoutPlans())
    await expect.element(page.getByText(/^No plan yet/)).toBeVisible()
    await button('New plan').click()
    await button('New plan').click()
    expect(app.session.site!.drawing.plans.map(({ name }) => name)).toEqual(['Plan 1', 'Plan 2'])
    await expect.element(page.getByRole('combobox', { name: 'Plan', exact: true })).toHaveValue('plan-2')
    await button('Name and note').click()
    await page.getByRole('textbox', { name: 'Name' }).fill('Handover')
    await userEvent.keyboard('{Enter}')
    expect(app.planDesk.plan?.name).toBe('Handover')
    await button('Remove this plan').click()
    expect(app.planDesk.plan?.name).toBe('Plan 1')
    app.session.undo()
    app.session.undo()
    expect(app.session.site!.drawing.plans.map(({ name }) => name)).toEqual(['Plan 1', 'Plan 2'])
  })

  it('begin with the first pair where there is none, as one step', async () => {
    const { app } = await show(withoutPlans())
    addPlanPair(app, 'B1', 'R1/T1/F1.1')
    expect(app.planDesk.plan?.pairs).toMatchObject([{ id: 1, from: 'B1', to: 'R1/T1/F1.1', required: false }])
    app.session.undo()
    expect(app.session.site!.drawing.plans).toEqual([])
  })
})

describe('pairs of a plan', () => {
  it('come from their two ends by name; the first end stays for the next', async () => {
    const { app } = await show(withoutPlans())
    await button('Add a pair by its two ends').click()
    await expect.element(button('Add this pair')).toHaveAttribute('aria-disabled', 'true')
    await page.getByRole('combobox', { name: 'From', exact: true }).fill('B1')
    await userEvent.keyboard('{Enter}')
    const to = page.getByRole('combobox', { name: 'To', exact: true })
    for (const end of ['R1/T1/F1.1', 'R1/T2/F1.1']) {
      await to.fill(end)
      await userEvent.keyboard('{Enter}')
      await button('Add this pair').click()
    }
    expect(app.planDesk.plan?.pairs.map(({ from, to: end }) => [from, end])).toEqual([
      ['B1', 'R1/T1/F1.1'],
      ['B1', 'R1/T2/F1.1'],
    ])
    const options = pairs().getByRole('option')
    expect(options.elements()).toHaveLength(3)
    await expect.element(options.first()).toHaveTextContent(/^Set-up 1 first clip on Main earth bar/)
  })

  it('are not added twice, whichever way round', async () => {
    const { app } = await show()
    const [first] = app.planDesk.plan!.pairs
    const before = app.session.site
    addPlanPair(app, first.to, first.from)
    expect(app.session.site).toBe(before)
    expect(app.selection.picked).toEqual(pairPick(first.id))
    expect(app.announcer.sentence).toMatch(/as pair 1/)
  })

  it('are chosen from the list by keys, pinned with step and point, moved and removed', async () => {
    const { app, asked } = await show()
    const before = app.planDesk.plan!.pairs
    pairs().element().focus()
    await userEvent.keyboard('{ArrowDown}{ArrowDown}{Enter}')
    expect(app.selection.picked).toEqual(pairPick(before[1].id))
    const card = page.getByRole('article', { name: 'Pair 2' })
    await expect.element(card).toHaveTextContent(before[1].to)
    const isRequired = before[1].required
    await card.getByRole('switch', { name: 'The contract asks for it' }).click()
    await card.getByRole('textbox', { name: 'Step of the test plan' }).fill('4.2')
    await userEvent.keyboard('{Enter}')
    await card.getByRole('combobox', { name: 'Witness or hold point' }).selectOptions('hold')
    expect(app.planDesk.plan!.pairs[1]).toMatchObject({ required: !isRequired, step: '4.2', point: 'hold' })
    await expect.element(pairs().getByRole('option').nth(2)).toHaveTextContent(/step 4\.2 · hold point/)
    await card.getByRole('button', { name: 'Show on map' }).click()
    expect(asked.shown).toEqual([pairPick(before[1].id)])
    await card.getByRole('button', { name: 'Earlier' }).click()
    expect(app.planDesk.plan!.pairs.map(({ id }) => id).slice(0, 2)).toEqual([before[1].id, before[0].id])
    await page.getByRole('button', { name: 'Remove pair' }).click()
    expect(app.planDesk.plan!.pairs.map(({ id }) => id)).not.toContain(before[1].id)
    await expect.element(page.getByRole('article', { name: 'Pair 1' })).toHaveTextContent(before[0].to)
    app.session.undo()
    expect(app.planDesk.plan!.pairs[0].id).toBe(before[1].id)
  })

  it('lead to the sheet, and to the walk in Measure', async () => {
    const { app, draft, asked } = await show()
    const plan = app.planDesk.plan!
    await button('Test sheet').click()
    expect(asked.sheets).toEqual([plan.id])
    await button('Walk it in Measure').click()
    expect(app.preferences.workspace).toBe('measure')
    expect(draft.extras.plan).toBe(plan.id)
    expect(app.selection.pairFrom).toBe(plan.pairs[0].from)
  })

  it('are easy to hit, have names and contrast in every theme, and fit 360 px', async () => {
    const { app } = await show()
    app.selection.pick(pairPick(app.planDesk.plan!.pairs[0].id))
    await page.viewport(360, 2600)
    await button('Name and note').click()
    await button('Add a pair by its two ends').click()
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(document.documentElement.clientWidth)
    expect(tooSmallForTouch(document)).toEqual([])
    for (const theme of themes) {
      wear(theme)
      expect(await breaches()).toEqual([])
    }
  })
})
