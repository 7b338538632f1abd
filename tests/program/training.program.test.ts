import type { Browser, BrowserContextOptions, Locator, Page } from 'playwright'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import { shippedLessons } from '../../src/text/lessons/shippedLessons.ts'
import { launchChromium, serveBuild, watch, type ServedBuild } from './servedBuild.ts'
import { storyPage, type StoryPage } from './storyPage.ts'

let browser: Browser
let served: ServedBuild
const patience = { timeout: 30_000 }

beforeAll(async () => {
  browser = await launchChromium()
  served = await serveBuild()
})
afterAll(async () => {
  await browser.close()
  await served.end()
})

/** How one hand works what stands on the page. */
interface Hand {
  readonly name: string
  readonly options: BrowserContextOptions
  press(page: Page, place: Locator): Promise<void>
  /** A choice among radio buttons is pressed on its words. */
  choose(page: Page, radio: Locator): Promise<void>
}

const hands: readonly Hand[] = [
  {
    name: 'mouse',
    options: { viewport: { width: 1440, height: 900 } },
    press: (_, place) => place.click(),
    choose: (_, radio) => radio.locator('xpath=..').click(),
  },
  {
    name: 'finger',
    options: { viewport: { width: 1024, height: 768 }, hasTouch: true },
    press: (_, place) => place.tap(),
    choose: (_, radio) => radio.locator('xpath=..').tap(),
  },
  {
    name: 'keyboard',
    options: { viewport: { width: 390, height: 844 } },
    async press(page, place) {
      await place.focus()
      await page.keyboard.press('Enter')
    },
    async choose(page, radio) {
      await radio.focus()
      await page.keyboard.press('Space')
    },
  },
]

