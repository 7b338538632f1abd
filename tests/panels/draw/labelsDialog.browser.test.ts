import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../../src/app/app.css'
import LabelsDialog from '../../../src/panels/draw/LabelsDialog.svelte'
import type { AppState } from '../../../src/state/appState.ts'
import { exampleSite } from '../../model/exampleSite.ts'
import { breaches, themes, tooSmallForTouch, wear } from '../../ui/accessibility.ts'
import PanelHarness from '../PanelHarness.svelte'
import { panelState } from '../panelState.ts'

const onclose = vi.fn<() => void>()
let app: AppState

async function show(rows: readonly number[] = [1]): Promise<void> {
  onclose.mockClear()
  app = panelState(exampleSite())
  await render(PanelHarness, { app, panels: [{ panel: LabelsDialog, props: { rows, onclose } }] })
}

const field = (name: string | RegExp) => page.getByLabelText(name, { exact: true })
const radio = (name: string | RegExp) => page.getByRole('radio', { name, exact: true })
const button = (name: string | RegExp) => page.getByRole('button', { name, exact: true })
const labels = (row: number) => app.session.site!.drawing.rows.find(({ id }) => id === row)!.tableLabels
const preview = () => page.getByRole('region', { name: 'What it gives' })

beforeEach(async () => {
  await page.viewport(420, 1900)
})

afterEach(async () => {
  wear('system')
  await page.viewport(1280, 800)
})

describe('LabelsDialog', () => {
  it('labels the tables of a row by a rule, after showing the first and last, as one step', async () => {
    await show()
    await expect.element(preview()).toHaveTextContent(/1-01 on R1\/T1.*1-04 on R1\/T3/)
    await field('Common patterns').selectOptions('C07: row as a letter, and table')
    await expect.element(preview()).toHaveTextContent(/A01 on R1\/T1/)
    const pattern = field('Pattern').element() as HTMLInputElement
    pattern.focus()
    pattern.select()
    await userEvent.keyboard('{{name}/{{table:03}')
    await radio('South-east').click()
    await expect.element(preview()).toHaveTextContent(/A\/001 on R1\/T3/)
    expect(app.session.undoLabel).toBeNull()
    await button('Label 4 tables').click()
    expect(labels(1)).toEqual({ '3': 'A/001', '4': 'A/002', '2': 'A/003', '1': 'A/004' })
    expect(app.session.undoLabel).toBe('labels of tables')
    expect(onclose).toHaveBeenCalledOnce()
    app.session.undo()
    expect(labels(1)).toEqual({ '1': 'A-01', '4': 'A-03' })
  })

  it('goes on through all rows, to and fro, from where one says', async () => {
    await show([1])
    await radio('All tables of the site').click()
    await field('Common patterns').selectOptions('7: table alone')
    await field('First table counts as').fill('11')
    await radio('On through all rows').click()
    await radio('To and fro: every other row back').click()
    await button('Label 7 tables').click()
    expect(labels(1)).toEqual({ '1': '11', '2': '12', '4': '13', '3': '14' })
    expect(labels(3)).toEqual({ '3': '15', '2': '16', '1': '17' })
  })

  it('tells labels that would stand twice, and what is wrong with a pattern', async () => {
    await show([1, 3])
    await field('Common patterns').selectOptions('7: table alone')
    await expect
      .element(preview())
      .toHaveTextContent('3 labels stand on more than one table: “1”, “2” and “3”. The labels of their rows')
    await field('Pattern').fill('{tabel}')
    await expect.element(page.getByText(/“{tabel}” stands for nothing in a label/).first()).toBeVisible()
    await expect.element(button(/^Label/)).toHaveAttribute('aria-disabled', 'true')
  })

  it('takes a pasted column and tells how it fits', async () => {
    await show([3])
    await radio('A column, pasted from a list').click()
    await expect.element(button(/^Label/)).toHaveAttribute('aria-disabled', 'true')
    await field('Labels, one a line').fill('B7\n\nB9\nB10')
    await expect
      .element(
        page.getByText(
          '2 labels for 3 tables. 1 line is empty: its table keeps what is painted there. 1 line is over at the end and would be left out.',
        ),
      )
      .toBeVisible()
    await button('Label 2 tables').click()
    expect(labels(3)).toEqual({ '1': 'B7', '3': 'B9' })
  })

  it('takes labels off', async () => {
    await show([1])
    await radio('None: take the labels off').click()
    await button('Take labels off 4 tables').click()
    expect(labels(1)).toEqual({})
    expect(app.session.undoLabel).toBe('take labels off tables')
  })

  it.each(themes)('has no breach that axe can find and fits 390 px, %s', async (theme) => {
    wear(theme)
    await show([1, 3])
    await page.viewport(390, 1900)
    expect(await breaches()).toEqual([])
    expect(tooSmallForTouch(document.querySelector('dialog')!)).toEqual([])
    await radio('A column, pasted from a list').click()
    expect(await breaches()).toEqual([])
    expect(document.documentElement.scrollWidth).toBeLessThanOrEqual(390)
  })
})
