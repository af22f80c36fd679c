import {
  BufferAttribute,
  BufferGeometry,
  Color,
  DataTexture,
  DataUtils,
  DoubleSide,
  HalfFloatType,
  LinearFilter,
  LineSegments,
  Mesh,
  OrthographicCamera,
  RedFormat,
  Scene,
  ShaderMaterial,
  Vector2,
  Vector3,
  WebGLRenderer,
} from 'three'
import type { TriangleMesh } from '../../engine/piece/mesh/index.ts'
import type { ReliefEdges } from './relief-edges.ts'
import { directionsOf, type View } from './view.ts'
import type { WallMap } from './wall-map.ts'

/** What a reader sees of a relief: how it is turned, how large, and in what. */
export interface ReliefLook {
  readonly view: View
  /** screen pixels to the millimetre */
  readonly scale: number
  /** place at the middle of the picture, mm */
  readonly middle: readonly [number, number, number]
  /** nothing of the relief lies farther from the middle than this, mm */
  readonly reach: number
  readonly material: 'wax' | 'metal'
  /** what looks up and lies below this is ground, and darker, mm */
  readonly groundTop: number
  readonly walls: boolean
}

const SURFACE_VERTEX = /* glsl */ `
varying vec3 place;
void main() {
  place = position;
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
}`

// three flat tones by the way a face looks: up, towards the light, away from it. Thin and thick walls are
// hatched as well as toned, since colour alone says nothing to some readers.
const SURFACE_FRAGMENT = /* glsl */ `
uniform vec3 toward;
uniform vec3 light;
uniform vec3 up;
uniform vec3 middle;
uniform vec3 away;
uniform vec3 ink;
uniform vec2 limits;
uniform float walls;
uniform float pixel;
uniform float groundTop;
uniform sampler2D wallMap;
uniform vec2 mapFrom;
uniform vec2 mapSpan;
varying vec3 place;
void main() {
  vec3 normal = normalize(cross(dFdx(place), dFdy(place)));
  if (dot(normal, toward) < 0.0) normal = -normal;
  float lit = dot(normal, light);
  vec3 tone = lit > 0.82 ? up : lit > 0.42 ? middle : away;
  if (normal.z > 0.97 && place.z < groundTop) tone = middle;
  if (walls > 0.5) {
    float wallHere = texture2D(wallMap, (place.xy - mapFrom) / mapSpan).r;
    float thin = 1.0 - step(limits.x, wallHere);
    float thick = step(limits.y, wallHere);
    float shade = clamp(wallHere / limits.y, 0.0, 1.0);
    tone = mix(up, away, shade);
    float rise = mod(gl_FragCoord.x + gl_FragCoord.y, 7.0 * pixel);
    float fall = mod(gl_FragCoord.x - gl_FragCoord.y, 7.0 * pixel);
    float ring = abs(fract(wallHere * 2.0) - 0.5) / max(fwidth(wallHere * 2.0), 1e-4);
    if (ring < 0.6 * pixel) tone = mix(tone, ink, 0.4);
    if (thin > 0.5 && rise < 1.6 * pixel) tone = ink;
    if (thick > 0.5 && (rise < 1.4 * pixel || fall < 1.4 * pixel)) tone = ink;
  }
  gl_FragColor = vec4(tone, 1.0);
  #include <colorspace_fragment>
}`

const LINE_VERTEX = /* glsl */ `
attribute vec3 one;
attribute vec3 other;
attribute float crease;
uniform vec3 toward;
uniform vec2 shift;
uniform float outlineOnly;
uniform float nearer;
void main() {
  float a = dot(one, toward);
  float b = dot(other, toward);
  // where a smooth face just grazes the way one looks, its outline would be a row of specks
  bool outline = a * b <= 0.0 && (crease > 0.5 || (outlineOnly < 0.5 && abs(a - b) > 0.015));
  bool shown = outline || (outlineOnly < 0.5 && crease > 0.5 && max(a, b) > 0.0);
  gl_Position = projectionMatrix * modelViewMatrix * vec4(position, 1.0);
  gl_Position.xy += shift * gl_Position.w;
  gl_Position.z -= nearer * gl_Position.w;
  if (!shown) gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
}`

const LINE_FRAGMENT = /* glsl */ `
uniform vec3 ink;
void main() {
  gl_FragColor = vec4(ink, 1.0);
  #include <colorspace_fragment>
}`

const TOKENS = {
  wax: { up: '--wax-t', middle: '--wax-s', away: '--wax-d', line: '--wax' },
  metal: { up: '--metal-t', middle: '--metal-s', away: '--line', line: '--metal' },
} as const

/** Lines lie this much nearer the reader than the faces they belong to, mm. */
const NEARER_MM = 0.06

const colour = (): { value: Color } => ({ value: new Color() })

interface LineUniforms {
  readonly toward: { readonly value: Vector3 }
  readonly shift: { readonly value: Vector2 }
  readonly outlineOnly: { value: number }
  readonly nearer: { value: number }
  readonly ink: { readonly value: Color }
}

