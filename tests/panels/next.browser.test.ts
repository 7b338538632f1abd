import { afterEach, beforeAll, describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import type { NextAction, NextAnswer } from '../../src/model/answers.ts'
import type { Site } from '../../src/model/schema/site.ts'
import type { NextShown } from '../../src/panels/nextShown.ts'
import { PairDraft } from '../../src/panels/pairDraft.svelte.ts'
import type { AppState } from '../../src/state/appState.ts'
import { describeStop } from '../../src/text/nextText.ts'
import { breaches, themes, tooSmallForTouch, wear } from '../ui/accessibility.ts'
import NextHarness from './NextHarness.svelte'
import { fieldSite, panelState } from './panelState.ts'

/** The field without the readings that decide between the jumpers of row 4. */
function undecidedSite(): Site {
  const site = fieldSite()
  const isDeciding = /^R4\/T[567]\//
  return {
    ...site,
    record: site.record.filter((entry) => entry.entry !== 'reading' || !isDeciding.test(entry.to.part)),
  }
}

interface Shown {
  readonly app: AppState
  readonly draft: PairDraft
  readonly shown: NextShown[]
}

async function show(app: AppState): Promise<Shown> {
  await page.viewport(400, 2400)
  app.preferences.workspace = 'locate'
  const draft = new PairDraft()
  const shown: NextShown[] = []
  await render(NextHarness, { app, draft, onshow: (one: NextShown) => shown.push(one) })
  return { app, draft, shown }
}

/** What the engine says of the undecided field, worked out once. */
let answer: NextAnswer

beforeAll(async () => {
  const { session, results } = panelState(undecidedSite(), { hasNext: true })
  results.refresh(session.site)
  await vi.waitFor(() => expect(results.isNextCurrent).toBe(true), 55_000)
  answer = results.next!
}, 60_000)

/** With an answer put in its place. */
async function told(given: Partial<NextAnswer>, site = fieldSite(), isCurrent = true): Promise<Shown> {
  const app = panelState(site)
  const { basis } = answer
  const next = { basis, stop: 'goOn', actions: [], entropyBits: 1, considered: 0, leftOutPairs: 0, ...given }
  vi.spyOn(app.results, 'next', 'get').mockReturnValue(next as NextAnswer)
  vi.spyOn(app.results, 'isNextCurrent', 'get').mockReturnValue(isCurrent)
  return show(app)
}

const undecided = (isCurrent = true) => told(answer, undecidedSite(), isCurrent)

const action = (given: Partial<NextAction>): NextAction => ({
  kind: 'look',
  minutes: 3,
  bits: 0.5,
  outcomes: [],
  ...given,
})
const button = (name: string | RegExp) => page.getByRole('button', { name })
const panel = () => page.getByRole('heading', { name: 'What to do next' })

afterEach(async () => {
  vi.restoreAllMocks()
  wear('system')
  await page.viewport(1280, 800)
})

describe('NextPanel', () => {
  it('tells the best action: both ends in words and by address, minutes, and what each outcome would mean', async () => {
    const { app } = await undecided()
    const [first] = app.results.next!.actions
    expect(first.kind).toBe('pair')
    await expect.element(panel()).toBeVisible()
    await expect
      .element(page.getByRole('heading', { level: 3, name: /Read this pair/ }))
      .toHaveTextContent(/minute/)
    const ends = page.getByRole('definition')
    await expect.element(ends.nth(0)).toHaveTextContent(first.from!)
    await expect.element(ends.nth(1)).toHaveTextContent(first.to!)
    const outcomes = page
      .getByRole('list', { name: 'What would be thought then' })
      .first()
      .getByRole('listitem')
    expect(outcomes.elements()).toHaveLength(first.outcomes.length)
    await expect.element(outcomes.first()).toHaveTextContent(/^Below .*: then /)
    await expect.element(outcomes.last()).toHaveTextContent(/^Above .*: then /)
  })

  it('takes the pair over into Measure by a key, with the instrument and lead it was reckoned with', async () => {
    const { app, draft } = await undecided()
    const [first] = app.results.next!.actions
    const calls = draft.calls
    draft.type('0.5', 'Ω')
    button(/^Measure this ?: /)
      .first()
      .element()
      .focus()
    await userEvent.keyboard('{Enter}')
    expect(app.preferences.workspace).toBe('measure')
    expect([app.selection.pairFrom, app.selection.pairTo]).toEqual([first.from, first.to])
    expect([draft.kit, draft.lead]).toEqual([first.kit, first.lead])
    expect(draft.ohms).toBe('')
    expect(draft.calls).toBe(calls + 1)
  })

  it('shows its pair while it is pointed at or focused, and brings it into view when asked', async () => {
    const { app, shown } = await undecided()
    const [first] = app.results.next!.actions
    const pair = { from: first.from, to: first.to }
    await userEvent.hover(page.getByRole('heading', { name: /Read this pair/ }))
    await vi.waitFor(() => expect(app.selection.pointedPair).toEqual(pair))
    await userEvent.unhover(page.getByRole('heading', { name: /Read this pair/ }))
    await vi.waitFor(() => expect(app.selection.pointedPair).toBeNull())
    const seen = button(/^Show on the map ?: /).first()
    seen.element().focus()
    await vi.waitFor(() => expect(app.selection.pointedPair).toEqual(pair))
    await userEvent.keyboard('{Enter}')
    expect(shown).toEqual([{ kind: 'pair', ...pair }])
    seen.element().blur()
    await vi.waitFor(() => expect(app.selection.pointedPair).toBeNull())
  })

  it('folds the further ones away', async () => {
    const { app } = await undecided()
    const { actions } = app.results.next!
    const more = button(`${actions.length - 1} more things to do`)
    await expect.element(more).toHaveAttribute('aria-expanded', 'false')
    expect(button(/^Measure this ?: /).elements()).toHaveLength(1)
    await more.click()
    const pairs = actions.filter(({ kind }) => kind === 'pair')
    expect(button(/^Measure this ?: /).elements()).toHaveLength(pairs.length)
    const look = actions.find(({ kind }) => kind === 'look')!
    const card = page.getByRole('heading', { level: 4, name: /^Look at / }).first()
    await userEvent.hover(card)
    await vi.waitFor(() => expect(app.selection.hovered).toEqual({ kind: 'joint', address: look.joint }))
  })

  it('repeats a reading with its ends and clips', async () => {
    const site = fieldSite()
    const reading = site.record.find((entry) => entry.entry === 'reading')!
    const { app, draft } = await told({
      actions: [action({ kind: 'repeat', entry: reading.id, from: reading.from.part, to: reading.to.part })],
    })
    await expect.element(page.getByText(/Take off both clips/)).toBeVisible()
    await button(/^Repeat it ?: /).click()
    expect([app.selection.pairFrom, app.selection.pairTo]).toEqual([reading.from.part, reading.to.part])
    expect(draft.repeats).toBe(reading.id)
    expect(draft.fromClip).toEqual(reading.from)
    expect(draft.toClip).toEqual(reading.to)
  })

  it('says how a joint is seen to, with the caution, and offers no reading for it', async () => {
    const joint = 'R4/T6+T7~1'
    const { shown } = await told({
      stop: 'foundIt',
      actions: [action({ kind: 'retorque', joint, group: 0 })],
    })
    await expect.element(page.getByText(/^Measured enough/)).toBeVisible()
    await expect.element(page.getByText(/temporary bond across it/)).toBeVisible()
    expect(button(/^Measure this|^Repeat it/).elements()).toHaveLength(0)
    await button(/^Show on the map ?: Look at/).click()
    expect(shown).toEqual([{ kind: 'joint', address: joint }])
  })

  it('goes to the nulling for the leads, and says what to do there', async () => {
    const { app } = await told({ actions: [action({ kind: 'shortLeads' })] })
    await button('Null or check the leads').click()
    expect(app.preferences.workspace).toBe('measure')
    expect(app.announcer.sentence).toMatch(/Short the clips at the far end/)
  })

  it('says when nothing is worth its minutes', async () => {
    const { app } = await told({ stop: 'nothingWorthIt' })
    await expect.element(page.getByText(describeStop(app.results.next!))).toBeVisible()
    expect(page.getByRole('article').elements()).toHaveLength(0)
  })

  it('greys what is of an older state and lets no pair of it be taken over', async () => {
    const { app } = await undecided(false)
    const take = button(/^Measure this ?: /).first()
    await expect.element(take).toHaveAttribute('aria-disabled', 'true')
    await take.click({ force: true })
    expect(app.selection.pairFrom).toBeNull()
    expect(document.querySelectorAll('[aria-busy="true"]')).not.toHaveLength(0)
  })

  it('tells how far it has come, and can be stopped and gone on with', async () => {
    const app = panelState()
    const { results } = app
    let isStopped = false
    vi.spyOn(results, 'isCurrent', 'get').mockReturnValue(true)
    vi.spyOn(results, 'nextProgress', 'get').mockReturnValue({ stage: 'weigh', fraction: 0.25 })
    const cancel = vi.spyOn(results, 'cancel').mockImplementation(() => void (isStopped = true))
    await show(app)
    await expect.element(page.getByRole('progressbar')).toHaveAttribute('aria-valuenow', '25')
    await button('Stop working out what to do next').click()
    expect(cancel).toHaveBeenCalledOnce()
    expect(isStopped).toBe(true)
    expect(app.announcer.sentence).toMatch(/^Stopped before/)
  })

  it('is easy to hit, has names and contrast in every theme, and fits 360 px', async () => {
    await undecided()
    await page.viewport(360, 2600)
    await button(/more things to do$/).click()
    await button('Why, and what would be thought then').first().click()
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(document.documentElement.clientWidth)
    expect(tooSmallForTouch(document)).toEqual([])
    for (const theme of themes) {
      wear(theme)
      expect(await breaches()).toEqual([])
    }
  })
})

describe('NextLine', () => {
  it('is one line at the head of the form while no pair is begun, and takes the pair over', async () => {
    const { app, draft } = await undecided()
    const [first] = app.results.next!.actions
    const line = page.getByRole('region', { name: 'Next', exact: true }).first()
    await expect.element(line).toHaveTextContent(/^Next: read .* to .*minute/)
    await line.getByRole('button', { name: 'Measure this' }).click()
    expect([app.selection.pairFrom, app.selection.pairTo]).toEqual([first.from, first.to])
    expect(page.getByText(/^Next: read/).elements()).toHaveLength(0)
    app.selection.beginPair(first.from!)
    await expect.element(page.getByText(/^Next: read/)).toBeVisible()
    draft.toText = 'R4'
    await expect.element(page.getByText(/^Next: read/)).not.toBeInTheDocument()
  })

  it('says nothing of an older state', async () => {
    await undecided(false)
    await expect.element(panel()).toBeVisible()
    expect(page.getByText(/^Next: read/).elements()).toHaveLength(0)
  })

  it('leads to Locate for what is no reading', async () => {
    const { app } = await told({ actions: [action({ kind: 'look', joint: 'R4/T6+T7~1' })] })
    app.preferences.workspace = 'measure'
    await expect.element(page.getByText(/^Next: look at the jumper/)).toBeVisible()
    await button('See it in Locate').click()
    expect(app.preferences.workspace).toBe('locate')
  })
})
