import { strToU8, zipSync } from 'fflate'
import { describe, expect, test } from 'vitest'
import { glb, samples } from '../../../../fixtures/meshes/samples.ts'
import { box, cube, globe, mapped, type Shape } from '../../../../fixtures/meshes/shapes.ts'
import {
  meshXml,
  modelXml,
  obj,
  packed3mf,
  ply,
  stlBinary,
  stlText,
} from '../../../../fixtures/meshes/write.ts'
import { measureModel, readModel, volumeOf } from './index.ts'

const files = samples()
const measure = (name: string) => measureModel(files[name] ?? new Uint8Array(0), name)
const stopsOf = (bytes: Uint8Array, name: string): string[] =>
  readModel(bytes, name)
    .problems.filter((p) => p.level === 'stop')
    .map((p) => p.kind)
const volumeIn = (bytes: Uint8Array, name: string): number => volumeOf(readModel(bytes, name).mesh)
const one3mf = (shape: Shape, item = '<item objectid="1"/>', attributes?: string): Uint8Array =>
  packed3mf(modelXml(`<object id="1">${meshXml(shape)}</object>`, item, attributes))

describe('every format gives the same cube', () => {
  const shape = cube(10, [1, 2, 3])
  const metres = mapped(shape, (x, y, z) => [x / 1000, y / 1000, z / 1000])
  const cases: [string, Uint8Array][] = [
    ['binary.stl', stlBinary(shape)],
    ['header.stl', stlBinary(shape, 'solid but binary')],
    ['text.stl', stlText(shape)],
    ...(['plain', 'negative', 'texture', 'normal', 'both'] as const).map((form): [string, Uint8Array] => [
      `${form}.obj`,
      obj(shape, form),
    ]),
    ...(['ascii', 'little', 'big'] as const).flatMap((format): [string, Uint8Array][] => [
      [`${format}.ply`, ply(shape, format)],
      [`${format}-extra.ply`, ply(shape, format, true)],
    ]),
    ['plain.3mf', one3mf(shape)],
    ['plain.glb', glb(metres)],
  ]
  for (const [name, bytes] of cases)
    test(name, () => {
      const m = measureModel(bytes, name)
      expect(m.closed).toBe(true)
      expect(m.volume_mm3).toBeCloseTo(1000, name.endsWith('glb') ? 2 : 9)
      expect(m.bounds_mm?.max[2]).toBeCloseTo(13, 4)
      expect(m.problems.filter((p) => p.kind !== 'units-assumed')).toEqual([])
    })
})

