import { afterEach, describe, expect, it } from 'vitest'
import { page } from 'vitest/browser'
import { firstPerson, firstSetup } from '../../../src/state/faultSetup.ts'
import { FaultShelf } from '../../../src/state/faultShelf.ts'
import { nothingKept } from '../../../src/state/keptFault.ts'
import { takeUpFault } from '../../../src/state/takeUpFault.ts'
import { fieldSite } from '../panelState.ts'
import { button, showFault } from './faultHarness.ts'

afterEach(() => page.viewport(1280, 800))

const frame = 'R3/T1/F2.5'

/** A shelf of the device, as a page before this one left it. */
function shelfWith(change: Partial<typeof firstSetup>): FaultShelf {
  const kept: Record<string, string> = {}
  const shelf = new FaultShelf({
    getItem: (key) => kept[key] ?? null,
    setItem: (key, value) => void (kept[key] = value),
  })
  const setup = { ...firstSetup, ...change }
  shelf.put(fieldSite().id, { ...nothingKept, setup, isPaused: true })
  return shelf
}

describe('a fault that was left on this device', () => {
  it('is asked again as it was, and told', async () => {
    const faultShelf = shelfWith({ at: frame, person: { ...firstPerson, hand: frame, armReachM: 2.5 } })
    const { app, settle } = await showFault(fieldSite(), (state) => takeUpFault({ ...state, faultShelf }))
    await settle()
    expect(app.faultDesk.kept.setup.at).toBe(frame)
    expect(app.faultDesk.isPaused).toBe(true)
    await expect.element(page.getByRole('region', { name: 'One who touches' })).toBeVisible()
    expect(document.querySelector('main')!.textContent).not.toContain('no longer in the drawing')
  })

  it('says what of it is no longer drawn, until that is put away', async () => {
    const faultShelf = shelfWith({
      at: frame,
      altered: [{ joint: 'R77/T1+T2~1', ohm: null }],
      person: { ...firstPerson, hand: 'R88/T1/F1.1' },
    })
    const { app } = await showFault(fieldSite(), (state) => takeUpFault({ ...state, faultShelf }))
    const told = page.getByText(/no longer in the drawing and was left out/)
    await expect.element(told).toHaveTextContent('R77/T1+T2~1')
    await expect.element(told).toHaveTextContent('R88/T1/F1.1')
    expect(app.faultDesk.setup).toMatchObject({ at: frame, altered: [], person: null })
    await button('Put this away').click()
    await expect.element(told).not.toBeInTheDocument()
  })

  it('is cleared, and brought back while nothing else was chosen', async () => {
    const { app } = await showFault(fieldSite(), (state) =>
      state.faultDesk.set({
        at: frame,
        light: 0.5,
        second: { part: 'B1', moduleFromNegative: 2, sameString: true },
      }),
    )
    const before = app.faultDesk.kept
    await button('Clear the fault').click()
    expect(app.faultDesk.setup).toEqual(firstSetup)
    await expect.element(page.getByRole('heading', { name: /Tap a part on the map/ })).toBeVisible()
    expect(document.querySelector('[role=status]')!.textContent).toBe('The fault is cleared.')
    await button('Bring back what was cleared').click()
    expect(app.faultDesk.kept).toEqual(before)
    await button('Clear the fault').click()
    app.faultDesk.set({ light: 0.7 })
    await expect.element(button('Bring back what was cleared')).not.toBeInTheDocument()
  })
})
