import { expect, it, vi } from 'vitest'
import { page } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import Screen from '../../src/app/Screen.svelte'
import { removeItems } from '../../src/model/edits/removeItems.ts'
import { firstPerson, firstSetup } from '../../src/state/faultSetup.ts'
import { panelState, fieldSite } from '../panels/panelState.ts'

const frame = 'R3/T1/F2.5'
const elsewhere = 'R4/T2/F1.1'
const told = page.getByText(/no longer in the drawing and was left out/)

const withoutRod = removeItems({ items: [{ sort: 'electrode', id: 2 }] })

async function show() {
  const app = panelState(fieldSite())
  app.preferences.storySeen = true
  app.preferences.workspace = 'fault'
  await render(Screen, { app, demos: [], ondemo: () => Promise.resolve() })
  await vi.waitFor(() => expect(app.session.index).not.toBeNull())
  return app
}

it('what is erased drops out of the fault at once, and a sentence says so; undo brings the part back alone', async () => {
  const app = await show()
  const { faultDesk, session } = app
  faultDesk.set({ at: frame, person: { ...firstPerson, hand: frame, other: 'G2' }, earthed: { part: 'G2' } })
  faultDesk.losses.watch('G2', 'earth')
  faultDesk.losses.watch(elsewhere, 'earth')
  faultDesk.watchFrom = 'G2'
  faultDesk.ground.stand({ besidePart: 'G2' })
  session.commit((site) => ({ ...site, name: 'Another name' }), 'Rename')
  await vi.waitFor(() => expect(faultDesk.problems).toEqual([]))
  expect(faultDesk.dropped).toEqual([])
  session.commit(withoutRod, 'Erase the rod')
  await expect.element(told).toHaveTextContent('what the circuit was referenced to (G2)')
  await expect.element(told).toHaveTextContent('the other hand (G2)')
  expect(faultDesk.setup).toEqual({
    ...firstSetup,
    at: frame,
    person: { ...firstPerson, hand: frame },
  })
  expect(faultDesk.losses.watched).toEqual([{ from: elsewhere, to: 'earth' }])
  expect([faultDesk.watchFrom, faultDesk.ground.place]).toEqual([null, null])
  await vi.waitFor(() => expect(faultDesk.isCurrent).toBe(true))
  expect(faultDesk.problems).toEqual([])
  session.undo()
  expect(session.site!.drawing.electrodes.some(({ id }) => id === 2)).toBe(true)
  await vi.waitFor(() => expect(faultDesk.isCurrent).toBe(true))
  expect(faultDesk.setup.earthed).toBe('bar')
})

it('what was erased after the fault was cleared does not come back with it', async () => {
  const app = await show()
  const { faultDesk, session } = app
  faultDesk.set({ at: frame, earthed: { part: 'G2' } })
  faultDesk.clear()
  session.commit(withoutRod, 'Erase the rod')
  await page.getByRole('button', { name: 'Bring back what was cleared' }).click()
  await expect.element(told).toHaveTextContent('(G2)')
  expect(faultDesk.setup).toEqual({ ...firstSetup, at: frame })
})
