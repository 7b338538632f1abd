import { describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import ReadingsImportDialog from '../../src/panels/ReadingsImportDialog.svelte'
import { countedEntries } from '../../src/model/record/effectiveRecord.ts'
import { breaches, themes, tooSmallForTouch, wear } from '../ui/accessibility.ts'
import PanelHarness from './PanelHarness.svelte'
import { fieldSite, panelState } from './panelState.ts'

async function show() {
  const app = panelState(fieldSite())
  const onclose = vi.fn<() => void>()
  const save = vi.fn<(file: Blob, name: string) => void>()
  await render(PanelHarness, {
    app,
    panels: [{ panel: ReadingsImportDialog, props: { isOpen: true, onclose, save } }],
  })
  const counted = () => countedEntries(app.session.site!.record, 'reading').length
  return { app, save, counted, before: app.session.site!.record.length }
}

const give = (name: string, text: string) =>
  userEvent.upload(page.getByLabelText('File with readings'), new File([text], name))
const paste = async (text: string) => {
  await page.getByLabelText('Or paste cells from a spreadsheet').fill(text)
  await page.getByRole('button', { name: 'Read what is pasted' }).click()
}
const record = (name: string) => page.getByRole('button', { name, exact: true })

const good = ['R1/T1/F1.1\tR1/T2/F1.1\t0.21', 'frame 1.2, table 4-06, row 4\tR4/T5/F1.1\t0.34']
const list = `from\tto\tohm\n${good.join('\n')}\n`

describe('readings from a list', () => {
  it('are recorded in one go, told, and withdrawn as a whole', async () => {
    const { app, counted, before } = await show()
    const first = counted()
    await paste(list)
    await expect.element(page.getByText('2 readings of 2 lines can be recorded.')).toBeVisible()
    await expect.element(page.getByRole('cell', { name: '210 mΩ' })).toBeVisible()
    await record('Record 2 readings').click()
    await expect
      .element(page.getByRole('dialog').getByText(/^2 readings recorded from list “pasted list”/))
      .toBeVisible()
    expect(counted()).toBe(first + 2)
    expect(app.session.site!.record[before]).toMatchObject({
      entry: 'visit',
      purpose: 'Readings from list “pasted list”',
    })
    await page.getByRole('button', { name: 'Withdraw this list' }).click()
    await page.getByRole('button', { name: 'Withdraw all of it' }).click()
    expect(counted()).toBe(first)
    await expect.element(page.getByText('“pasted list”: 0 readings, 2 withdrawn')).toBeVisible()
  })

  it('with rejected lines are recorded only after these are left out, and a note keeps them', async () => {
    const { app, save, before } = await show()
    await give(
      'bench.csv',
      `from,to,ohm\nR1/T1/F1.1,R1/T2/F1.1,0.21\nR1/T1/F1.1,R9/T2/F1.1,0.2\nR1/T1/F1.1,,<b>\n`,
    )
    await expect.element(page.getByText(/^to, line 3: Expected a part of this drawing/)).toBeVisible()
    await expect.element(record('Record 1 reading')).toHaveAttribute('aria-disabled', 'true')
    await record('Record 1 reading').click({ force: true })
    expect(app.session.site!.record).toHaveLength(before)
    await page.getByRole('button', { name: 'Save the rejected lines' }).click()
    const csv = await save.mock.calls[0][0].text()
    expect(csv.split('\r\n').map((line) => line.split(',')[0])).toEqual(['line', '3', '4', ''])
    await page.getByRole('switch', { name: 'Leave the 2 rejected lines out' }).click()
    await record('Record 1 reading, leave 2 out').click()
    const added = app.session.site!.record.slice(before)
    expect(added.map(({ entry }) => entry)).toEqual(['visit', 'reading', 'note'])
    expect(added[2].entry === 'note' && added[2].text).toContain('line 4')
  })

  it('ask for the unit and the marks where nothing says them', async () => {
    await show()
    await paste('from\tto\tvalue\nR1/T1/F1.1\tR1/T2/F1.1\t1,234\n')
    await expect.element(page.getByText(/Nothing says what unit the ohms are in/)).toBeVisible()
    await page.getByLabelText('Unit of values that name none').selectOptions('milliohms, mΩ')
    await expect.element(page.getByText(/Some numbers may mean two things/)).toBeVisible()
    await page.getByLabelText('Decimals are parted by a').selectOptions('point, and 1,234 is 1234')
    await expect.element(page.getByRole('cell', { name: '1.234 Ω' })).toBeVisible()
  })

  it('that are there already are left out', async () => {
    await show()
    await paste(list)
    await record('Record 2 readings').click()
    await paste(list)
    await expect.element(page.getByText(/2 lines are there already, and are left out/)).toBeVisible()
    await expect.element(record('Record 0 readings')).toHaveAttribute('aria-disabled', 'true')
  })

  it.each(themes)('can be used by touch and read in %s', async (theme) => {
    await show()
    wear(theme)
    await paste(list)
    await expect.element(record('Record 2 readings')).toBeVisible()
    expect(tooSmallForTouch(document.querySelector('dialog')!)).toEqual([])
    expect(await breaches()).toEqual([])
  })
})
