import { describe, expect, it, vi } from 'vitest'
import { page } from 'vitest/browser'
import { render } from 'vitest-browser-svelte'
import '../../../src/app/app.css'
import PhotoField from '../../../src/panels/reading/PhotoField.svelte'
import PhotoRow from '../../../src/panels/reading/PhotoRow.svelte'
import { fittedPx, longestSidePx, mostBytes, shrinkPhoto } from '../../../src/panels/reading/shrinkPhoto.ts'
import { openSiteStore } from '../../../src/storage/openSiteStore.ts'
import { randomStream } from '../../../src/base/random.ts'
import PanelHarness from '../PanelHarness.svelte'
import { panelState } from '../panelState.ts'

/** A picture of coloured noise, which packs badly. */
async function noise(width: number, height: number): Promise<Blob> {
  const canvas = new OffscreenCanvas(width, height)
  const pen = canvas.getContext('2d')!
  const picture = pen.createImageData(width, height)
  const random = randomStream(7)
  for (let k = 0; k < picture.data.length; k++) picture.data[k] = k % 4 === 3 ? 255 : 256 * random.uniform()
  pen.putImageData(picture, 0, 0)
  return canvas.convertToBlob({ type: 'image/png' })
}

describe('making a photo small', () => {
  it('keeps the shape and never enlarges', () => {
    expect(fittedPx(4000, 3000, 1600)).toEqual({ width: 1600, height: 1200 })
    expect(fittedPx(300, 4000, 1600)).toEqual({ width: 120, height: 1600 })
    expect(fittedPx(200, 100, 1600)).toEqual({ width: 200, height: 100 })
    expect(fittedPx(5000, 1, 1600)).toEqual({ width: 1600, height: 1 })
  })

  it('brings even noise under the most bytes, as a JPEG', async () => {
    const small = await shrinkPhoto(await noise(2000, 1500))
    if (!small.ok) throw new Error(small.error)
    expect(small.value.byteLength).toBeLessThanOrEqual(mostBytes)
    expect([...small.value.slice(0, 3)]).toEqual([0xff, 0xd8, 0xff])
    const seen = await createImageBitmap(new Blob([small.value]))
    expect(Math.max(seen.width, seen.height)).toBeLessThanOrEqual(longestSidePx)
    expect(seen.width / seen.height).toBeCloseTo(4 / 3, 1)
  })

  it('says of what is no picture that it cannot be read', async () => {
    expect(await shrinkPhoto(new Blob(['no picture']))).toEqual({ ok: false, error: 'unreadable' })
  })
})

describe('photos of an entry', () => {
  it('takes a picture, names it by its checksum, shows it, and tells of one that is elsewhere', async () => {
    const app = panelState()
    await app.library.begin(await openSiteStore())
    const onphotos = vi.fn<(photos: readonly string[]) => void>()
    await render(PanelHarness, { app, panels: [{ panel: PhotoField, props: { photos: [], onphotos } }] })
    const file = new File([await noise(300, 200)], 'clamp.png', { type: 'image/png' })
    await page.getByLabelText('Add a photo …').upload(file)
    await vi.waitFor(() => expect(onphotos).toHaveBeenCalledTimes(1))
    const [taken] = onphotos.mock.calls[0]
    expect(taken).toHaveLength(1)
    expect(taken[0]).toMatch(/^[0-9a-f]{64}$/)
    expect(await app.library.photos!.has(taken[0])).toEqual({ ok: true, value: true })
    await render(PanelHarness, {
      app,
      panels: [{ panel: PhotoRow, props: { photos: [taken[0], 'a'.repeat(64)] } }],
    })
    await expect.element(page.getByRole('img', { name: 'Photo 1' })).toBeVisible()
    await expect.element(page.getByText('Photo 2: On another device')).toBeVisible()
  })
})
