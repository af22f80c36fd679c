import type { PhotoSetting } from '../../../../engine/documents/heights.ts'
import { FigureRow, FigureRows } from '../../../parts/stat.tsx'
import { entryWriting } from '../../../state/entry.ts'
import { useUnits } from '../../../state/units.ts'
import type { PictureSize } from './frame.ts'
import { LengthEntry } from './length-entry.tsx'
import { firstCorners, firstPoints, photoSetting, SHEETS, sheetNamed } from './sheets.ts'
import { useLengths } from './use-heights.ts'

const TWO_POINTS = 'two-points'
const OWN = 'own'
const APART_MM = 100

/** What the marks on a photo are the corners of, and what came of it. */
export const PhotoScale = ({
  photo,
  picture,
  set: setPhoto,
  straightness_mm,
}: {
  photo: PhotoSetting
  picture: PictureSize
  set: (next: PhotoSetting, group?: string) => void
  straightness_mm: number | undefined
}) => {
  const units = useUnits()
  const { write, label } = useLengths()
  const { scale } = photo
  const chosen = scale.by === 'sheet' ? sheetNamed(scale.width_mm, scale.height_mm) : TWO_POINTS
  const set = (next: PhotoSetting['scale'], group?: string): void =>
    setPhoto({ ...photo, scale: next }, group)
  const corners = scale.by === 'sheet' ? scale.corners_px : firstCorners(picture)
  const choose = (id: string): void => {
    if (id === TWO_POINTS) {
      set({ by: 'two-points', points_px: firstPoints(picture), apart_mm: APART_MM })
      return
    }
    const sheet = SHEETS.find((one) => one.id === id)
    if (sheet !== undefined)
      set({ by: 'sheet', corners_px: corners, width_mm: sheet.width_mm, height_mm: sheet.height_mm })
    // a size that is no sheet's, so that it can be typed over
    else set({ by: 'sheet', corners_px: corners, width_mm: 100, height_mm: 60 })
  }
  const size = (mm: number): string => {
    const shown = entryWriting('/x_mm', units).toShown(mm)
    return units.length === 'in' ? shown.toFixed(2) : String(Number(shown.toFixed(1)))
  }
  return (
    <FigureRows label="Size of the photo">
      <FigureRow name={scale.by === 'sheet' ? 'Marks 1 to 4 are the corners of' : 'Marks 1 and 2 are'}>
        <select
          className="asked"
          aria-label="What the marks are on"
          value={chosen}
          onChange={(event) => choose(event.target.value)}
        >
          {SHEETS.map((sheet) => (
            <option key={sheet.id} value={sheet.id}>
              {sheet.name}, {size(sheet.width_mm)} × {size(sheet.height_mm)} {label}
            </option>
          ))}
          <option value={OWN}>a sheet of your own size</option>
          <option value={TWO_POINTS}>two points, a distance apart</option>
        </select>
      </FigureRow>
      {scale.by === 'sheet' && chosen === OWN && (
        <>
          <FigureRow name="Sheet, wide" about="from mark 1 to mark 2">
            <LengthEntry
              title="Sheet, wide"
              value={scale.width_mm}
              least={10}
              most={2000}
              onChange={(width_mm, group) => set({ ...scale, width_mm }, group)}
            />
          </FigureRow>
          <FigureRow name="Sheet, high" about="from mark 1 to mark 4">
            <LengthEntry
              title="Sheet, high"
              value={scale.height_mm}
              least={10}
              most={2000}
              onChange={(height_mm, group) => set({ ...scale, height_mm }, group)}
            />
          </FigureRow>
        </>
      )}
      {scale.by === 'two-points' && (
        <FigureRow name="Apart" about="perspective is not taken out; photograph squarely, or scan">
          <LengthEntry
            title="Apart"
            value={scale.apart_mm}
            least={1}
            most={2000}
            onChange={(apart_mm, group) => set({ ...scale, apart_mm }, group)}
          />
        </FigureRow>
      )}
      {straightness_mm !== undefined && (
        <FigureRow
          name={<span className="muted">edges of the sheet lie off the marks by</span>}
          about="says how well the marks lie on the edges, not whether the sheet is the size chosen: measure one length of the drawing against it"
        >
          {units.length === 'in' ? (straightness_mm / 25.4).toFixed(3) : write(straightness_mm)} {label}
        </FigureRow>
      )}
      <FigureRow name="Lines up to this wide count by their middle" about="wider ink is a filled shape">
        <LengthEntry
          title="Widest line"
          value={photo.widest_line_mm}
          least={0.1}
          most={10}
          onChange={(widest_line_mm, group) => setPhoto({ ...photo, widest_line_mm }, group)}
        />
      </FigureRow>
    </FigureRows>
  )
}

export const startingPhoto = (picture: PictureSize): PhotoSetting =>
  photoSetting({
    by: 'sheet',
    corners_px: firstCorners(picture),
    width_mm: picture.width >= picture.height ? SHEETS[0].width_mm : SHEETS[1].width_mm,
    height_mm: picture.width >= picture.height ? SHEETS[0].height_mm : SHEETS[1].height_mm,
  })
