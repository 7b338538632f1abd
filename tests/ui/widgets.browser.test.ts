import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import { breaches, prefer, themes, tooSmallForTouch, wear } from './accessibility.ts'
import WidgetsDemo from './WidgetsDemo.svelte'

const said = vi.fn<(event: string, value: unknown) => void>()

beforeEach(async () => {
  said.mockClear()
  await page.viewport(460, 1700)
  await render(WidgetsDemo, { said })
})

afterEach(async () => {
  wear('system')
  await page.viewport(1280, 800)
})

const button = (name: string) => page.getByRole('button', { name, exact: true })

describe('all widgets together', () => {
  it.each(themes)('have no breach that axe can find, %s', async (theme) => {
    wear(theme)
    await expect.element(button('Keep')).toBeVisible()
    expect(await breaches()).toEqual([])
    await button('More').click()
    await expect.element(page.getByRole('menuitem', { name: /Copy/ })).toBeVisible()
    expect(await breaches()).toEqual([])
    await userEvent.keyboard('{Escape}')
    await button('Open').click()
    await expect.element(page.getByRole('dialog', { name: 'Keep the changes?' })).toBeVisible()
    expect(await breaches()).toEqual([])
  })

  it('axe can find a breach here', async () => {
    document.querySelector('h1')?.setAttribute('style', 'color: #eee; background: #fff')
    expect((await breaches()).join()).toContain('color-contrast')
  })

  it('are large enough for a finger', async () => {
    expect(tooSmallForTouch(document.body)).toEqual([])
    await button('More').click()
    expect(tooSmallForTouch(document.body)).toEqual([])
    const least = page.getByRole('button', { name: 'Keep' }).element() as HTMLElement
    least.style.cssText = 'min-height: 0; height: 30px'
    expect(tooSmallForTouch(document.body)).toHaveLength(1)
  })

  it('keep still where motion is not wanted', async () => {
    await prefer([{ name: 'prefers-reduced-motion', value: 'reduce' }])
    const bar = document.querySelector('.isUnknown span')!
    expect(Number.parseFloat(getComputedStyle(bar).animationDuration)).toBeLessThan(0.01)
    await prefer([])
    expect(Number.parseFloat(getComputedStyle(bar).animationDuration)).toBeGreaterThan(1)
  })

  it('show what has the focus and what is chosen where the device forces its colours', async () => {
    await prefer([{ name: 'forced-colors', value: 'active' }])
    expect(matchMedia('(forced-colors: active)').matches).toBe(true)
    await userEvent.keyboard('{Tab}')
    const { outlineStyle, outlineWidth } = getComputedStyle(button('Keep').element())
    expect([outlineStyle, outlineWidth]).toEqual(['solid', '3px'])
    const canvas = getComputedStyle(document.body).backgroundColor
    const filled = getComputedStyle(document.querySelector('.line:not(.isUnknown) span')!).backgroundColor
    expect(filled).not.toBe(canvas)
    await prefer([])
  })
})

describe('Button', () => {
  it('that cannot be used keeps its looks under the pointer, also the primary one', async () => {
    const refused = button('Enter it')
    const looks = () => {
      const { backgroundColor, color } = getComputedStyle(refused.element())
      return [backgroundColor, color]
    }
    const accent = getComputedStyle(button('Keep').element()).backgroundColor
    await userEvent.hover(refused)
    await expect.poll(() => refused.element().matches(':hover')).toBe(true)
    await Promise.all(
      refused
        .element()
        .getAnimations()
        .map(({ finished }) => finished),
    )
    expect(looks()[0]).not.toBe(accent)
    expect(await breaches()).toEqual([])
  })

  it('acts by mouse and keyboard', async () => {
    await button('Undo').click()
    button('Undo').element().focus()
    await userEvent.keyboard('{Enter}')
    await userEvent.keyboard(' ')
    expect(said.mock.calls).toEqual(Array(3).fill(['quiet', 1]))
  })

  it('that cannot be used keeps the focus, says why and does nothing', async () => {
    const refused = button('Remove')
    await expect.element(refused).toHaveAccessibleDescription('Nothing is chosen.')
    await expect.element(refused).toHaveAttribute('aria-disabled', 'true')
    refused.element().focus()
    await expect.element(refused).toHaveFocus()
    await userEvent.keyboard('{Enter}')
    ;(refused.element() as HTMLElement).click()
    expect(said).not.toHaveBeenCalled()
  })

  it('says that it is down', async () => {
    await expect.element(button('Link')).toHaveAttribute('aria-pressed', 'true')
  })
})

