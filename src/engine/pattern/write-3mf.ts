import { strToU8, zipSync } from 'fflate'
import type { TriangleMesh } from '../piece/mesh/index.ts'

const CORE = 'http://schemas.microsoft.com/3dmanufacturing/core/2015/02'
const PACKAGE = 'http://schemas.openxmlformats.org/package/2006'
/** Earliest day a ZIP can hold: the same solid gives the same bytes on any day. */
const NO_DAY = new Date(1980, 0, 1)

const CONTENT = `<?xml version="1.0" encoding="UTF-8"?>
<Types xmlns="${PACKAGE}/content-types"><Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/><Default Extension="model" ContentType="application/vnd.ms-package.3dmanufacturing-3dmodel+xml"/></Types>
`

const RELATIONS = `<?xml version="1.0" encoding="UTF-8"?>
<Relationships xmlns="${PACKAGE}/relationships"><Relationship Target="/3D/3dmodel.model" Id="model" Type="http://schemas.microsoft.com/3dmanufacturing/2013/01/3dmodel"/></Relationships>
`

const number = (value: number): string => `${Number(value.toFixed(6)) + 0}`

const rows = (count: number, row: (i: number) => string): string =>
  Array.from({ length: count }, (_, i) => row(i)).join('\n')

/**
 * 3MF in millimetres, every length times `scale`, by the core specification. Its description says the
 * scale, and what of the solid was left for the file.
 */
export const write3mf = ({ positions, corners }: TriangleMesh, scale = 1, filing_mm = 0): Uint8Array => {
  const filing =
    filing_mm > 0 ? `${number(filing_mm)} mm of the casting left for filing` : 'nothing left for filing'
  const at = (i: number): string => number((positions[i] ?? 0) * scale)
  const model = `<?xml version="1.0" encoding="UTF-8"?>
<model unit="millimeter" xml:lang="en" xmlns="${CORE}">
<metadata name="Description">Scaled by ${scale.toFixed(6)} for shrink; ${filing}.</metadata>
<resources><object id="1" type="model"><mesh><vertices>
${rows(positions.length / 3, (i) => `<vertex x="${at(3 * i)}" y="${at(3 * i + 1)}" z="${at(3 * i + 2)}"/>`)}
</vertices><triangles>
${rows(corners.length / 3, (t) => `<triangle v1="${corners[3 * t]}" v2="${corners[3 * t + 1]}" v3="${corners[3 * t + 2]}"/>`)}
</triangles></mesh></object></resources>
<build><item objectid="1"/></build>
</model>
`
  return zipSync(
    {
      '[Content_Types].xml': strToU8(CONTENT),
      '_rels/.rels': strToU8(RELATIONS),
      '3D/3dmodel.model': strToU8(model),
    },
    { mtime: NO_DAY },
  )
}
