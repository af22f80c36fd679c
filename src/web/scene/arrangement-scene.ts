import {
  BufferAttribute,
  BufferGeometry,
  Color,
  LineSegments,
  Matrix4,
  Mesh,
  OrthographicCamera,
  Raycaster,
  Scene,
  ShaderMaterial,
  Vector2,
  Vector3,
  Vector4,
  WebGLRenderer,
} from 'three'
import type { Point, Transform, TriangleMesh } from '../../engine/piece/mesh/index.ts'
import type { ReliefEdges } from './relief-edges.ts'
import { directionsOf, type View } from './view.ts'

export type Paint = 'wax' | 'metal' | 'base' | 'investment'

/** One solid of the picture. */
export interface ScenePart {
  readonly id: string
  readonly mesh: TriangleMesh
  readonly edges: ReliefEdges
  readonly motion: Transform
  readonly paint: Paint
  readonly mark?: 'chosen' | 'near'
  /** balls kept clear of sprues, in the part's own mm */
  readonly clear?: readonly { readonly at: Point; readonly radius: number }[]
  /** cut through the axis, so that one looks into it */
  readonly cut?: boolean
  /** whether it may be picked */
  readonly picked?: boolean
}

export interface SceneLook {
  readonly view: View
  /** screen pixels to the millimetre */
  readonly scale: number
  readonly middle: Point
  readonly reach: number
}

/** As many as a pour may hold for a piece; any card that draws this has room for 224 such values. */
const MOST_BALLS = 200

const SURFACE_VERTEX = /* glsl */ `
varying vec3 place;
varying vec3 own;
void main() {
  own = position;
  vec4 stands = modelMatrix * vec4(position, 1.0);
  place = stands.xyz;
  gl_Position = projectionMatrix * viewMatrix * stands;
}`

// three flat tones by the way a face looks. What is cut open shows its far side from within: painted flat, that
// is the cut itself. Places kept clear are hatched as well as toned, since colour alone says nothing to some.
const SURFACE_FRAGMENT = /* glsl */ `
uniform vec3 toward;
uniform vec3 light;
uniform vec3 up;
uniform vec3 middle;
uniform vec3 away;
uniform vec3 ink;
uniform vec3 level;
uniform float cut;
uniform float pixel;
uniform vec4 balls[${MOST_BALLS}];
varying vec3 place;
varying vec3 own;
void main() {
  if (cut > 0.5 && dot(place, level) > 0.0) discard;
  vec3 normal = normalize(cross(dFdx(place), dFdy(place)));
  if (dot(normal, toward) < 0.0) normal = -normal;
  float lit = dot(normal, light);
  vec3 tone = lit > 0.82 ? up : lit > 0.42 ? middle : away;
  if (cut > 0.5 && !gl_FrontFacing) {
    tone = up;
    vec2 dots = mod(gl_FragCoord.xy + vec2(4.5 * pixel * floor(gl_FragCoord.y / (9.0 * pixel))), 9.0 * pixel);
    if (length(dots - 4.5 * pixel) < 0.8 * pixel) tone = mix(up, ink, 0.6);
  }
  for (int k = 0; k < ${MOST_BALLS}; k++) {
    if (balls[k].w <= 0.0) break;
    if (distance(own, balls[k].xyz) >= balls[k].w) continue;
    float rise = mod(gl_FragCoord.x + gl_FragCoord.y, 7.0 * pixel);
    tone = rise < 1.6 * pixel ? ink : mix(tone, ink, 0.16);
    break;
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
varying vec3 place;
void main() {
  mat3 turn = mat3(modelMatrix);
  float a = dot(turn * one, toward);
  float b = dot(turn * other, toward);
  bool outline = a * b <= 0.0 && (crease > 0.5 || (outlineOnly < 0.5 && abs(a - b) > 0.015));
  bool shown = outline || (outlineOnly < 0.5 && crease > 0.5 && max(a, b) > 0.0);
  vec4 stands = modelMatrix * vec4(position, 1.0);
  place = stands.xyz;
  gl_Position = projectionMatrix * viewMatrix * stands;
  gl_Position.xy += shift * gl_Position.w;
  gl_Position.z -= nearer * gl_Position.w;
  if (!shown) gl_Position = vec4(2.0, 2.0, 2.0, 1.0);
}`

