import { MOST_PIXELS, type Picture, pixelsInOne } from '../engine/pattern/photo/index.ts'

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
        `the picture has ${Math.round((width * height) / 1e6)} million pixels; bring one of ${MOST_PIXELS / 1e6} or fewer`,
      )
    // corners stay in pixels of the picture as taken
    const step = pixelsInOne(width, height)
    const [across, down] = [Math.floor(width / step), Math.floor(height / step)]
    const canvas = new OffscreenCanvas(across, down)
    const paper = canvas.getContext('2d', { willReadFrequently: true })
    if (paper === null) throw new Error('this browser cannot read pictures here')
    paper.fillStyle = '#fff'
    paper.fillRect(0, 0, across, down)
    paper.imageSmoothingQuality = 'high'
    paper.drawImage(whole, 0, 0, across * step, down * step, 0, 0, across, down)
    const { data } = paper.getImageData(0, 0, across, down)
    return { width: across, height: down, data, original: { width, height } }
  } finally {
    whole.close()
  }
}