describe('Dialog', () => {
  it('keeps the focus within and gives it back', async () => {
    const opener = button('Open')
    await opener.click()
    const dialog = page.getByRole('dialog', { name: 'Keep the changes?' })
    await expect.element(dialog).toBeVisible()
    for (let press = 0; press < 8; press++) {
      await userEvent.keyboard('{Tab}')
      expect(
        dialog.element().contains(document.activeElement) || document.activeElement === document.body,
      ).toBe(true)
    }
    await userEvent.keyboard('{Escape}')
    await expect.element(dialog).not.toBeInTheDocument()
    await expect.element(opener).toHaveFocus()
  })

  it('closes by its button, by an action and by a press beside it', async () => {
    await page.viewport(460, 800)
    const dialog = page.getByRole('dialog', { name: 'Keep the changes?' })
    for (const name of ['Close', 'Keep them']) {
      await button('Open').click()
      await dialog.getByRole('button', { name }).click()
      await expect.element(dialog).not.toBeInTheDocument()
    }
    await button('Open').click()
    await expect.element(dialog).toBeVisible()
    await userEvent.click(dialog.getByText('They are only on this device.'))
    await expect.element(dialog).toBeVisible()
    const { height } = dialog.element().getBoundingClientRect()
    await userEvent.click(dialog, { position: { x: 20, y: height + 40 }, force: true })
    await expect.element(dialog).not.toBeInTheDocument()
  })
})

describe('Menu', () => {
  const item = (name: RegExp) => page.getByRole('menuitem', { name })

  it('opens and chooses by mouse', async () => {
    await button('More').click()
    await item(/Export/).click()
    expect(said.mock.calls).toEqual([['menu', 'export']])
    await expect.element(item(/Export/)).not.toBeInTheDocument()
    await expect.element(button('More')).toHaveAttribute('aria-expanded', 'false')
  })

  it('is walked, typed into, left and chosen from by keyboard', async () => {
    button('More').element().focus()
    await userEvent.keyboard('{ArrowDown}')
    await expect.element(item(/Copy/)).toHaveFocus()
    await userEvent.keyboard('{ArrowUp}')
    await expect.element(item(/Export/)).toHaveFocus()
    await userEvent.keyboard('p')
    await expect.element(item(/Print/)).toHaveFocus()
    await userEvent.keyboard('{Enter}')
    expect(said).not.toHaveBeenCalled()
    await userEvent.keyboard('{Escape}')
    await expect.element(button('More')).toHaveFocus()
    await userEvent.keyboard('{Enter}')
    await expect.element(item(/Copy/)).toHaveFocus()
    await userEvent.keyboard('{End}{Enter}')
    expect(said.mock.calls).toEqual([['menu', 'export']])
    await expect.element(button('More')).toHaveFocus()
  })

  it('stays on the screen', async () => {
    await button('More').click()
    await expect.element(item(/Copy/)).toHaveFocus()
    const { left, right, top, bottom } = page.getByRole('menu').element().getBoundingClientRect()
    expect(Math.min(left, top)).toBeGreaterThanOrEqual(0)
    expect(right).toBeLessThanOrEqual(460)
    expect(bottom).toBeLessThanOrEqual(1700)
  })
})

