import axe from 'axe-core'
import { describe, expect, it, vi } from 'vitest'
import { page } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import roofText from '../../demo-data/roof.json?raw'
import '../../src/app/app.css'
import { openSite } from '../../src/files/openSite.ts'
import type { Site } from '../../src/model/schema/site.ts'
import ComparisonPanel from '../../src/panels/comparison/ComparisonPanel.svelte'
import PanelHarness from './PanelHarness.svelte'
import { panelState } from './panelState.ts'

function roofSite(): Site {
  const opened = openSite(new TextEncoder().encode(roofText), 'roof.json')
  if (!opened.ok) throw new Error('the roof demo does not open')
  return opened.value
}

async function show(site: Site) {
  await page.viewport(360, 900)
  const app = panelState(site)
  await render(PanelHarness, { app, panels: [{ panel: ComparisonPanel }] })
  const title = page.getByRole('button', { name: /^Like with like/ })
  return { app, title }
}

describe('readings held against their peers', () => {
  it('says beside its title how many stand out, before it is opened', async () => {
    const { title } = await show(roofSite())
    await expect.element(title).toHaveTextContent('4 high')
    await expect.element(title).toHaveAttribute('aria-expanded', 'false')
  })

  it('shows groups with a plot, and what stands out in words that can be pressed', async () => {
    const { app, title } = await show(roofSite())
    await title.click()
    await expect.element(page.getByText(/4 are high among their peers\. 4 early signs/)).toBeVisible()
    const group = page.getByRole('region', { name: 'Paths to Earth bar: rail, four-wire' })
    const plot = group.getByRole('img')
    await expect.element(plot).toHaveAccessibleName(/^9 readings about .* 3 high among their peers/)
    expect(plot.element().querySelectorAll('.triangle')).toHaveLength(3)
    expect(plot.element().querySelectorAll('.dot')).toHaveLength(6)
    const button = group.getByRole('button', { name: /^6 / })
    await button.click()
    const reading = app.session.site?.record.filter(({ entry }) => entry === 'reading')[5]
    expect(app.selection.picked).toEqual({ kind: 'reading', entry: reading?.id })
    await expect.element(button).toHaveAttribute('aria-pressed', 'true')
    expect(plot.element().querySelectorAll('.isPicked')).toHaveLength(1)
    await vi.waitFor(() => expect(app.results.currentMap?.from).toBe('B1'))
    await button.click()
    expect(app.selection.picked).toBeNull()
  })

  it('picks the reading whose mark is pressed', async () => {
    const { app, title } = await show(roofSite())
    await title.click()
    const plot = page.getByRole('region', { name: 'Paths to Earth bar: rail, four-wire' }).getByRole('img')
    await expect.element(plot).toBeVisible()
    const mark = [...plot.element().querySelectorAll('.triangle')].at(-1)
    const box = mark?.getBoundingClientRect()
    const svg = plot.element().getBoundingClientRect()
    if (!box || !mark) throw new Error('no mark is drawn')
    const position = {
      x: box.left + box.width / 2 - svg.left,
      y: box.top + box.height / 2 - svg.top,
    }
    await plot.click({ position })
    expect(app.selection.picked).toEqual({ kind: 'reading', entry: mark.getAttribute('data-entry') })
  })

  it('is narrow enough for a phone, and accessible', async () => {
    const { title } = await show(roofSite())
    await title.click()
    await expect.element(page.getByRole('img').first()).toBeVisible()
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(360)
    const { violations } = await axe.run(document.body)
    expect(violations.map(({ id, nodes }) => [id, nodes.map(({ html }) => html)])).toEqual([])
  })

  it('lists the rest when asked', async () => {
    const { title } = await show(roofSite())
    await title.click()
    const group = page.getByRole('region', { name: 'Paths to Earth bar: rail, four-wire' })
    await group.getByRole('button', { name: 'List 6 further readings' }).click()
    await expect.element(group.getByRole('rowheader').nth(8)).toBeVisible()
  })

  it('says what is needed where there is nothing to compare', async () => {
    const site = roofSite()
    const { title } = await show({ ...site, record: [] })
    await title.click()
    await expect
      .element(page.getByText(/^Nothing to compare yet\. It takes 3 readings of one kind/))
      .toBeVisible()
  })
})
