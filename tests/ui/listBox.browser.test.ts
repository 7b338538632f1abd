import { beforeEach, describe, expect, it, vi } from 'vitest'
import { page, userEvent } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../src/app/app.css'
import { breaches, themes, tooSmallForTouch, wear } from './accessibility.ts'
import ListDemo from './ListDemo.svelte'

const onchoose = vi.fn<(key: string) => void>()
const onreach = vi.fn<(key: string | null) => void>()

beforeEach(() => {
  onchoose.mockClear()
  onreach.mockClear()
})

const show = (count = 10_000, chosen: string | null = null) =>
  render(ListDemo, { count, chosen, onchoose, onreach })
const list = page.getByRole('listbox', { name: 'Items' })
const option = (name: string) => page.getByRole('option', { name, exact: true })

/** The row that a screen reader stands on. */
function reached(): string | undefined {
  const id = list.element().getAttribute('aria-activedescendant')
  return (id && document.getElementById(id)?.textContent?.trim()) || undefined
}

function isInSight(name: string): boolean {
  const row = option(name).element().getBoundingClientRect()
  const frame = list.element().getBoundingClientRect()
  return row.top >= frame.top - 1 && row.bottom <= frame.bottom + 1
}

describe('a list of ten thousand', () => {
  it('has less than 60 rows, and tells how many there are', async () => {
    await show()
    await expect.element(option('Item 1')).toBeVisible()
    const rows = page.getByRole('option').elements()
    expect(rows.length).toBeGreaterThan(5)
    expect(rows.length).toBeLessThan(60)
    await expect.element(option('Item 1')).toHaveAttribute('aria-setsize', '10000')
    await expect.element(option('Item 3')).toHaveAttribute('aria-posinset', '3')
    expect(list.element().scrollHeight).toBe(10_000 * 44)
    expect(tooSmallForTouch(document.body)).toEqual([])
  })

  it('shows the rows that are scrolled to, and keeps the one that the keyboard is on', async () => {
    await show()
    await userEvent.keyboard('{Tab}{ArrowDown}')
    list.element().scrollTop = 5000 * 44
    await expect.element(option('Item 5003')).toBeVisible()
    expect(reached()).toBe('Item 2')
    expect(page.getByRole('option').elements().length).toBeLessThan(60)
    await userEvent.keyboard('{ArrowDown}')
    await expect.element(option('Item 3')).toBeVisible()
    expect(isInSight('Item 3')).toBe(true)
  })

  it('is walked by keyboard from end to end', async () => {
    await show()
    await userEvent.keyboard('{Tab}')
    await expect.element(list).toHaveFocus()
    expect(reached()).toBe('Item 1')
    await userEvent.keyboard('{ArrowUp}')
    expect(reached()).toBe('Item 1')
    await userEvent.keyboard('{End}')
    await expect.poll(reached).toBe('Item 10000')
    expect(isInSight('Item 10000')).toBe(true)
    await userEvent.keyboard('{ArrowDown}{PageUp}')
    await expect.poll(() => Number(reached()?.slice(5))).toBeLessThan(9998)
    await userEvent.keyboard('{Home}{ArrowDown}{ArrowDown}')
    await expect.poll(reached).toBe('Item 3')
    await expect.poll(() => onreach.mock.lastCall).toEqual(['i2'])
    expect(onchoose).not.toHaveBeenCalled()
    await userEvent.keyboard('{Enter}')
    await userEvent.keyboard('{ArrowDown} ')
    expect(onchoose.mock.calls.map(([key]) => key)).toEqual(['i2', 'i3'])
    await expect.element(option('Item 4')).toHaveAttribute('aria-selected', 'true')
    await expect.element(option('Item 3')).toHaveAttribute('aria-selected', 'false')
    await userEvent.keyboard('{Tab}')
    await expect.element(page.getByRole('button', { name: 'After' })).toHaveFocus()
    expect(onreach).toHaveBeenLastCalledWith(null)
  })

  it('finds what one types', async () => {
    await show()
    await userEvent.keyboard('{Tab}')
    await userEvent.keyboard('item')
    await expect.poll(reached).toMatch(/^Item/)
    await new Promise((resolve) => setTimeout(resolve, 800))
    await userEvent.keyboard('i')
    const before = Number(reached()?.slice(5))
    await new Promise((resolve) => setTimeout(resolve, 800))
    await userEvent.keyboard('i')
    await expect.poll(reached).toBe(`Item ${before + 1}`)
  })

  it('is chosen from by mouse', async () => {
    await show()
    await option('Item 5').hover()
    expect(onreach).toHaveBeenLastCalledWith('i4')
    await option('Item 5').click()
    expect(onchoose.mock.calls.map(([key]) => key)).toEqual(['i4'])
    await expect.element(list).toHaveFocus()
    expect(reached()).toBe('Item 5')
  })
})

describe('a list from outside', () => {
  it('brings what is chosen elsewhere into sight', async () => {
    const { rerender } = await show(10_000, 'i7000')
    await expect.element(option('Item 7001')).toBeVisible()
    expect(isInSight('Item 7001')).toBe(true)
    await rerender({ chosen: 'i20' })
    await expect.element(option('Item 21')).toHaveAttribute('aria-selected', 'true')
    expect(isInSight('Item 21')).toBe(true)
    await userEvent.keyboard('{Tab}')
    expect(reached()).toBe('Item 21')
  })

  it('keeps its feet when items go', async () => {
    const { rerender } = await show(300)
    await userEvent.keyboard('{Tab}{End}')
    await expect.poll(reached).toBe('Item 300')
    await rerender({ count: 20 })
    await expect.element(option('Item 20')).toBeInTheDocument()
    expect(reached()).toBe('Item 1')
    await rerender({ count: 0 })
    await expect.element(page.getByText('No items.')).toBeVisible()
  })

  it.each(themes)('has no breach that axe can find, %s', async (theme) => {
    wear(theme)
    await show(500, 'i3')
    await expect.element(option('Item 4')).toBeVisible()
    expect(await breaches()).toEqual([])
    wear('system')
  })
})
