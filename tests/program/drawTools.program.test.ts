import type { Browser } from 'playwright'
import { afterAll, beforeAll, describe, expect, it } from 'vitest'
import type { Site } from '../../src/model/schema/site.ts'
import { fingerHand, keyHand, mouseHand, openYard, type Hand, type Yard } from './drawYard.ts'
import { launchChromium, serveBuild, type ServedBuild } from './servedBuild.ts'
import { tabTo } from './storyPage.ts'

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

/** Something with each of the tools; the ground of the yard is free south of its rows and north of them. */
async function drawAll(hand: Hand): Promise<void> {
  await hand.take('Row')
  await hand.drag({ x: 0, y: 14 }, { x: 24, y: 14 })
  await hand.take('Repeat')
  await hand.drag({ x: 6, y: 15 }, { x: 6, y: 21 })
  await hand.tap({ x: 6, y: 27 })

  await hand.take('Equipment')
  await hand.tap({ x: -6, y: -6 })
  await hand.pick('What', 'Earth bar')
  await hand.tap({ x: -3, y: -8 })

  await hand.take('Electrode')
  await hand.tap({ x: 4, y: -8 })
  await hand.pick('What', 'Strip or wire')
  await hand.tap({ x: 8, y: -8 }, { x: 14, y: -8 })
  await hand.finish()
  await hand.pick('What', 'Ring')
  await hand.tap({ x: 18, y: -6 }, { x: 21, y: -6 }, { x: 21, y: -12 }, { x: 18, y: -6 })

  await hand.take('Conductor')
  await hand.tap({ x: 4, y: -8 }, { x: 4, y: -4 }, { x: 0, y: 0.5 }, { x: -3, y: -8 })
  await hand.finish()

  await hand.take('Ground')
  await hand.tap({ x: -9, y: 12 }, { x: 30, y: 12 })
  await hand.finish()
  await hand.pick('What', 'Obstacle to walk round')
  await hand.tap({ x: 28, y: -6 }, { x: 32, y: -6 }, { x: 32, y: -10 }, { x: 28, y: -6 })

  await hand.take('Metal path')
  await hand.drag({ x: -3, y: -8 }, { x: -6, y: -6 })
}

/** What `drawAll` draws, whichever hand did it. */
function expectAll({ drawing }: Site): void {
  const placed = drawing.rows.slice(2).map(({ originM, bearingDeg, runs }) => ({
    originM,
    bearingDeg,
    tables: runs.map(({ count, type }) => `${count} ${type}`),
  }))
  expect(placed).toEqual(
    [14, 20, 26].map((y) => ({ originM: { x: 0, y }, bearingDeg: 90, tables: ['2 fixed20'] })),
  )
  expect(drawing.enclosures.slice(1)).toMatchObject([{ atM: { x: -6, y: -6 }, widthM: 1.2, depthM: 0.6 }])
  expect(drawing.earthBars.slice(1)).toMatchObject([{ atM: { x: -3, y: -8 } }])
  const ring = [
    { x: 18, y: -6 },
    { x: 21, y: -6 },
    { x: 21, y: -12 },
  ]
  expect(drawing.electrodes.slice(1)).toMatchObject([
    { form: 'rod', atM: { x: 4, y: -8 }, lengthM: 2.4 },
    {
      form: 'strip',
      closed: false,
      pathM: [
        { x: 8, y: -8 },
        { x: 14, y: -8 },
      ],
    },
    { form: 'strip', closed: true, pathM: ring },
  ])
  expect(drawing.conductors).toHaveLength(1)
  const [{ points }] = drawing.conductors
  const [bar] = drawing.earthBars.slice(1)
  const [rod] = drawing.electrodes.slice(1)
  expect(points.map(({ landing }) => landing?.part ?? null)).toEqual([
    `G${rod.id}`,
    null,
    'R1/T1/L1.1',
    `B${bar.id}`,
  ])
  expect(points.map(({ landing }) => landing?.kind)).toEqual(['rodClamp', undefined, 'crimpLug', 'crimpLug'])
  expect(points[1].atM).toEqual({ x: 4, y: -4 })
  expect(drawing.aisles).toMatchObject([
    {
      pathM: [
        { x: -9, y: 12 },
        { x: 30, y: 12 },
      ],
    },
  ])
  const outlineM = [
    { x: 28, y: -6 },
    { x: 32, y: -6 },
    { x: 32, y: -10 },
  ]
  expect(drawing.obstacles).toMatchObject([{ outlineM }])
  const [enclosure] = drawing.enclosures.slice(1)
  expect(drawing.extraJoints).toMatchObject([{ from: `B${bar.id}`, to: `E${enclosure.id}` }])
}

/** Everything drawn and looked at in the file, then a distance, which draws nothing. */
async function drawAndLook(yard: Yard, hand: Hand): Promise<void> {
  await drawAll(hand)
  const drawn = await yard.saved()
  expectAll(drawn)
  await hand.take('Distance')
  await hand.tap({ x: 10, y: -4 }, { x: 16, y: -4 })
  await hand.finish()
  expect((await yard.saved()).drawing).toEqual(drawn.drawing)
  expect(yard.watched).toEqual({ strayRequests: [], complaints: [] })
}

describe('the drawing tools', () => {
  it('draw by the mouse', async () => {
    const yard = await openYard(browser, served)
    await drawAndLook(yard, mouseHand(yard))
    await yard.context.close()
  })

  it('draw by a finger', async () => {
    const yard = await openYard(browser, served, { hasTouch: true, viewport: { width: 1180, height: 820 } })
    await drawAndLook(yard, await fingerHand(yard))
    await yard.context.close()
  })

  it('draw by the keyboard alone', async () => {
    const yard = await openYard(browser, served)
    const { page, map } = yard
    const standpoint = map.getByRole('button').first()
    const hand = await keyHand(yard, () => tabTo(page, standpoint))
    await drawAndLook(yard, hand)
    await yard.context.close()
  })
})