/** The relief drawn by the graphics card, or by the processor in its place: flat tones and outlines, no gloss. */
export class ReliefScene {
  readonly #renderer: WebGLRenderer
  readonly #scene = new Scene()
  readonly #camera = new OrthographicCamera()
  readonly #toward = { value: new Vector3() }
  readonly #nearer = { value: 0 }
  readonly #paints = {
    light: { value: new Vector3(0, 0, 1) },
    limits: { value: new Vector2(0, 1e6) },
    walls: { value: 0 },
    pixel: { value: 1 },
    groundTop: { value: 0 },
    wallMap: { value: null as DataTexture | null },
    mapFrom: { value: new Vector2() },
    mapSpan: { value: new Vector2(1, 1) },
    up: colour(),
    middle: colour(),
    away: colour(),
    ink: colour(),
  }
  readonly #surface: ShaderMaterial
  readonly #strokes: readonly LineUniforms[]
  readonly #lines: readonly ShaderMaterial[]
  #body: Mesh | undefined
  #wallMap: DataTexture | undefined
  #outlines: readonly LineSegments[] = []

  /** @throws where the page can draw no 3D */
  constructor(canvas: HTMLCanvasElement) {
    this.#renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true })
    this.#surface = new ShaderMaterial({
      vertexShader: SURFACE_VERTEX,
      fragmentShader: SURFACE_FRAGMENT,
      side: DoubleSide,
      polygonOffset: true,
      polygonOffsetFactor: 1,
      polygonOffsetUnits: 1,
      uniforms: { toward: this.#toward, ...this.#paints },
    })
    this.#strokes = [0, 1, 2].map((index) => ({
      toward: this.#toward,
      shift: { value: new Vector2() },
      outlineOnly: { value: index === 0 ? 0 : 1 },
      nearer: this.#nearer,
      ink: this.#paints.ink,
    }))
    this.#lines = this.#strokes.map(
      (uniforms) =>
        new ShaderMaterial({
          vertexShader: LINE_VERTEX,
          fragmentShader: LINE_FRAGMENT,
          uniforms: { ...uniforms },
        }),
    )
  }

  setMesh(mesh: TriangleMesh, { ends, one, other, crease }: ReliefEdges): void {
    this.#clear()
    const geometry = new BufferGeometry()
    geometry.setAttribute('position', new BufferAttribute(Float32Array.from(mesh.positions), 3))
    geometry.setIndex(new BufferAttribute(mesh.corners, 1))
    this.#body = new Mesh(geometry, this.#surface)
    this.#body.frustumCulled = false
    const edges = new BufferGeometry()
    edges.setAttribute('position', new BufferAttribute(ends, 3))
    edges.setAttribute('one', new BufferAttribute(one, 3))
    edges.setAttribute('other', new BufferAttribute(other, 3))
    edges.setAttribute('crease', new BufferAttribute(crease, 1))
    this.#outlines = this.#lines.map((material) => {
      const lines = new LineSegments(edges, material)
      lines.frustumCulled = false
      return lines
    })
    this.#scene.add(this.#body, ...this.#outlines)
  }

  setWalls(walls: WallMap | undefined): void {
    this.#wallMap?.dispose()
    this.#wallMap = undefined
    this.#paints.wallMap.value = null
    if (walls === undefined) return
    const { across, up, values, from, span, thin_mm, thick_mm } = walls
    const halves = Uint16Array.from(values, (value) => DataUtils.toHalfFloat(value))
    const map = new DataTexture(halves, across, up, RedFormat, HalfFloatType)
    map.magFilter = LinearFilter
    map.minFilter = LinearFilter
    map.needsUpdate = true
    this.#wallMap = map
    this.#paints.wallMap.value = map
    this.#paints.mapFrom.value.set(...from)
    this.#paints.mapSpan.value.set(...span)
    this.#paints.limits.value.set(thin_mm, Math.min(thick_mm, 1e4))
  }

  draw(look: ReliefLook, width: number, height: number, ratio: number): void {
    const { right, down, toward } = directionsOf(look.view)
    const [x, y, z] = look.middle
    const half = [width / 2 / look.scale, height / 2 / look.scale] as const
    const { reach } = look
    Object.assign(this.#camera, { left: -half[0], right: half[0], top: half[1], bottom: -half[1] })
    Object.assign(this.#camera, { near: 0, far: 2 * reach })
    this.#nearer.value = NEARER_MM / reach
    this.#camera.position.set(x + toward[0] * reach, y + toward[1] * reach, z + toward[2] * reach)
    this.#camera.up.set(-down[0], -down[1], -down[2])
    this.#camera.lookAt(x, y, z)
    this.#camera.updateProjectionMatrix()
    this.#renderer.setPixelRatio(ratio)
    this.#renderer.setSize(width, height, false)

    const tokens = getComputedStyle(document.documentElement)
    const names = TOKENS[look.material]
    const paint = (which: 'up' | 'middle' | 'away' | 'ink', token: string): void => {
      this.#paints[which].value.setStyle(tokens.getPropertyValue(token).trim() || '#777')
    }
    this.#toward.value.set(...toward)
    this.#paints.light.value
      .set(-0.35 * right[0] - 0.25 * down[0], -0.35 * right[1] - 0.25 * down[1], 1)
      .normalize()
    this.#paints.walls.value = look.walls ? 1 : 0
    this.#paints.pixel.value = ratio
    this.#paints.groundTop.value = look.groundTop
    paint('up', names.up)
    paint('middle', names.middle)
    paint('away', names.away)
    paint('ink', names.line)
    // an outline is twice as wide as an inner edge: it is drawn again a pixel across and a pixel down
    const shifts = [
      [0, 0],
      [1 / width, 0],
      [0, 1 / height],
    ] as const
    this.#strokes.forEach(({ shift }, index) => {
      const [across, downward] = shifts[index] ?? [0, 0]
      shift.value.set(across, downward)
    })
    this.#renderer.render(this.#scene, this.#camera)
  }

  #clear(): void {
    if (this.#body !== undefined) this.#scene.remove(this.#body, ...this.#outlines)
    this.#body?.geometry.dispose()
    this.#outlines[0]?.geometry.dispose()
  }

  dispose(): void {
    this.#clear()
    this.#wallMap?.dispose()
    this.#surface.dispose()
    for (const material of this.#lines) material.dispose()
    this.#renderer.dispose()
  }
}