describe('HelpTip', () => {
  it('explains and goes away', async () => {
    const opener = button('About: Nulling')
    await opener.click()
    const tip = page.getByRole('dialog', { name: 'Nulling' })
    await expect.element(tip).toBeVisible()
    await expect.element(tip).toHaveTextContent(/taken off before the reading/)
    await userEvent.keyboard('{Escape}')
    await expect.element(tip).not.toBeInTheDocument()
    await expect.element(opener).toHaveFocus()
  })
})

describe('Switch', () => {
  it('switches by mouse and keyboard, and tells its state', async () => {
    const toggle = page.getByRole('switch', { name: 'Show labels' })
    await expect.element(toggle).toHaveAccessibleDescription('Beside each line')
    await expect.element(toggle).not.toBeChecked()
    await toggle.click()
    await expect.element(toggle).toBeChecked()
    await userEvent.keyboard(' ')
    await expect.element(toggle).not.toBeChecked()
    expect(said.mock.calls).toEqual([
      ['switch', true],
      ['switch', false],
    ])
  })

  it('that is fixed says why', async () => {
    const toggle = page.getByRole('switch', { name: 'Fixed' })
    await expect.element(toggle).toHaveAccessibleDescription('Only the owner may change it.')
    ;(toggle.element() as HTMLElement).click()
    expect(said).not.toHaveBeenCalled()
  })
})

describe('TextField and SelectField', () => {
  it('a text is committed once, when the field is left or on Enter', async () => {
    const field = page.getByRole('textbox', { name: 'Name' })
    await field.fill('North field')
    expect(said).not.toHaveBeenCalled()
    await userEvent.keyboard('{Enter}')
    await userEvent.keyboard('{Tab}')
    expect(said.mock.calls).toEqual([['text', 'North field']])
  })

  it('a text that cannot stay is told, and Escape brings back the old one', async () => {
    const field = page.getByRole('textbox', { name: 'Name' })
    await field.fill('  ')
    await userEvent.keyboard('{Enter}')
    await expect.element(field).toHaveAttribute('aria-invalid', 'true')
    await expect.element(field).toHaveAccessibleDescription('A name is needed.')
    await userEvent.keyboard('{Escape}')
    await expect.element(field).toHaveValue('Meadow')
    await expect.element(field).toHaveAttribute('aria-invalid', 'false')
    expect(said).not.toHaveBeenCalled()
  })

  it('Enter begins a new line where there are several', async () => {
    const field = page.getByRole('textbox', { name: 'Remarks' })
    await field.click()
    await userEvent.keyboard('a{Enter}b')
    expect(said).not.toHaveBeenCalled()
    await userEvent.keyboard('{Tab}')
    expect(said.mock.calls).toEqual([['remarks', 'a\nb']])
  })

  it('one of the options is chosen', async () => {
    const field = page.getByRole('combobox', { name: 'Contact' })
    await field.selectOptions('Lug')
    expect(said.mock.calls).toEqual([['select', 'lug']])
    await expect.element(field).toHaveValue('lug')
  })
})

describe('what only speaks', () => {
  it('the status line is there before it says anything, and says it politely', async () => {
    const status = page.getByRole('status')
    await expect.element(status).toHaveTextContent('')
    await expect.element(status).toHaveAttribute('aria-live', 'polite')
    await button('Undo').click()
    await expect.element(status).toHaveTextContent('quiet: 1')
  })

  it('trouble is an alert, a caution is a note', async () => {
    await expect.element(page.getByRole('alert').filter({ hasText: 'could not be saved' })).toBeVisible()
    expect(page.getByRole('note').elements()).toHaveLength(2)
    await button('Put this away').click()
    expect(said.mock.calls).toEqual([['put away', 1]])
  })

  it('progress has a name and a value, or none while nobody knows', async () => {
    const known = page.getByRole('progressbar', { name: 'Weighing joints' })
    await expect.element(known).toHaveAttribute('aria-valuenow', '40')
    const unknown = page.getByRole('progressbar', { name: 'Opening' })
    await expect.element(unknown).not.toHaveAttribute('aria-valuenow')
  })

  it('a section folds by mouse and keyboard', async () => {
    const heading = page.getByRole('heading', { level: 2, name: /Evidence/ })
    const fold = heading.getByRole('button')
    const content = page.getByText('What speaks for it.')
    await expect.element(content).toBeVisible()
    await fold.click()
    await expect.element(fold).toHaveAttribute('aria-expanded', 'false')
    await expect.element(content).not.toBeVisible()
    await userEvent.keyboard('{Enter}')
    await expect.element(content).toBeVisible()
    expect(said.mock.calls).toEqual([
      ['fold', false],
      ['fold', true],
    ])
  })
})