describe('STL', () => {
  test('a file cut anywhere within its triangles says how many bytes are missing and gives no volume', () => {
    const whole = stlBinary(globe(10, 8, 12))
    for (let cut = 84; cut < whole.length; cut += 487) {
      const m = measureModel(whole.slice(0, cut), 'cut.stl')
      expect(m.volume_mm3).toBeNull()
      expect(m.closed).toBe(false)
      expect(m.problems[0]).toMatchObject({
        kind: 'ends-early',
        where: `bytes ${cut.toLocaleString('en-US')} of ${whole.length.toLocaleString('en-US')}`,
      })
    }
  })

  test('text cut anywhere gives no volume', () => {
    const whole = stlText(cube(10))
    for (let cut = 90; cut < whole.length - 1 - 'endsolid part'.length; cut += 13) {
      const m = measureModel(whole.slice(0, cut), 'cut.stl')
      expect(m.volume_mm3, `cut at ${cut}`).toBeNull()
      expect(m.problems.some((p) => p.level === 'stop')).toBe(true)
    }
  })

  test('a count of four billion is refused without allocating for it', () => {
    expect(measure('absurd-count.stl').problems[0]).toMatchObject({ kind: 'absurd-count' })
  })

  test('numbers of every form are read as the language reads them', () => {
    const texts = [
      '1',
      '-0.5',
      '+3.25',
      '1e3',
      '1.5E-3',
      '.5',
      '7.',
      '0.1234567890123456789',
      '1e-30',
      '-2.5e+07',
    ]
    const rows = texts.map(
      (t) =>
        `facet normal 0 0 0\nouter loop\nvertex ${t} 0 0\nvertex 0 ${t} 0\nvertex 0 0 ${t}\nendloop\nendfacet`,
    )
    const { mesh } = readModel(strToU8(`solid\n${rows.join('\n')}\nendsolid\n`), 'numbers.stl')
    expect(texts.map((_, i) => mesh.positions[i * 9])).toEqual(texts.map(Number))
  })

  test('a facet with four corners is refused', () => {
    const text =
      'solid x\nfacet normal 0 0 0\nouter loop\nvertex 0 0 0\nvertex 1 0 0\nvertex 1 1 0\nvertex 0 1 0\nendloop\nendfacet\nendsolid x\n'
    expect(stopsOf(strToU8(text), 'four.stl')).toEqual(['malformed'])
  })

  test('upper case, odd gaps, carriage returns and several solids are read', () => {
    const text = String.fromCharCode(...stlText(cube(10)))
      .toUpperCase()
      .replaceAll('\n', '\r\n\t ')
    const two = String.fromCharCode(...stlText(cube(10, [20, 0, 0])))
    expect(volumeIn(strToU8(text), 'loud.stl')).toBeCloseTo(1000, 9)
    expect(volumeIn(strToU8(text + two), 'two.stl')).toBeCloseTo(2000, 9)
  })

  test('notes named as STL, an empty file and a solid without facets each say what they are', () => {
    expect(stopsOf(files['notes.stl']!, 'notes.stl')).toEqual(['unknown-format'])
    expect(stopsOf(new Uint8Array(0), 'empty.stl')).toEqual(['empty-file'])
    expect(stopsOf(strToU8('solid x\nendsolid x\n'), 'none.stl')).toEqual(['no-triangles'])
    expect(stopsOf(new Uint8Array(40), 'short.stl')).toEqual(['ends-early'])
  })
})

describe('OBJ', () => {
  test('a concave polygon is cut into triangles of the right area, facing its way', () => {
    const arrow = 'v 0 0 0\nv 10 0 0\nv 4 4 0\nv 0 10 0\nf 1 2 3 4\n'
    const { mesh } = readModel(strToU8(arrow), 'arrow.obj')
    expect(mesh.corners.length).toBe(6)
    const up = [0, 3].map((i) => {
      const [a, b, c] = [0, 1, 2].map((k) => mesh.corners[i + k]! * 3) as [number, number, number]
      const p = mesh.positions
      return (p[b]! - p[a]!) * (p[c + 1]! - p[a + 1]!) - (p[b + 1]! - p[a + 1]!) * (p[c]! - p[a]!)
    })
    expect(up.every((v) => v > 0)).toBe(true)
    expect((up[0]! + up[1]!) / 2).toBeCloseTo(40, 12)
  })

  test('quads with negative corner numbers close up', () => {
    expect(measure('quads-negative.obj')).toMatchObject({ closed: true, triangles: 12 })
  })

  test('corner numbers out of range, zero or fractional are refused with their line', () => {
    expect(measure('bad-index.obj').problems[0]).toMatchObject({
      kind: 'index-out-of-range',
      where: 'line 5',
    })
    for (const face of ['f 0 1 2', 'f 1 2 x', 'f 1.5 2 3', 'f 1 2 -9', 'f 1 2'])
      expect(stopsOf(strToU8(`v 0 0 0\nv 1 0 0\nv 0 1 0\n${face}\n`), 'bad.obj')[0], face).toMatch(
        /malformed|index-out-of-range|ends-early/,
      )
  })

  test('weights, colours, continued lines and comments are stepped over', () => {
    const text = 'v 0 0 0 1\nv 1 0 0 0.5 0.5 0.5\nv 0 1 \\\n 0\n#v 9 9 9\nf 1 2 3 # one\n'
    expect(readModel(strToU8(text), 'odd.obj')).toMatchObject({
      problems: [],
      mesh: { corners: { length: 3 } },
    })
  })

  test('nan and inf are found', () => {
    const m = measureModel(strToU8('v nan 0 0\nv 1 0 0\nv 0 inf 0\nf 1 2 3\n'), 'n.obj')
    expect(m.volume_mm3).toBeNull()
    expect(m.problems.map((p) => p.kind)).toContain('not-a-number')
  })

  test('curved surfaces and points without faces are not passed over in silence', () => {
    expect(stopsOf(strToU8('v 0 0 0\ncstype bezier\nsurf 0 1 0 1 1 2\n'), 'c.obj')).toEqual(['not-read'])
    expect(stopsOf(strToU8('v 0 0 0\nv 1 1 1\n'), 'p.obj')).toEqual(['no-triangles'])
    expect(stopsOf(strToU8('dear reader, nothing here\n'), 'x.obj')).toEqual(['unknown-format'])
  })
})

