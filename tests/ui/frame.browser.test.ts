import { afterEach, describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import { showTheme, themeInForce } from '../../src/app/showTheme.ts'
import { breaches, prefer, themes, tooSmallForTouch, wear } from './accessibility.ts'
import FrameDemo from './FrameDemo.svelte'

const sizes = [
  [360, 740],
  [740, 360],
  [820, 1180],
  [1280, 800],
  [3840, 2160],
] as const
const small = [360, 740] as const
const wide = [1280, 800] as const

async function show([width, height]: readonly [number, number], props: Record<string, unknown> = {}) {
  await page.viewport(width, height)
  const shown = await render(FrameDemo, props)
  await expect.element(page.getByRole('tabpanel')).toBeVisible()
  return shown
}

afterEach(async () => {
  wear('system')
  await page.viewport(1280, 800)
})

const panel = page.getByRole('tabpanel')
const handle = page.getByRole('slider', { name: 'Height of the panel' })
const boxOf = (locator: { element(): Element }) => locator.element().getBoundingClientRect()
const settled = () => Promise.all(document.getAnimations().map(({ finished }) => finished))

describe.each(sizes)('at %i × %i', (width, height) => {
  it('nothing sticks out, and everything is large enough for a finger', async () => {
    const siteName = 'A-site-with-a-very-long-name-and-not-one-space-in-it-to-break-a-line-at'
    await show([width, height], { siteName, saveWords: 'Saved on this device a moment ago' })
    expect(document.documentElement.scrollWidth).toBe(width)
    expect(document.documentElement.scrollHeight).toBe(height)
    for (const element of document.querySelectorAll(
      'header, header button, [role="tab"], .panel button, input',
    )) {
      const { left, right } = element.getBoundingClientRect()
      expect(left, element.outerHTML).toBeGreaterThanOrEqual(0)
      expect(right, element.outerHTML).toBeLessThanOrEqual(width + 0.5)
    }
    const { scrollWidth, clientWidth } = panel.element()
    expect(scrollWidth).toBe(clientWidth)
    expect(tooSmallForTouch(document.body)).toEqual([])
  })

  it('map, panel and tabs each have their place', async () => {
    await show([width, height])
    const map = boxOf(page.getByTestId('map'))
    const sheet = boxOf(panel)
    const tabs = boxOf(page.getByRole('tablist'))
    expect(map.width * map.height).toBeGreaterThan(0.3 * width * height)
    expect(sheet.height).toBeGreaterThan(150)
    expect(sheet.width).toBeGreaterThan(280)
    expect(sheet.bottom).toBeLessThanOrEqual(height)
    const isBeside = sheet.left >= map.right - 1
    expect(isBeside).toBe(width > height)
    if (isBeside) {
      expect(tabs.bottom).toBeLessThanOrEqual(sheet.top + 1)
      expect(handle.elements()).toHaveLength(0)
    } else {
      expect(sheet.top).toBeGreaterThanOrEqual(map.bottom - 1)
      expect(tabs.bottom).toBe(height)
    }
  })

  it('the panel is reached by keyboard and its end can be scrolled to', async () => {
    await show([width, height])
    await userEvent.keyboard('{Tab}')
    await expect.element(page.getByRole('link', { name: 'Skip the map' })).toHaveFocus()
    await userEvent.keyboard('{Enter}')
    await expect.element(panel).toHaveFocus()
    const list = page.getByRole('listbox', { name: 'Readings' })
    list.element().scrollIntoView({ block: 'end' })
    expect(boxOf(list).bottom).toBeLessThanOrEqual(boxOf(panel).bottom + 1)
  })
})

describe.each(themes)('%s', (theme) => {
  it.each([small, wide])('has no breach that axe can find at %i × %i', async (width, height) => {
    wear(theme)
    await show([width, height], { hasKeypad: true })
    expect(await breaches()).toEqual([])
    await page.getByRole('button', { name: 'Colours of the screen' }).click()
    await expect.element(page.getByRole('menuitemradio', { name: /Sunlight/ })).toBeVisible()
    expect(await breaches()).toEqual([])
  })
})

describe('the sheet', () => {
  it('has three heights by keyboard', async () => {
    await show(small)
    await expect.element(handle).toHaveAttribute('aria-valuetext', 'half height')
    const tops: number[] = []
    handle.element().focus()
    for (const key of ['{ArrowDown}', '{ArrowUp}', '{ArrowUp}', '{ArrowUp}']) {
      await userEvent.keyboard(key)
      await settled()
      tops.push(boxOf(panel).top)
    }
    expect(tops[0]).toBeGreaterThan(tops[1] + 100)
    expect(tops[1]).toBeGreaterThan(tops[2] + 150)
    expect(tops[3]).toBe(tops[2])
    await expect.element(handle).toHaveAttribute('aria-valuetext', 'full height')
    await userEvent.keyboard('{Home}')
    await expect.element(handle).toHaveAttribute('aria-valuetext', 'low')
  })

  it('steps on at a click', async () => {
    await show(small)
    for (const height of ['full height', 'low', 'half height']) {
      await handle.click()
      await expect.element(handle).toHaveAttribute('aria-valuetext', height)
    }
  })

  it('follows the finger and rests at the height it was pulled toward', async () => {
    await show(small)
    const start = boxOf(handle)
    const send = (type: string, clientY: number) =>
      handle.element().dispatchEvent(
        new PointerEvent(type, {
          bubbles: true,
          isPrimary: true,
          pointerId: 1,
          button: 0,
          clientX: start.left + 50,
          clientY,
        }),
      )
    // A pointer that the test makes up cannot be captured.
    const capture = vi.spyOn(HTMLElement.prototype, 'setPointerCapture').mockReturnValue()
    const topBefore = boxOf(panel).top
    send('pointerdown', start.top + 20)
    send('pointermove', start.top - 80)
    await expect.poll(() => boxOf(panel).top).toBeCloseTo(topBefore - 100, 0)
    send('pointermove', start.top - 3000)
    await expect.poll(() => boxOf(panel).top).toBeGreaterThan(0)
    send('pointermove', start.top - 200)
    send('pointerup', start.top - 200)
    send('click', start.top - 200)
    await expect.element(handle).toHaveAttribute('aria-valuetext', 'full height')
    expect(capture).toHaveBeenCalledOnce()
    capture.mockRestore()
  })

  it('is dragged by a mouse', async () => {
    await show(small)
    await userEvent.dragAndDrop(handle, page.getByRole('banner'))
    await expect.element(handle).toHaveAttribute('aria-valuetext', 'full height')
    await userEvent.dragAndDrop(handle, page.getByRole('tablist'))
    await expect.element(handle).toHaveAttribute('aria-valuetext', 'low')
  })

  it('keeps what is being typed when the device is turned', async () => {
    await show(small)
    const field = page.getByRole('textbox', { name: 'Resistance' })
    await field.fill('2,5')
    await page.viewport(740, 360)
    await expect.poll(() => handle.elements().length).toBe(0)
    await expect.element(field).toHaveValue('2,5')
    await expect.element(field).toHaveFocus()
  })
})

describe('what stands beside the map', () => {
  const legend = () => boxOf(page.getByText('Legend of the map'))
  const map = () => boxOf(page.getByTestId('map'))

  it('an open legend lies below the map where the panel is beside it, and the map gives way', async () => {
    const { rerender } = await show(wide)
    const whole = map().height
    expect(legend().top).toBeLessThan(map().bottom)
    await rerender({ isLegendOpen: true })
    expect(map().height).toBeLessThan(whole)
    expect(legend().top).toBeGreaterThanOrEqual(map().bottom)
  })

  it('a notice is above the panel and hides nothing of the map', async () => {
    for (const size of [small, wide]) {
      const { unmount } = await show(size)
      const notice = boxOf(page.getByText('Said above the panel'))
      const { right, bottom } = map()
      expect(notice.left >= right || notice.top >= bottom).toBe(true)
      expect(notice.bottom).toBeLessThanOrEqual(boxOf(panel).top)
      await unmount()
    }
  })

  it('another tab begins at the head of its panel', async () => {
    await show(wide)
    panel.element().scrollTop = 200
    await page.getByRole('tab', { name: /Locate/ }).click()
    expect(panel.element().scrollTop).toBe(0)
    await expect.element(page.getByRole('tab', { name: /Locate/ })).toHaveFocus()
  })
})

describe('the header', () => {
  it('names program, site and save state, and calls back', async () => {
    const onsites = vi.fn()
    const onhelp = vi.fn()
    const ontheme = vi.fn()
    await show(wide, { onsites, onhelp, ontheme, saveWords: 'Could not be saved', saveLook: 'trouble' })
    const header = page.getByRole('banner')
    await expect.element(header.getByRole('heading', { level: 1 })).toHaveTextContent('Groundweave')
    await expect.element(header.getByRole('status')).toHaveTextContent('Could not be saved')
    await header.getByRole('button', { name: /Meadow field, block 3/ }).click()
    await header.getByRole('button', { name: 'Help' }).click()
    await header.getByRole('button', { name: 'Colours of the screen' }).click()
    await page.getByRole('menuitemradio', { name: /Sunlight/ }).click()
    expect([onsites.mock.calls.length, onhelp.mock.calls.length, ontheme.mock.calls]).toEqual([
      1,
      1,
      [['sunlight']],
    ])
  })

  it('says the save state in words on a small screen when there is trouble, and always to a screen reader', async () => {
    const { rerender } = await show(small, {
      saveWords: 'Could not be saved',
      saveShort: null,
      saveLook: 'trouble',
    })
    const words = page.getByText('Could not be saved')
    expect(boxOf(words).width).toBeGreaterThan(40)
    await rerender({ saveWords: 'Saved', saveShort: 'saved', saveLook: 'settled' })
    const quiet = page.getByText('Saved', { exact: true })
    await expect.element(quiet).toBeInTheDocument()
    expect(quiet.element().closest('p')!.getBoundingClientRect().width).toBeLessThan(2)
  })
})

describe('Tabs', () => {
  const tab = (name: RegExp) => page.getByRole('tab', { name })

  it('are chosen by mouse and by the arrow keys, round and round', async () => {
    await show(wide)
    await expect.element(panel).toHaveAccessibleName('Measure')
    await tab(/Locate/).click()
    await expect.element(tab(/Locate/)).toHaveAttribute('aria-selected', 'true')
    await expect.element(panel).toHaveAccessibleName(/Locate/)
    await userEvent.keyboard('{ArrowRight}')
    await expect.element(tab(/Measure/)).toHaveFocus()
    await expect.element(tab(/Measure/)).toHaveAttribute('aria-selected', 'true')
    await userEvent.keyboard('{End}')
    await expect.element(tab(/Locate/)).toHaveFocus()
    await userEvent.keyboard('{Tab}')
    expect(document.activeElement?.getAttribute('role')).not.toBe('tab')
  })
})

describe('IconButton', () => {
  it('shows its words under the pointer and under the keyboard', async () => {
    await show(wide)
    const nearer = page.getByRole('button', { name: 'Nearer' })
    const words = () => getComputedStyle(nearer.element().querySelector('.words')!).display
    expect(words()).toBe('none')
    await nearer.hover()
    expect(words()).toBe('block')
    await page.getByRole('heading', { level: 1 }).hover()
    page.getByRole('button', { name: 'Show the whole site' }).element().focus()
    await userEvent.keyboard('{Tab}')
    await expect.element(nearer).toHaveFocus()
    expect(words()).toBe('block')
  })
})

describe('themes', () => {
  const ground = () => getComputedStyle(document.body).backgroundColor

  it('follow the choice, and the device where the choice is left to it', async () => {
    await show(wide)
    const colours = { light: 'rgb(241, 240, 233)', dark: 'rgb(17, 24, 28)', sunlight: 'rgb(255, 255, 255)' }
    for (const theme of themes) {
      showTheme(theme)
      expect(ground()).toBe(colours[theme])
    }
    showTheme('system')
    for (const value of ['light', 'dark'] as const) {
      await prefer([{ name: 'prefers-color-scheme', value }])
      expect(ground()).toBe(colours[value])
      expect(themeInForce('system', matchMedia('(prefers-color-scheme: dark)').matches)).toBe(value)
    }
    showTheme('light')
    expect(ground()).toBe(colours.light)
    expect(themeInForce('sunlight', true)).toBe('sunlight')
    await prefer([])
  })
})