describe('NumberField with its keys', () => {
  const field = page.getByRole('textbox', { name: 'Resistance' })
  const pressed = async (...names: string[]) => {
    for (const name of names)
      await page
        .getByRole('group', { name: /Keys for/ })
        .getByRole('button', { name, exact: true })
        .click()
  }

  it('commits a parsed number once, on Enter', async () => {
    await expect.element(field).toHaveAccessibleDescription(/Ω.*As the meter shows it/)
    await field.fill('31 m')
    expect(said).not.toHaveBeenCalled()
    await userEvent.keyboard('{Enter}')
    await userEvent.keyboard('{Tab}')
    expect(said.mock.calls).toEqual([
      ['number', 0.031],
      ['done', 1],
    ])
    await expect.element(field).toHaveValue('0.031')
  })

  it('tells nothing where the same number was typed again', async () => {
    for (const text of ['31 m', '0,031']) {
      await field.fill(text)
      await userEvent.keyboard('{Enter}')
    }
    expect(said.mock.calls.map(([event]) => event)).toEqual(['number', 'done', 'done'])
    await expect.element(field).toHaveValue('0.031')
  })

  it('commits when it is left, without being done', async () => {
    await field.fill('1,64')
    await userEvent.keyboard('{Tab}')
    expect(said.mock.calls).toEqual([['number', 1.64]])
  })

  it('says what is wrong and keeps what was typed; Escape brings back the old value', async () => {
    for (const [text, words] of [
      ['1.2.3', /more than one comma or point/],
      ['3 V', /not a unit for this field/],
      ['-1', /cannot be less than 0 Ω/],
    ] as const) {
      await field.fill(text)
      await userEvent.keyboard('{Enter}')
      await expect.element(field).toHaveAttribute('aria-invalid', 'true')
      await expect.element(field).toHaveAccessibleDescription(words)
      await expect.element(field).toHaveValue(text)
    }
    await userEvent.keyboard('{Escape}')
    await expect.element(field).toHaveValue('')
    await expect.element(field).toHaveAttribute('aria-invalid', 'false')
    expect(said).not.toHaveBeenCalled()
  })

  it('is typed with the keys below it, which leave the focus where it is', async () => {
    await field.click()
    await pressed('7', '0', 'comma', '5', 'milli')
    await expect.element(field).toHaveValue('70,5 m')
    await expect.element(field).toHaveFocus()
    await pressed('micro')
    await expect.element(field).toHaveValue('70,5 µ')
    await pressed('Delete the last character', 'Delete the last character', 'milli', 'OK')
    expect(said.mock.calls).toEqual([
      ['number', 0.07],
      ['done', 1],
    ])
  })

  it('has keys that are one stop of the Tab key and are walked with the arrows', async () => {
    await field.click()
    await userEvent.keyboard('{Tab}')
    await expect.element(button('7')).toHaveFocus()
    await userEvent.keyboard('{ArrowRight}{ArrowDown}')
    await expect.element(button('5')).toHaveFocus()
    await userEvent.keyboard('{Enter}')
    await expect.element(field).toHaveValue('5')
    await userEvent.keyboard('{Tab}')
    await expect.element(page.getByRole('textbox', { name: 'Name' })).toHaveFocus()
    await userEvent.keyboard('{Shift>}{Tab}{/Shift}')
    await expect.element(button('5')).toHaveFocus()
  })
})