describe('PLY', () => {
  test('a file cut anywhere in its body says so', () => {
    for (const format of ['ascii', 'little', 'big'] as const) {
      const whole = ply(globe(10, 6, 8), format, true)
      for (let cut = 620; cut < whole.length - 3; cut += 211)
        expect(measureModel(whole.slice(0, cut), 'cut.ply').volume_mm3, `${format} ${cut}`).toBeNull()
      expect(stopsOf(whole.slice(0, 1500), 'cut.ply')[0]).toMatch(/ends-early|malformed/)
    }
  })

  test('absurd counts, unknown formats and points alone are refused', () => {
    const head = (body: string): Uint8Array => strToU8(`ply\n${body}\nend_header\n`)
    const xyz = 'property float x\nproperty float y\nproperty float z'
    expect(
      stopsOf(head(`format binary_little_endian 1.0\nelement vertex 4000000000\n${xyz}`), 'a.ply'),
    ).toEqual(['absurd-count'])
    expect(stopsOf(head(`format wide 1.0\nelement vertex 1\n${xyz}`), 'a.ply')).toEqual(['malformed'])
    expect(
      stopsOf(strToU8(`ply\nformat ascii 1.0\nelement vertex 1\n${xyz}\nend_header\n0 0 0\n`), 'a.ply'),
    ).toEqual(['no-triangles'])
    expect(stopsOf(head('format ascii 1.0\nelement vertex -1'), 'a.ply')).toEqual(['malformed'])
    expect(stopsOf(strToU8('ply\nformat ascii 1.0\n'), 'a.ply')).toEqual(['ends-early'])
    const zero = head(
      `format ascii 1.0\nelement pad 100000000\nproperty list uchar int none\nelement vertex 1\n${xyz}`,
    )
    expect(stopsOf(zero, 'a.ply')).toEqual(['absurd-count'])
  })

  test('a face that names a corner out of range is refused', () => {
    const shape = cube(10)
    shape.corners[4] = 99
    for (const format of ['ascii', 'little', 'big'] as const)
      expect(stopsOf(ply(shape, format), 'a.ply')).toEqual(['index-out-of-range'])
  })
})

