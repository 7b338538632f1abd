import { fail, ok, type Result } from '../../base/result.ts'

/** The longer side of a kept photo: enough to read the label of a clamp. */
export const longestSidePx = 1600
/** The most bytes of a kept photo; the store takes a little more. */
export const mostBytes = 500_000

/** Sizes and qualities that are tried one after another until the photo is small enough. */
const tries = [
  { sidePx: longestSidePx, quality: 0.82 },
  { sidePx: longestSidePx, quality: 0.65 },
  { sidePx: 1200, quality: 0.65 },
  { sidePx: 900, quality: 0.55 },
  { sidePx: 600, quality: 0.5 },
] as const

/** Width and height in pixels with the longer side at most `sidePx`; never larger than they were. */
export function fittedPx(width: number, height: number, sidePx: number): { width: number; height: number } {
  const scale = Math.min(1, sidePx / Math.max(width, height))
  return { width: Math.max(1, Math.round(width * scale)), height: Math.max(1, Math.round(height * scale)) }
}

/**
 * A picture as a JPEG that is small enough to keep, turned as it was taken. Drawing it anew leaves out what the camera
 * wrote beside the picture, where it was taken included.
 */
export async function shrinkPhoto(
  file: Blob,
): Promise<Result<Uint8Array<ArrayBuffer>, 'unreadable' | 'notSmall'>> {
  let picture: ImageBitmap
  try {
    picture = await createImageBitmap(file, { imageOrientation: 'from-image' })
  } catch {
    return fail('unreadable')
  }
  try {
    for (const { sidePx, quality } of tries) {
      const blob = await drawn(picture, sidePx, quality)
      if (blob && blob.size <= mostBytes) return ok(new Uint8Array(await blob.arrayBuffer()))
    }
    return fail('notSmall')
  } finally {
    picture.close()
  }
}

function drawn(picture: ImageBitmap, sidePx: number, quality: number): Promise<Blob | null> {
  const { width, height } = fittedPx(picture.width, picture.height, sidePx)
  const canvas = document.createElement('canvas')
  canvas.width = width
  canvas.height = height
  const pen = canvas.getContext('2d')
  if (!pen) return Promise.resolve(null)
  // a JPEG has no transparency: what is clear would turn black
  pen.fillStyle = '#fff'
  pen.fillRect(0, 0, width, height)
  pen.drawImage(picture, 0, 0, width, height)
  return new Promise((resolve) => canvas.toBlob(resolve, 'image/jpeg', quality))
}