const LINE_FRAGMENT = /* glsl */ `
uniform vec3 ink;
uniform vec3 level;
uniform float cut;
varying vec3 place;
void main() {
  if (cut > 0.5 && dot(place, level) > 0.0) discard;
  gl_FragColor = vec4(ink, 1.0);
  #include <colorspace_fragment>
}`

const TOKENS: Readonly<Record<Paint, { up: string; middle: string; away: string; line: string }>> = {
  wax: { up: '--wax-t', middle: '--wax-s', away: '--wax-d', line: '--wax' },
  metal: { up: '--metal-t', middle: '--metal-s', away: '--line', line: '--metal' },
  base: { up: '--base', middle: '--base', away: '--line', line: '--ink' },
  investment: { up: '--sheet', middle: '--ground', away: '--hair', line: '--line' },
}
const MARKS = { chosen: '--pencil', near: '--alert' } as const

const NEARER_MM = 0.06
/** A chosen or faulty part's outline is drawn again a pixel each way, so that it is heavier. */
const SHIFTS = [
  [0, 0],
  [1, 0],
  [0, 1],
  [-1, 0],
  [0, -1],
] as const

interface Made {
  part: ScenePart
  readonly surface: ShaderMaterial
  readonly body: Mesh
  readonly lines: readonly LineSegments[]
  readonly strokes: readonly ShaderMaterial[]
}

const colour = (): { value: Color } => ({ value: new Color() })

const matrixOf = (m: Transform): Matrix4 => {
  const at = (k: number): number => m[k] ?? 0
  return new Matrix4().set(
    at(0),
    at(3),
    at(6),
    at(9),
    at(1),
    at(4),
    at(7),
    at(10),
    at(2),
    at(5),
    at(8),
    at(11),
    0,
    0,
    0,
    1,
  )
}

/** Waxes, sprues, base and mould drawn by the graphics card: flat tones and outlines, no gloss. */
export class ArrangementScene {
  readonly #renderer: WebGLRenderer
  readonly #scene = new Scene()
  readonly #camera = new OrthographicCamera()
  readonly #ray = new Raycaster()
  readonly #toward = { value: new Vector3() }
  readonly #level = { value: new Vector3() }
  readonly #light = { value: new Vector3(0, 0, 1) }
  readonly #nearer = { value: 0 }
  readonly #pixel = { value: 1 }
  readonly #made = new Map<string, Made>()

  /** @throws where the page can draw no 3D */
  constructor(canvas: HTMLCanvasElement) {
    this.#renderer = new WebGLRenderer({ canvas, antialias: true, alpha: true })
  }

  setParts(parts: readonly ScenePart[]): void {
    const wanted = new Set(parts.map(({ id }) => id))
    for (const [id, made] of this.#made) if (!wanted.has(id)) this.#drop(id, made)
    for (const part of parts) {
      let made = this.#made.get(part.id)
      if (made !== undefined && made.part.mesh !== part.mesh) {
        this.#drop(part.id, made)
        made = undefined
      }
      made ??= this.#make(part)
      made.part = part
      const matrix = matrixOf(part.motion)
      for (const object of [made.body, ...made.lines]) {
        object.matrix.copy(matrix)
        object.matrixWorldNeedsUpdate = true
      }
      const { balls } = made.surface.uniforms as { balls: { value: Vector4[] } }
      balls.value.forEach((ball, k) => {
        const clear = part.clear?.[k]
        if (clear === undefined) ball.set(0, 0, 0, 0)
        else ball.set(...clear.at, clear.radius)
      })
      for (const line of made.lines.slice(2)) line.visible = part.mark !== undefined
    }
  }

  #make(part: ScenePart): Made {
    const cut = { value: part.cut === true ? 1 : 0 }
    const shared = { toward: this.#toward, level: this.#level, cut }
    const ink = colour()
    const surface = new ShaderMaterial({
      vertexShader: SURFACE_VERTEX,
      fragmentShader: SURFACE_FRAGMENT,
      side: 2,
      polygonOffset: true,
      polygonOffsetFactor: 1,
      polygonOffsetUnits: 1,
      uniforms: {
        ...shared,
        light: this.#light,
        pixel: this.#pixel,
        up: colour(),
        middle: colour(),
        away: colour(),
        ink,
        balls: { value: Array.from({ length: MOST_BALLS }, () => new Vector4()) },
      },
    })
    const geometry = new BufferGeometry()
    geometry.setAttribute('position', new BufferAttribute(Float32Array.from(part.mesh.positions), 3))
    geometry.setIndex(new BufferAttribute(part.mesh.corners, 1))
    const body = new Mesh(geometry, surface)
    const edges = new BufferGeometry()
    edges.setAttribute('position', new BufferAttribute(part.edges.ends, 3))
    edges.setAttribute('one', new BufferAttribute(part.edges.one, 3))
    edges.setAttribute('other', new BufferAttribute(part.edges.other, 3))
    edges.setAttribute('crease', new BufferAttribute(part.edges.crease, 1))
    const strokes = SHIFTS.map(
      (_, index) =>
        new ShaderMaterial({
          vertexShader: LINE_VERTEX,
          fragmentShader: LINE_FRAGMENT,
          uniforms: {
            ...shared,
            shift: { value: new Vector2() },
            outlineOnly: { value: index === 0 ? 0 : 1 },
            nearer: this.#nearer,
            ink,
          },
        }),
    )
    const lines = strokes.map((stroke) => new LineSegments(edges, stroke))
    for (const object of [body, ...lines]) {
      object.frustumCulled = false
      object.matrixAutoUpdate = false
      this.#scene.add(object)
    }
    const made: Made = { part, surface, body, lines, strokes }
    this.#made.set(part.id, made)
    return made
  }

  #drop(id: string, made: Made): void {
    this.#scene.remove(made.body, ...made.lines)
    made.body.geometry.dispose()
    made.lines[0]?.geometry.dispose()
    made.surface.dispose()
    for (const stroke of made.strokes) stroke.dispose()
    this.#made.delete(id)
  }