describe.each(hands)('training by $name', (hand) => {
  let page: Page
  let story: StoryPage
  let watched: ReturnType<typeof watch>
  const button = (name: string | RegExp) =>
    story.panel.getByRole('button', { name, exact: typeof name === 'string' })
  const press = (name: string | RegExp) => hand.press(page, button(name))
  const readingsInRecord = async () => {
    await page.getByRole('tab', { name: 'Measure' }).click()
    return story.panel.getByText(/^\d+ readings$/).innerText()
  }

  beforeAll(async () => {
    const context = await browser.newContext({ ...hand.options, reducedMotion: 'reduce' })
    watched = watch(context, served.address)
    page = await context.newPage()
    story = storyPage(page)
    await story.open(served.address)
    await story.endIntroduction()
    await page.getByRole('tab', { name: 'Fault current' }).click()
    await press('Lessons')
  })
  afterAll(async () => {
    await page.context().close()
    expect([watched.complaints, watched.strayRequests]).toEqual([[], []])
  })

  it.each(shippedLessons.map(({ title }, k) => [title, k] as const))('lesson: %s', async (title, k) => {
    const lesson = shippedLessons[k]
    await press(new RegExp(`^${title.replace(/[:,]/g, '.')}`))
    const article = story.panel.getByRole('article', { name: title })
    await article.waitFor(patience)
    const opening = button(/^Open (?!“)/)
    const step = article.getByRole('region', { name: `Step 1 of ${lesson.steps.length}` })
    if (await opening.isVisible()) await hand.press(page, opening)
    await expect.poll(() => article.getByRole('progressbar').count(), patience).toBe(0)
    await expect.poll(() => step.innerText(), patience).not.toMatch(/[…{}]/)
    for (let s = 0; s < lesson.steps.length; s++) {
      const here = article.getByRole('region', { name: `Step ${s + 1} of ${lesson.steps.length}` })
      await here.waitFor(patience)
      const { question } = lesson.steps[s]
      if (question) {
        await hand.choose(
          page,
          here.getByRole('radio', { name: question.choices[question.right], exact: true }),
        )
        await here.getByText('Right.', { exact: true }).waitFor(patience)
        await expect.poll(() => here.innerText(), patience).not.toMatch(/[…{}]|do not bear/)
      }
      if (s + 1 < lesson.steps.length) await press('Next')
    }
    await press('Sheet for the crew')
    const sheet = page.getByRole('dialog', { name: 'Sheet for the crew' })
    await sheet.getByText(`Answers: ${title}`).waitFor(patience)
    expect(await sheet.innerText()).not.toMatch(/[…{}]/)
    if (hand.name === 'keyboard') await page.keyboard.press('Escape')
    else await hand.press(page, sheet.getByRole('button', { name: 'Close' }))
    await sheet.waitFor({ state: 'detached' })
    await press('All lessons')
  })

  it('a drill from hiding to the sheet; the record stays as it was', async () => {
    const before = await readingsInRecord()
    await page.getByRole('tab', { name: 'Fault current' }).click()
    await press('Drill')
    await story.panel.getByRole('textbox', { name: 'Trainee' }).fill('Tester 7')
    await hand.choose(page, story.panel.getByRole('radio', { name: 'By a number' }))
    await story.panel.getByRole('textbox', { name: 'Number of the drill' }).fill('12')
    await page.keyboard.press('Enter')
    await press('Begin: hide the joint')
    await story.panel.getByText('0 readings, 0 min, 0 wrong calls').waitFor(patience)
    await press('Null the leads')
    await story.panel.getByText('Leads are nulled.').waitFor(patience)

    if (hand.name === 'keyboard') {
      await typeEnd('First clip', 'B1')
      await typeEnd('Second clip', 'R1/T1/L1.1')
    } else {
      await hand.press(page, page.getByRole('button', { name: 'Show the whole site' }))
      await press('Choose both on the map')
      const [first, second] = await story.twoParts()
      for (const { x, y } of [first, second])
        await (hand.name === 'finger' ? page.touchscreen.tap(x, y) : page.mouse.click(x, y))
    }
    await press('Read it')
    await story.panel.getByText(/^1 reading, /).waitFor(patience)
    await press('Seat the clips afresh and read')
    await story.panel.getByText(/^2 readings, /).waitFor(patience)
    // neither another workspace nor a reload loses anything of it
    await page.getByRole('tab', { name: 'Locate' }).click()
    await page.getByText('The drill waits in Fault current').first().waitFor(patience)
    await page.getByRole('tab', { name: 'Fault current' }).click()
    await story.panel.getByText(/^2 readings, /).waitFor(patience)
    await page.reload()
    await page.getByRole('tab', { name: 'Fault current' }).click()
    const drill = button(/^Drill/)
    await drill.waitFor(patience)
    if ((await drill.getAttribute('aria-expanded')) !== 'true') await press(/^Drill/)
    await story.panel.getByText(/left before it was over, with 2 readings/).waitFor(patience)
    await press('Go on with it')
    await story.panel.getByText(/^2 readings, /).waitFor(patience)
    await story.panel.getByText('Leads are nulled.').waitFor(patience)

    await press(/^This test is bad.*reading 2$/)
    await story.panel.getByText('Reading 2 called a bad test: wrong').waitFor(patience)

    await pickByName('R1/T1+T2~1')
    await press('This is the bad joint')
    await story.panel
      .getByText(/^Jumper .*: (right|wrong)$/)
      .first()
      .waitFor(patience)
    if (await button('Give up and show it').isVisible()) await press('Give up and show it')
    await story.panel.getByText(/^(Found|Not found): the /).waitFor(patience)
    await press('Keep on the result sheet')
    await press('Another drill')
    await press(/^Attendance and result sheet/)
    const line = story.panel.getByRole('listitem').filter({ hasText: 'Tester 7' })
    await line.waitFor(patience)
    expect(await readingsInRecord()).toBe(before)

    // the sheet stays on the device
    await page.reload()
    await page.getByRole('tab', { name: 'Fault current' }).click()
    await press('Drill')
    await press(/^Attendance and result sheet/)
    await line.waitFor(patience)
  })

  async function typeEnd(label: string, part: string) {
    const field = story.panel.getByRole('combobox', { name: label })
    await field.fill(part)
    await page.keyboard.press('Enter')
  }

  async function pickByName(joint: string) {
    const field = page.getByRole('combobox', { name: 'Find a place on the map' })
    if (!(await field.isVisible()))
      await hand.press(page, page.getByRole('button', { name: 'Find a place (key /)' }))
    await field.fill(joint)
    await page.getByRole('option').first().waitFor(patience)
    await page.keyboard.press('Enter')
  }
})
