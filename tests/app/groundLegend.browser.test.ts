import { afterEach, expect, it, vi } from 'vitest'
import { page } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import Screen from '../../src/app/Screen.svelte'
import { fieldSite, panelState } from '../panels/panelState.ts'

afterEach(() => page.viewport(1280, 800))

it('has the volts of parts and of the ground in view beside one another at 1440 × 900', async () => {
  await page.viewport(1440, 900)
  const app = panelState(fieldSite())
  app.preferences.storySeen = true
  app.preferences.workspace = 'fault'
  await render(Screen, { app, demos: [], ondemo: () => Promise.resolve() })
  app.faultDesk.set({ at: 'R4/T5/F2.3', source: 'auxiliary1' })
  app.faultDesk.ground.isOn = true
  const scale = (name: RegExp) => page.getByRole('listitem').filter({ hasText: name })
  const scales = [scale(/^volts of a part/), scale(/^volts of the ground/)]
  for (const each of scales) await expect.element(each, { timeout: 10_000 }).toBeVisible()
  const steps = () => scales.map((each) => [...each.element().querySelectorAll('ol > li')])
  await vi.waitFor(() => expect(steps().map((each) => each.length)).toEqual([5, 5]))
  for (const step of steps().flat()) {
    const { top, bottom, right } = step.getBoundingClientRect()
    expect(bottom).toBeLessThanOrEqual(900)
    // nothing lies over it, and no value runs into the next one
    const seen = document.elementFromPoint(right - 2, (top + bottom) / 2)
    expect(step.contains(seen)).toBe(true)
    expect(step.scrollWidth).toBeLessThanOrEqual(step.clientWidth)
  }
})
