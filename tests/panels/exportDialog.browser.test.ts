import { describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import { newSite } from '../../src/model/newSite.ts'
import ExportDialog from '../../src/panels/ExportDialog.svelte'
import type { Site } from '../../src/model/schema/site.ts'
import { uuid } from '../model/exampleSite.ts'
import { breaches, themes, tooSmallForTouch, wear } from '../ui/accessibility.ts'
import PanelHarness from './PanelHarness.svelte'
import { fieldSite, panelState } from './panelState.ts'

const field = fieldSite()
const unplaced: Site = {
  ...field,
  drawing: { ...field.drawing, facts: { ...field.drawing.facts, anchor: null } },
}

async function show(site: Site | null = unplaced) {
  const app = panelState(site)
  const onclose = vi.fn<() => void>()
  const save = vi.fn<(file: Blob, fileName: string) => void>()
  const map = {
    pictureSvg: (title: string) => `<svg>${title}</svg>`,
    picturePng: vi.fn((_title: string, scale: number) =>
      Promise.resolve(scale === 3 ? null : new Blob(['png'])),
    ),
  }
  await render(PanelHarness, {
    app,
    panels: [{ panel: ExportDialog, props: { isOpen: true, onclose, save, map } }],
  })
  return { app, save, map, onclose }
}

const button = (what: string) => page.getByRole('button', { name: `Save ${what}` })

describe('taking a site out', () => {
  it('leads to the report', async () => {
    const onreport = vi.fn<() => void>()
    await render(PanelHarness, {
      app: panelState(field),
      panels: [{ panel: ExportDialog, props: { isOpen: true, onclose: vi.fn<() => void>(), onreport } }],
    })
    await page.getByRole('button', { name: 'Report and test sheet …' }).click()
    expect(onreport).toHaveBeenCalledOnce()
  })

  it('asks for a place before GeoJSON is made, by keyboard, and keeps it with the site', async () => {
    const { app, save } = await show()
    await expect
      .element(button('Site as GeoJSON'))
      .toHaveAttribute('title', 'say first where the drawing lies')
    page.getByLabelText('Latitude of the origin').element().focus()
    await userEvent.keyboard('48.2{Enter}{Tab}')
    expect(document.activeElement).toBe(page.getByLabelText('Longitude of the origin').element())
    await userEvent.keyboard('-11,5{Enter}{Tab}')
    expect(document.activeElement).toBe(page.getByLabelText('Bearing of the y axis').element())
    await userEvent.keyboard('7{Enter}{Tab}{Enter}')
    expect(app.session.site?.drawing.facts.anchor).toEqual({
      latitudeDeg: 48.2,
      longitudeDeg: -11.5,
      bearingDeg: 7,
    })
    button('Site as GeoJSON').element().focus()
    await userEvent.keyboard('{Enter}')
    await vi.waitFor(() => expect(save).toHaveBeenCalledOnce())
    const [file, name] = save.mock.calls[0]
    expect(name).toMatch(/ site\.geojson$/)
    const read = JSON.parse(await file.text()) as {
      readonly type: string
      readonly features: readonly unknown[]
    }
    expect(read.type).toBe('FeatureCollection')
    expect(read.features.length).toBeGreaterThan(60)
    await expect.element(page.getByText(/^Handed to the browser as .* site\.geojson/).first()).toBeVisible()
    app.session.undo()
    expect(app.session.site?.drawing.facts.anchor).toBeNull()
  })

  it('says how long a list will be, and makes it', async () => {
    const { app, save } = await show()
    const { tableCount, jointCount } = app.session.index!
    await expect.element(page.getByText(new RegExp(`^${tableCount} lines, about \\d+ KB`))).toBeVisible()
    await button('Tables as CSV').click()
    await vi.waitFor(() => expect(save).toHaveBeenCalledOnce())
    const lines = (await save.mock.calls[0][0].text()).split('\r\n')
    expect(lines).toHaveLength(tableCount + 2)
    await button('Joints as CSV').click()
    await vi.waitFor(() => expect(save).toHaveBeenCalledTimes(2))
    expect(save.mock.calls[1][1]).toMatch(/ joints\.csv$/)
    expect((await save.mock.calls[1][0].text()).split('\r\n').length).toBeGreaterThan(0.95 * jointCount)
  })

  it('stops when it is told to, and makes no file', async () => {
    const { save } = await show()
    button('Joints as CSV')
      .element()
      .dispatchEvent(new MouseEvent('click', { bubbles: true }))
    await expect.element(page.getByRole('button', { name: 'Stop' })).toBeVisible()
    page
      .getByRole('button', { name: 'Stop' })
      .element()
      .dispatchEvent(new MouseEvent('click', { bubbles: true }))
    await expect.element(page.getByText('Stopped. No file was made.').first()).toBeVisible()
    expect(save).not.toHaveBeenCalled()
  })

  it('hands over pictures, and says when the browser can make none', async () => {
    const { save, map } = await show()
    await button('Map as SVG').click()
    expect(save.mock.calls[0][1]).toMatch(/ map\.svg$/)
    await button('Map as PNG').click()
    await vi.waitFor(() => expect(save).toHaveBeenCalledTimes(2))
    expect(map.picturePng).toHaveBeenLastCalledWith(field.name, 2)
    await page.getByLabelText('Size of the PNG').selectOptions('three times as large')
    await button('Map as PNG').click()
    await expect
      .element(page.getByRole('alert').getByText(/could not make a picture of this size/))
      .toBeVisible()
    expect(save).toHaveBeenCalledTimes(2)
  })

  it('of an empty site has nothing to save, and without one says so', async () => {
    await show(newSite({ id: uuid(1), revision: uuid(2), name: 'Bench', units: 'us' }))
    await expect.element(button('Tables as CSV')).toHaveAttribute('title', 'no tables are drawn')
    await expect.element(button('Joints as CSV')).toHaveAttribute('title', 'no joints are drawn')
    await expect.element(button('Site as GeoJSON')).toHaveAttribute('title', 'nothing is drawn')
  })

  it.each(themes)('has no fault that axe finds, %s', async (theme) => {
    wear(theme)
    await page.viewport(390, 800)
    await show()
    expect(await breaches()).toEqual([])
    expect(tooSmallForTouch(document.querySelector('dialog')!)).toEqual([])
    await page.viewport(1280, 800)
  })
})

describe('taking readings out', () => {
  it('gives all of them or those of a look, with or without a byte order mark', async () => {
    const { app, save } = await show(field)
    const lines = async (call: number) => {
      const bytes = new Uint8Array(await save.mock.calls[call][0].arrayBuffer())
      const text = new TextDecoder().decode(bytes)
      return { hasMark: bytes[0] === 0xef, count: text.trim().split('\r\n').length - 1, text }
    }
    await button('Readings as CSV').click()
    await vi.waitFor(() => expect(save).toHaveBeenCalledOnce())
    const all = await lines(0)
    const count = app.session.site!.record.filter(({ entry }) => entry === 'reading').length
    expect([all.hasMark, all.count]).toEqual([true, count])
    expect(all.text).toMatch(/^number,time,from address,to address,from,to,read \(ohm\)/)
    await page.getByRole('switch', { name: 'Begin with a byte order mark, for spreadsheets' }).click()
    const options = [...(page.getByLabelText('Which readings').element() as HTMLSelectElement).options]
    const { label } = options.find((option) => option.label.startsWith('those that look'))!
    await page.getByLabelText('Which readings').selectOptions(label)
    await button('Readings as CSV').click()
    await vi.waitFor(() => expect(save).toHaveBeenCalledTimes(2))
    const weighed = await lines(1)
    expect([weighed.hasMark, label]).toEqual([false, expect.stringContaining(`(${weighed.count})`)])
    expect(save.mock.calls[1][1]).toMatch(/ readings\.csv$/)
  })
})
