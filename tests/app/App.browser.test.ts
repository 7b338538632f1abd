import { afterEach, expect, it, vi } from 'vitest'
import { page } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import Screen from '../../src/app/Screen.svelte'
import { demoSites } from '../../src/app/demoSites.ts'
import type { Site } from '../../src/model/schema/site.ts'
import { fieldSite, panelState } from '../panels/panelState.ts'

afterEach(() => page.viewport(1280, 800))

async function show(site: Site | null = fieldSite(), storySeen = true) {
  const app = panelState(site)
  app.preferences.storySeen = storySeen
  await render(Screen, { app, demos: [], ondemo: () => Promise.resolve() })
  return app
}

it('names the program, the site and the joint that is likeliest to be bad', async () => {
  await show()
  await expect.element(page.getByRole('heading', { level: 1, name: 'Groundweave' })).toBeInTheDocument()
  await expect.element(page.getByText('Larkmoor Field').first()).toBeVisible()
  await expect
    .element(page.getByText(/Lead for inspection: jumper between table 4-06 and table 4-07/))
    .toBeVisible()
  await expect.element(page.getByRole('application', { name: 'Map of Larkmoor Field' })).toBeVisible()
})

it('a suspect chosen in the list is chosen on the map, and the current of its reading is asked for', async () => {
  const app = await show()
  await page
    .getByRole('button', { name: /Jumper between table 4-06/i })
    .first()
    .click()
  expect(app.selection.picked).toEqual({ kind: 'suspect', joint: 'R4/T6+T7~1' })
  await expect.poll(() => app.results.currentMap?.perAmpere.length).toBe(app.session.index?.jointCount)
})

it('puts the current of a suspect away while one measures, and draws it again on the way back', async () => {
  const app = await show()
  await page
    .getByRole('button', { name: /Jumper between table 4-06/i })
    .first()
    .click()
  await vi.waitFor(() => expect(app.results.currentMap).not.toBeNull())
  await page.getByRole('tab', { name: 'Measure' }).click()
  expect(app.results.currentMap).toBeNull()
  await page.getByRole('tab', { name: 'Locate' }).click()
  await vi.waitFor(() => expect(app.results.currentMap).not.toBeNull())
})

it.each([
  [390, 844],
  [1180, 820],
])(
  'the introduction hides nothing of the map at %i × %i, and gives the keyboard on',
  async (width, height) => {
    await page.viewport(width, height)
    await show(fieldSite(), false)
    const card = page.getByRole('dialog', { name: 'A field seen from above' })
    await expect.element(card).toBeVisible()
    for (let at = 0; at < 2; at++) {
      const story = page.getByRole('dialog').element().getBoundingClientRect()
      const map = page.getByRole('application').element().getBoundingClientRect()
      expect(story.top >= map.bottom || story.left >= map.right).toBe(true)
      await page.getByRole('button', { name: 'Next' }).click()
    }
    await page.getByRole('button', { name: 'Skip' }).click()
    await expect.element(page.getByRole('tabpanel')).toHaveFocus()
  },
)

it('offers a file where the work is not kept', async () => {
  const app = await show()
  const text = /Not kept on this device|Not saved/
  app.session.saving = 'failed'
  await expect.element(page.getByText(text).first()).toBeVisible()
  const chosen = vi.fn(() => Promise.reject(new DOMException('', 'AbortError')))
  vi.stubGlobal('showSaveFilePicker', chosen)
  await page.getByRole('button', { name: 'Save as a file' }).click()
  expect(chosen).toHaveBeenCalledOnce()
  vi.unstubAllGlobals()
})

it('goes to Measure and back, and undo takes the drawing back while the record stays', async () => {
  const app = await show()
  await page.getByRole('tab', { name: 'Measure' }).click()
  await expect.element(page.getByRole('heading', { name: 'Link a pair' })).toBeVisible()
  const before = app.session.site
  app.session.commit(
    (site) => ({ ...site, drawing: { ...site.drawing, facts: { ...site.drawing.facts, note: 'changed' } } }),
    'note',
  )
  await page.getByRole('button', { name: 'Undo: note' }).click()
  expect(app.session.site?.drawing).toBe(before?.drawing)
  expect(app.session.site?.record).toBe(before?.record)
})

it('says what to do where no site is open', async () => {
  await show(null)
  await expect.element(page.getByText('None open')).toBeVisible()
  expect(page.getByRole('application').elements()).toHaveLength(0)
})

it('lists the files that lie in demo-data in words made of them', async () => {
  const texts = import.meta.glob<string>('../../demo-data/*.json', { query: '?raw', import: 'default' })
  const files = Object.keys(texts).map((path) => path.split('/').at(-1))
  expect(demoSites.map(({ file }) => file)).toEqual(files)
  for (const { name, about, address } of demoSites) {
    const text = await (await fetch(address)).text()
    expect(text).toContain(JSON.stringify(name))
    const readings = text.split('"entry":"reading"').length - 1
    expect(about).toMatch(new RegExp(`^[0-9]+ rows, .* joints; ${readings} readings in the record\\.$`))
  }
})