  draw(look: SceneLook, width: number, height: number, ratio: number): void {
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
    this.#camera.updateMatrixWorld()
    this.#renderer.setPixelRatio(ratio)
    this.#renderer.setSize(width, height, false)
    this.#toward.value.set(...toward)
    const flat = Math.hypot(toward[0], toward[1]) || 1
    // from straight above, the near half is the one towards the foot of the picture
    if (flat < 1e-3) this.#level.value.set(down[0], down[1], 0)
    else this.#level.value.set(toward[0] / flat, toward[1] / flat, 0)
    this.#light.value.set(-0.35 * right[0] - 0.25 * down[0], -0.35 * right[1] - 0.25 * down[1], 1).normalize()
    this.#pixel.value = ratio
    const tokens = getComputedStyle(document.documentElement)
    const read = (token: string): string => tokens.getPropertyValue(token).trim() || '#777'
    for (const { part, surface, strokes } of this.#made.values()) {
      const names = TOKENS[part.paint]
      const { up, middle, away, ink } = surface.uniforms as Record<string, { value: Color }>
      up?.value.setStyle(read(names.up))
      middle?.value.setStyle(read(names.middle))
      away?.value.setStyle(read(names.away))
      ink?.value.setStyle(read(part.mark === undefined ? names.line : MARKS[part.mark]))
      strokes.forEach((stroke, index) => {
        const [across, downward] = SHIFTS[index] ?? [0, 0]
        const { shift } = stroke.uniforms as { shift: { value: Vector2 } }
        shift.value.set(
          (2 * across) / width / Math.max(1, ratio),
          (2 * downward) / height / Math.max(1, ratio),
        )
      })
    }
    this.#renderer.render(this.#scene, this.#camera)
  }

  /** What lies under a spot, -1 to 1 across and up: its id and the place in its own mm. */
  pick(across: number, up: number, only?: string): { readonly id: string; readonly at: Point } | undefined {
    this.#ray.setFromCamera(new Vector2(across, up), this.#camera)
    const bodies = [...this.#made.values()]
      .filter(({ part }) => (only === undefined ? part.picked === true : part.id === only))
      .map(({ body }) => body)
    const [hit] = this.#ray.intersectObjects(bodies, false)
    if (hit === undefined) return undefined
    const found = [...this.#made.values()].find(({ body }) => body === hit.object)
    if (found === undefined) return undefined
    const { x, y, z } = found.body.worldToLocal(hit.point.clone())
    return { id: found.part.id, at: [x, y, z] }
  }

  dispose(): void {
    for (const [id, made] of this.#made) this.#drop(id, made)
    this.#renderer.dispose()
  }
}
