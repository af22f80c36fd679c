import type { Picture } from '../engine/pattern/photo/index.ts'

/** Longer pictures are read at this size; their corners stay in pixels of the picture as taken. */
const LONGEST_PX = 4000
/** No more than this is ever decoded, so that a hostile picture cannot take the memory. */
const MOST_PIXELS = 120e6

/** A photo's pixels, upright, decoded by the browser in a worker. @throws in words for the page */
export const decodeHere = async (bytes: Uint8Array): Promise<Picture> => {
  const whole = await createImageBitmap(new Blob([Uint8Array.from(bytes)]), {
    imageOrientation: 'from-image',
  }).catch(() => {
    throw new Error(
      'the picture is damaged or of a kind that this browser can’t decode; save it again as JPEG, PNG or WebP and bring it again',
    )
  })
  try {
    const { width, height } = whole
    if (width * height > MOST_PIXELS)
      throw new Error(
        `the picture has ${Math.round((width * height) / 1e6)} million pixels; bring one of 120 or fewer`,
      )
    const share = Math.min(1, LONGEST_PX / Math.max(width, height))
    const [across, down] = [Math.round(width * share), Math.round(height * share)]
    const canvas = new OffscreenCanvas(across, down)
    const paper = canvas.getContext('2d', { willReadFrequently: true })
    if (paper === null) throw new Error('this browser cannot read pictures here')
    paper.fillStyle = '#fff'
    paper.fillRect(0, 0, across, down)
    paper.imageSmoothingQuality = 'high'
    paper.drawImage(whole, 0, 0, across, down)
    const { data } = paper.getImageData(0, 0, across, down)
    return { width: across, height: down, data, original: { width, height } }
  } finally {
    whole.close()
  }
}