describe('3MF', () => {
  test('units, items, components and mirrors are placed', () => {
    // A 1 in cube and its mirror image side by side, doubled in size and turned: 2 x 8 in3.
    const m = measure('inch-two-placed.3mf')
    expect(m).toMatchObject({ units: 'in', unitsAssumed: false, closed: true })
    expect(m.volume_mm3).toBeCloseTo(16 * 25.4 ** 3, 4)
    expect(m.bounds_mm?.max[0]).toBeCloseTo(5 * 25.4, 9)
    expect(m.bounds_mm?.min[0]).toBeCloseTo(3 * 25.4, 9)
  })

  test('every unit of the standard is known and others are refused', () => {
    const sides = { micron: 0.001, millimeter: 1, centimeter: 10, inch: 25.4, foot: 304.8, meter: 1000 }
    for (const [unit, mm] of Object.entries(sides))
      expect(
        measureModel(one3mf(cube(1), undefined, `unit="${unit}"`), 'u.3mf').bounds_mm?.max[0],
      ).toBeCloseTo(mm, 9)
    expect(stopsOf(one3mf(cube(1), undefined, 'unit="cubit"'), 'u.3mf')).toEqual(['malformed'])
  })

  test('a unit asked for does not overrule the unit in the file, and that is said', () => {
    const m = measureModel(one3mf(cube(10)), 'u.3mf', { units: 'in' })
    expect(m.volume_mm3).toBeCloseTo(1000, 9)
    expect(m.problems.map((p) => p.kind)).toContain('units-in-file')
  })

  test('objects in another part of the archive are followed', () => {
    const inner = modelXml(`<object id="7">${meshXml(cube(10))}</object>`, '')
    const outer = modelXml(
      '<object id="1"><components><component p:path="/3D/Objects/inner.model" objectid="7"/></components></object>',
      '<item objectid="1"/>',
    )
    expect(volumeIn(packed3mf(outer, { '3D/Objects/inner.model': strToU8(inner) }), 'p.3mf')).toBeCloseTo(
      1000,
      9,
    )
    expect(stopsOf(packed3mf(outer), 'p.3mf')).toContain('malformed')
  })

  test('an empty build, a cycle, endless multiplying, a bomb and a climbing name are each refused', () => {
    const kinds = Object.fromEntries(
      ['no-build', 'made-of-itself', 'multiplying', 'bomb', 'climbing'].map((name) => [
        name,
        stopsOf(files[`${name}.3mf`]!, `${name}.3mf`)[0],
      ]),
    )
    expect(kinds).toEqual({
      'no-build': 'no-build',
      'made-of-itself': 'refused',
      multiplying: 'too-large',
      bomb: 'refused',
      climbing: 'refused',
    })
  })

  test('a bomb that lies about its size is stopped at the size it claims', () => {
    const big = zipSync({ '3D/3dmodel.model': [new Uint8Array(30_000_000).fill(32), { level: 9 }] })
    const view = new DataView(big.buffer, big.byteOffset, big.byteLength)
    const directory = view.getUint32(big.length - 6, true)
    view.setUint32(directory + 24, 5_000, true)
    expect(readModel(big, 'lie.3mf').problems[0]).toMatchObject({
      kind: 'refused',
      where: 'part "3D/3dmodel.model"',
    })
  })

  test('a spoilt checksum, a cut archive and proper zips without a model are told apart', () => {
    const whole = one3mf(cube(10))
    const spoilt = whole.slice()
    const view = new DataView(spoilt.buffer)
    for (let at = 0, n = 0; at < spoilt.length - 4; at++)
      if (view.getUint32(at, true) === 0x02014b50 && ++n === 3) view.setUint32(at + 16, 1, true)
    expect(stopsOf(spoilt, 's.3mf')).toEqual(['malformed'])
    for (let cut = 10; cut < whole.length - 1; cut += 37)
      expect(stopsOf(whole.slice(0, cut), 'c.3mf').length, `cut at ${cut}`).toBeGreaterThan(0)
    expect(stopsOf(zipSync({ 'a.txt': strToU8('x') }), 'z.3mf')).toEqual(['malformed'])
  })

  test('broken XML, entities of its own and unread extensions are refused', () => {
    const xml = modelXml(`<object id="1">${meshXml(cube(1))}</object>`, '<item objectid="1"/>')
    expect(stopsOf(packed3mf(xml.slice(0, -40)), 'b.3mf')[0]).toBe('malformed')
    const entity = xml.replace('?>', '?><!DOCTYPE model [<!ENTITY a "aaaa">]>').replace('x="0"', 'x="&a;"')
    expect(['refused', 'malformed']).toContain(stopsOf(packed3mf(entity), 'e.3mf')[0])
    const lattice = xml.replace(
      'unit="millimeter"',
      'unit="millimeter" xmlns:b="http://example.org/lattice" requiredextensions="b"',
    )
    expect(stopsOf(packed3mf(lattice), 'l.3mf')).toEqual(['not-read'])
  })

  test('bad numbers, corners and transforms are refused', () => {
    const bad = (from: string, to: string): string[] =>
      stopsOf(
        packed3mf(
          modelXml(
            `<object id="1">${meshXml(cube(1))}</object>`,
            '<item objectid="1" transform="1 0 0 0 1 0 0 0 1 0 0 0"/>',
          ).replace(from, to),
        ),
        'n.3mf',
      )
    expect(bad('x="0"', 'x="nan"')).toContain('not-a-number')
    expect(bad('x="0"', 'x=""')).toContain('not-a-number')
    expect(bad('v1="0"', 'v1="99"')).toContain('index-out-of-range')
    expect(bad('1 0 0 0 1 0 0 0 1 0 0 0', '1 0 0 0 1 0 0 0 1 0 0')).toContain('malformed')
    expect(bad('1 0 0 0 1 0 0 0 1 0 0 0', '1 0 0 0 1 0 0 0 0 0 0 0')).toContain('malformed')
    expect(bad('item objectid="1"', 'item objectid="5"')).toContain('malformed')
  })
})

