import type { Browser } from 'playwright'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { clean, openFault, patience, region, said } from './faultPage.ts'
import { launchChromium, serveBuild, type ServedBuild } from './servedBuild.ts'

let browser: Browser
let served: ServedBuild

beforeAll(async () => {
  browser = await launchChromium()
  served = await serveBuild()
})
afterAll(async () => {
  await browser.close()
  await served.end()
})

describe('a fault on the field demo', () => {
  it('by mouse: an AC phase on a frame, a joint opened, the worst loss, a hand; each told, and the phase undone', async () => {
    const opened = await openFault(browser, served, { viewport: { width: 1280, height: 900 } })
    const { page, story, context } = opened
    await page.getByRole('button', { name: 'Sources and devices' }).click()
    await page.getByRole('button', { name: 'An AC phase' }).click()
    const [one, other] = await story.twoParts()
    const click = (part: { x: number; y: number }) => page.mouse.click(part.x, part.y)
    await click(one)
    const first = await said(page)
    expect(first).toMatch(
      /^[\d.]+ A flows from .* to remote earth\. .* stands at [\d.]+ V to remote earth\.$/,
    )
    await click(other)
    const picked = region(page, 'What is picked')
    await picked.getByText(/^Stands at/).waitFor(patience)
    await picked.getByRole('button', { name: 'A hand here' }).click()
    await region(page, 'One who touches')
      .getByText(/before anybody touches, from the left hand/)
      .waitFor(patience)
    await page.getByRole('button', { name: 'Lose every joint in turn' }).click()
    const losses = region(page, 'Which loss would be worst')
    await losses
      .getByRole('button', { name: /^Show on map/ })
      .first()
      .click(patience)
    await picked.getByRole('button', { name: 'Open it' }).click()
    const compare = region(page, 'Open a joint and watch')
    await compare.getByRole('columnheader', { name: 'With the change' }).waitFor(patience)
    const amperes = await compare
      .getByRole('row', { name: /^Fault current/ })
      .locator('.value')
      .allInnerTexts()
    expect(amperes).toHaveLength(2)
    expect(Number.parseFloat(amperes[1])).toBeLessThan(Number.parseFloat(amperes[0]))
    await compare
      .getByRole('row', { name: /^Fault current/ })
      .getByRole('button')
      .first()
      .click()
    await compare.getByText(/^Fault current: /).waitFor(patience)
    await page.getByRole('button', { name: /^Undo/ }).click()
    await expect.poll(() => said(page)).toMatch(/^[\d.]+ mA flows/)
    clean(opened)
    await context.close()
  })

  it('is there again after the page is loaded anew, is no part of the site’s undo, and is gone once cleared', async () => {
    const opened = await openFault(browser, served, { viewport: { width: 1280, height: 900 } })
    const { page, story, context } = opened
    const [one, other] = await story.twoParts()
    await page.mouse.click(one.x, one.y)
    await said(page)
    await page.mouse.click(other.x, other.y)
    await region(page, 'What is picked').getByRole('button', { name: 'A hand here' }).click()
    await page.getByRole('slider', { name: 'Module whose conductor touches the metal' }).focus()
    await page.keyboard.press('ArrowLeft')
    await page.getByRole('switch', { name: 'Hold the dashes still' }).click()
    const before = await said(page)
    expect(await page.getByRole('button', { name: /^Undo/ }).count()).toBe(0)
    await page.reload()
    await story.map.waitFor(patience)
    await expect.poll(() => said(page)).toBe(before)
    await region(page, 'One who touches')
      .getByText(/before anybody touches, from the left hand/)
      .waitFor(patience)
    await page.getByRole('switch', { name: 'Hold the dashes still', checked: true }).waitFor(patience)
    await page.getByRole('button', { name: 'Clear the fault' }).click()
    await page.getByRole('heading', { name: /Tap a part on the map/ }).waitFor(patience)
    await page.reload()
    await page.getByRole('heading', { name: /Tap a part on the map/ }).waitFor(patience)
    expect(await region(page, 'Where the current goes').count()).toBe(0)
    clean(opened)
    await context.close()
  })

  it('tells at the pointer, and the key that stands there opens the number', async () => {
    const opened = await openFault(browser, served, { viewport: { width: 1280, height: 900 } })
    const { page, story, context } = opened
    const [one, other] = await story.twoParts()
    await page.mouse.click(one.x, one.y)
    await said(page)
    await page.mouse.move(other.x, other.y)
    const figure = region(page, 'What is picked').locator('[data-figure]')
    const first = await figure.getAttribute('data-figure')
    await expect
      .poll(async () => {
        await page.keyboard.press('i')
        return figure.getAttribute('aria-expanded')
      })
      .toBe('true')
    expect(await figure.getAttribute('data-figure')).not.toBe(first)
    expect(await figure.evaluate((each) => each === document.activeElement)).toBe(true)
    clean(opened)
    await context.close()
  })

  it.each([
    { width: 390, height: 844 },
    { width: 360, height: 640 },
  ])(
    'leaves the map of a phone $width wide to the taps: the folded legend stands in line with its buttons',
    async (viewport) => {
      const opened = await openFault(browser, served, { viewport, hasTouch: true, isMobile: true })
      const { page, story, context } = opened
      const [one] = await story.twoParts()
      await page.touchscreen.tap(one.x, one.y)
      await said(page)
      const legend = (await page.getByRole('button', { name: 'On the map', exact: true }).boundingBox())!
      const closer = (await page.getByRole('button', { name: 'Closer' }).boundingBox())!
      const further = (await page.getByRole('button', { name: 'Further away' }).boundingBox())!
      expect(legend.y + legend.height).toBeLessThanOrEqual(closer.y + closer.height + 2)
      expect(legend.x).toBeGreaterThanOrEqual(further.x + further.width)
      expect(legend.x + legend.width).toBeLessThanOrEqual(viewport.width)
      clean(opened)
      await context.close()
    },
  )

  it('by touch: on a tablet a tapped part takes the fault, and what opens a figure is large enough', async () => {
    const opened = await openFault(browser, served, {
      viewport: { width: 1024, height: 768 },
      hasTouch: true,
    })
    const { page, story, context } = opened
    const [one] = await story.twoParts()
    await page.touchscreen.tap(one.x, one.y)
    expect(await said(page)).toMatch(/flows from/)
    const figure = region(page, 'Where the current goes').locator('[data-figure]').first()
    const size = (await figure.boundingBox())!
    expect(Math.min(size.width, size.height)).toBeGreaterThanOrEqual(44)
    await figure.tap()
    await page.getByText(/^Fault current: /).waitFor(patience)
    clean(opened)
    await context.close()
  })

  it('by keyboard alone: the part, the module, the figure, and the dashes held still', async () => {
    const opened = await openFault(browser, served, { viewport: { width: 1280, height: 900 } })
    const { page, story, context } = opened
    await story.map.getByRole('button').first().focus()
    await page.keyboard.press('ArrowRight')
    await page.keyboard.press('Enter')
    const before = await said(page)
    await page.getByRole('slider', { name: 'Module whose conductor touches the metal' }).focus()
    await page.keyboard.press('ArrowLeft')
    await page.keyboard.press('ArrowLeft')
    await expect.poll(() => said(page)).not.toBe(before)
    const figure = region(page, 'Where the current goes').locator('[data-figure]').first()
    await figure.focus()
    await page.keyboard.press('Enter')
    await page.getByText('Fault at module').first().waitFor(patience)
    await page.keyboard.press('Escape')
    await page.getByRole('switch', { name: 'Hold the dashes still' }).focus()
    await page.keyboard.press('Space')
    await page.getByRole('switch', { name: 'Hold the dashes still', checked: true }).waitFor(patience)
    clean(opened)
    await context.close()
  })
})
