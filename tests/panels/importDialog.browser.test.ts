import { describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import { newSite } from '../../src/model/newSite.ts'
import { droppedLayout } from '../../src/panels/droppedLayout.ts'
import ImportDialog from '../../src/panels/ImportDialog.svelte'
import type { Site } from '../../src/model/schema/site.ts'
import { fixedTilt, tracker, uuid } from '../model/exampleSite.ts'
import { breaches, themes, tooSmallForTouch, wear } from '../ui/accessibility.ts'
import PanelHarness from './PanelHarness.svelte'
import { panelState } from './panelState.ts'

const empty = newSite({ id: uuid(1), revision: uuid(2), name: 'Bench', units: 'metric' })
const withTypes: Site = { ...empty, drawing: { ...empty.drawing, tableTypes: [fixedTilt, tracker] } }

async function show(site: Site | null = withTypes, file: File | null = null) {
  const app = panelState(site)
  const onclose = vi.fn<() => void>()
  const onimported = vi.fn<() => void>()
  const props = { isOpen: true, onclose, onimported, file }
  await render(PanelHarness, { app, panels: [{ panel: ImportDialog, props }] })
  return { app, onclose, onimported }
}

const give = (name: string, text: string) =>
  userEvent.upload(page.getByLabelText('File to import'), new File([text], name))

const add = () => page.getByRole('button', { name: 'Add to the drawing' })

const list = 'Row;x;y;Azimuth;Tables;Gap;Type\nA1;0,5;10;180;6;0,3;fixed\nA2;0,5;22;180;6;0,3;2P\n'

describe('bringing a list in', () => {
  it('says what is wrong and where, and adds nothing until a type is chosen for the name', async () => {
    const { app, onclose, onimported } = await show()
    await expect.element(add()).toHaveAttribute('aria-disabled', 'true')
    await give('rows.csv', list)
    await expect.element(page.getByText('Adds 1 row with 6 tables in all.')).toBeVisible()
    await expect.element(page.getByText(/^Type, line 3: Expected the name of a table type/)).toBeVisible()
    await expect.element(add()).toHaveAttribute('aria-disabled', 'true')
    await add().click({ force: true })
    expect(app.session.site?.drawing.rows).toHaveLength(0)
    await page.getByLabelText('“2P” in the file is').selectOptions('1 high × 5 on a tube')
    await expect.element(page.getByText('Adds 2 rows with 12 tables in all.')).toBeVisible()
    await add().click()
    const rows = app.session.site!.drawing.rows
    expect(
      rows.map(({ label, originM, bearingDeg, runs }) => [label, originM, bearingDeg, runs[0].type]),
    ).toEqual([
      ['A1', { x: 0.5, y: 10 }, 90, 'fixed'],
      ['A2', { x: 0.5, y: 22 }, 90, 'tracker'],
    ])
    expect(onclose).toHaveBeenCalledOnce()
    expect(onimported).toHaveBeenCalledOnce()
    expect(app.session.undoLabel).toBe('Import of 2 rows with 12 tables in all')
    app.session.undo()
    expect(app.session.site?.drawing.rows).toHaveLength(0)
  })

  it('is done by keyboard, with the wrong lines left out', async () => {
    const { app } = await show()
    await give('rows.csv', list)
    const leave = page.getByRole('switch', { name: 'Leave out the line that is wrong' })
    await expect.element(leave).toBeVisible()
    leave.element().focus()
    await userEvent.keyboard(' ')
    for (let tab = 0; tab < 40 && document.activeElement !== add().element(); tab++) await userEvent.tab()
    expect(document.activeElement).toBe(add().element())
    await userEvent.keyboard('{Enter}')
    expect(app.session.site?.drawing.rows.map(({ label }) => label)).toEqual(['A1'])
  })

  it('of tables says how far one is moved', async () => {
    const { app } = await show()
    await give('tables.csv', 'row,table,x,y,bearing\nA,1,0,0,90\nA,2,4.76,0.012,90\nA,3,9.52,0,90\n')
    await expect.element(page.getByText('Adds 1 row with 3 tables in all.')).toBeVisible()
    await expect.element(page.getByText(/the table that moves furthest moves by 8\.0 mm/)).toBeVisible()
    await add().click()
    expect(app.session.site?.drawing.rows[0].tableLabels).toEqual({ 1: '1', 2: '2', 3: '3' })
  })

  it('that names other columns is told which is which', async () => {
    await show()
    await give('odd.csv', 'p,q,n\n1,2,3\n')
    await expect.element(page.getByText(/^x, line 2: A value is missing/)).toBeVisible()
    await page.getByLabelText('Each line of the file is').selectOptions('one row')
    await page.getByLabelText('x, to the east').selectOptions('p – 1')
    await page.getByLabelText('y, to the north').selectOptions('q – 2')
    await page.getByLabelText('Number of tables').selectOptions('n – 3')
    await expect.element(page.getByText('Adds 1 row with 3 tables in all.')).toBeVisible()
  })

  it('in a site without a table type offers some to start from', async () => {
    const { app } = await show(empty, new File([list], 'rows.csv'))
    await expect.element(page.getByText(/The site has no table type yet/)).toBeVisible()
    await page.getByRole('note').getByRole('button').first().click()
    expect(app.session.site?.drawing.tableTypes).toHaveLength(1)
    await expect.element(page.getByText(/^Type, line 2/)).toBeVisible()
    await page
      .getByLabelText('“fixed” in the file is')
      .selectOptions(app.session.site!.drawing.tableTypes[0].name)
    await expect.element(page.getByText('Adds 1 row with 6 tables in all.')).toBeVisible()
  })
})

describe('bringing a drawing in', () => {
  const feature = (type: string, coordinates: unknown, properties: object) => ({
    type: 'Feature',
    geometry: { type, coordinates },
    properties,
  })
  const drawing = JSON.stringify({
    type: 'FeatureCollection',
    features: [
      feature('Point', [11.5, 48.2], { layer: 'rod', name: '<img src=x onerror="globalThis.hurt = 1">' }),
      feature(
        'LineString',
        [
          [11.5, 48.2],
          [11.501, 48.2],
        ],
        { layer: 'cable' },
      ),
      feature('Point', [11.5, 480], {}),
    ],
  })

  it('takes the middle of the file for its place, and shows hostile labels as text', async () => {
    const { app } = await show(withTypes, new File([drawing], 'site.geojson'))
    await expect.element(page.getByText('Adds 2 other things.')).toBeVisible()
    await expect
      .element(page.getByText(/features › 3rd › geometry › coordinates: Expected longitude first/))
      .not.toBeInTheDocument()
    await expect.element(page.getByText(/not metres of a map grid/)).toBeVisible()
    await page.getByRole('switch', { name: 'Leave out the feature that is wrong' }).click()
    await add().click()
    const { drawing: drawn } = app.session.site!
    expect(drawn.facts.anchor).toEqual({ latitudeDeg: 48.2, longitudeDeg: 11.5005, bearingDeg: 0 })
    expect([drawn.electrodes.length, drawn.conductors.length]).toEqual([1, 1])
    expect(document.querySelector('img')).toBeNull()
    expect('hurt' in globalThis).toBe(false)
  })

  it('that is none says so', async () => {
    await show()
    await give('broken.geojson', '{"type":"Feature')
    await expect.element(page.getByRole('alert').getByText(/was cut off/)).toBeVisible()
    await give('other.json', '{"type":"Circle"}')
    await expect.element(page.getByRole('alert').getByText(/This is no GeoJSON/)).toBeVisible()
    await give('picture.csv', '\u0000\u0001')
    await expect.element(page.getByRole('alert').getByText(/no list of rows or tables/)).toBeVisible()
  })
})

describe('the dialog', () => {
  it('says that no site is open', async () => {
    await show(null)
    await expect.element(add()).toHaveAttribute('title', 'no site is open; open or begin one under Sites')
  })

  it.each(themes)('has no fault that axe finds, %s', async (theme) => {
    wear(theme)
    await page.viewport(390, 800)
    await show(withTypes, new File([list], 'rows.csv'))
    await expect.element(page.getByText('Adds 1 row with 6 tables in all.')).toBeVisible()
    expect(await breaches()).toEqual([])
    expect(tooSmallForTouch(document.querySelector('dialog')!)).toEqual([])
    await page.viewport(1280, 800)
  })
})

it('knows a layout among what is dropped on the page by its name', () => {
  const dropped = (...names: string[]) => {
    const transfer = new DataTransfer()
    for (const name of names) transfer.items.add(new File(['x'], name))
    return droppedLayout(transfer)?.name ?? null
  }
  expect([dropped('a.csv'), dropped('B.GeoJSON'), dropped('list.txt')]).toEqual([
    'a.csv',
    'B.GeoJSON',
    'list.txt',
  ])
  // a site file, and several at once, are told of by whoever opens sites
  expect([dropped('site.json'), dropped('a.csv', 'b.csv'), dropped(), droppedLayout(null)]).toEqual([
    null,
    null,
    null,
    null,
  ])
})