describe('GLB', () => {
  const metres = (shape: Shape): Shape => mapped(shape, (x, y, z) => [x / 1000, y / 1000, z / 1000])

  test('nested nodes are placed, mirrored ones stay right way out', () => {
    const bytes = glb(metres(box(10, 10, 10)), (json) => {
      json.nodes = [
        { children: [1, 2], scale: [2, 2, 2] },
        { mesh: 0, translation: [0.02, 0, 0], rotation: [0, 0, Math.SQRT1_2, Math.SQRT1_2] },
        { mesh: 0, matrix: [-1, 0, 0, 0, 0, 1, 0, 0, 0, 0, 1, 0, -0.03, 0, 0, 1] },
      ]
    })
    const m = measureModel(bytes, 'n.glb')
    expect(m.problems).toEqual([])
    expect(m.volume_mm3).toBeCloseTo(16000, 1)
    // Turned a quarter about z the first cube spans x 10..20 before doubling; the mirror spans -40..-30.
    expect(m.bounds_mm?.max[0]).toBeCloseTo(40, 3)
    expect(m.bounds_mm?.min[0]).toBeCloseTo(-80, 3)
  })

  test('outside buffers, compression, cycles, bad offsets and indices are refused', () => {
    const bad = (change: (json: Record<string, unknown>) => void): string | undefined =>
      stopsOf(glb(metres(cube(10)), change), 'b.glb')[0]
    expect(stopsOf(files['outside-buffer.glb']!, 'o.glb')).toEqual(['refused'])
    expect(stopsOf(files['compressed.glb']!, 'c.glb')).toEqual(['not-read'])
    expect(
      bad((json) => {
        json.nodes = [{ children: [0] }]
      }),
    ).toBe('refused')
    expect(
      bad((json) => {
        json.nodes = [{ mesh: 4 }]
      }),
    ).toBe('malformed')
    expect(
      bad((json) => {
        json.bufferViews = [
          { buffer: 0, byteOffset: 9000, byteLength: 96 },
          { buffer: 0, byteLength: 144 },
        ]
      }),
    ).toBe('ends-early')
    expect(
      bad((json) => {
        ;(json.accessors as { count: number }[])[0]!.count = 4e9
      }),
    ).toBe('too-large')
    expect(
      bad((json) => {
        ;(json.accessors as { count: number }[])[0]!.count = 2
      }),
    ).toBe('index-out-of-range')
    expect(
      bad((json) => {
        json.nodes = [{ mesh: 0, matrix: [1, 2] }]
      }),
    ).toBe('malformed')
    expect(
      bad((json) => {
        json.nodes = [{ mesh: 0, skin: 0 }]
      }),
    ).toBe('not-read')
  })

  test('a file cut anywhere is refused', () => {
    const whole = glb(metres(cube(10)))
    for (let cut = 4; cut < whole.length; cut += 29)
      expect(stopsOf(whole.slice(0, cut), 'c.glb'), `cut at ${cut}`).toEqual(['ends-early'])
  })
})

describe('the format is told by contents before name', () => {
  test('a cube is read under a wrong or missing ending', () => {
    for (const name of ['cube.3mf', 'cube.glb', 'cube-little.ply', 'cube-text.stl'])
      if (files[name]) expect(volumeIn(files[name], 'thing.stl')).toBeCloseTo(1000, 6)
    expect(volumeIn(files['cube.obj']!, 'thing')).toBeCloseTo(1000, 9)
    expect(volumeIn(files['cube.stl']!, 'thing.dat')).toBeCloseTo(1000, 9)
  })

  test('unknown kinds are named', () => {
    expect(stopsOf(strToU8('ISO-10303-21;\nHEADER;\n'), 'part.step')).toEqual(['unknown-format'])
    expect(stopsOf(strToU8('{"asset":{"version":"2.0"}}'), 'part.gltf')).toEqual(['not-read'])
  })
})
