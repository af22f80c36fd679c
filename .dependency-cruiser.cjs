// Which way things point. ARCHITECTURE.md says it in words; this fails the test when an import says otherwise.
const rooms = [
  'arrange',
  'charge',
  'finishing',
  'flask',
  'freezing',
  'heat',
  'investment',
  'ledger',
  'melt',
  'pattern',
  'price',
  'record',
  'spin',
  'tree',
]
const room = `(${rooms.join('|')})`
const test = '\\.test\\.tsx?$'

module.exports = {
  forbidden: [
    {
      name: 'no-cycles',
      comment: 'Two files that need each other are one idea or three.',
      severity: 'error',
      from: {},
      to: { circular: true, viaOnly: { dependencyTypesNot: ['type-only'] } },
    },
    {
      name: 'everything-is-found',
      severity: 'error',
      from: {},
      to: { couldNotResolve: true },
    },
    {
      name: 'engine-knows-no-face',
      comment: 'The engine is pure: faces, store and WebAssembly loaders are handed in or call it.',
      severity: 'error',
      from: { path: '^src/engine/', pathNot: test },
      to: { path: '^src/(server|web|cli|print|store|solver|solids|settle|pixels)/' },
    },
    {
      name: 'engine-knows-no-computer',
      comment: 'No Node API in the engine: it runs in a page as it does here.',
      severity: 'error',
      from: { path: '^src/engine/', pathNot: test },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'engine-uses-few-packages',
      comment:
        'Schemas, time zones, distributions, readers of model files and of paths, the cutting of lines where they meet, of faces into triangles, and outlines of grey pictures; nothing that draws or stores.',
      severity: 'error',
      from: { path: '^src/engine/', pathNot: test },
      to: {
        dependencyTypes: ['npm', 'npm-dev', 'npm-optional', 'npm-peer', 'npm-no-pkg', 'npm-unknown'],
        pathNot:
          'node_modules/(zod|luxon|@types/luxon|fflate|saxes|jsts|svgpath|clipper2-ts|earcut|d3-contour|@types/d3-contour)/',
      },
    },
    {
      name: 'rooms-do-not-import-one-another',
      comment: 'The plan hands a room’s answer to the next, so that each can be read and tested alone.',
      severity: 'error',
      from: { path: `^src/engine/${room}/`, pathNot: test },
      to: {
        path: '^src/engine/',
        pathNot: '^src/engine/(quantity|documents|materials|physics|piece|$1)/',
      },
    },
    {
      name: 'quantity-is-the-ground',
      severity: 'error',
      from: { path: '^src/engine/quantity/', pathNot: test },
      to: { path: '^src/', pathNot: '^src/engine/quantity/' },
    },
    {
      name: 'documents-know-quantities-only',
      severity: 'error',
      from: { path: '^src/engine/documents/', pathNot: test },
      to: { path: '^src/', pathNot: '^src/engine/(documents|quantity)/' },
    },
    {
      name: 'materials-know-documents-and-quantities',
      severity: 'error',
      from: { path: '^src/engine/materials/', pathNot: test },
      to: { path: '^src/', pathNot: '^src/engine/(materials|documents|quantity)/' },
    },
    {
      name: 'physics-knows-no-room',
      severity: 'error',
      from: { path: '^src/engine/physics/', pathNot: test },
      to: { path: '^src/', pathNot: '^src/engine/(physics|materials|documents|quantity)/' },
    },
    {
      name: 'piece-knows-no-room',
      severity: 'error',
      from: { path: '^src/engine/piece/', pathNot: test },
      to: { path: '^src/', pathNot: '^src/engine/(piece|physics|materials|documents|quantity)/' },
    },
    {
      name: 'page-knows-the-engine-only',
      comment: 'The page asks the server over HTTP and keeps no rule of the trade.',
      severity: 'error',
      from: { path: '^src/web/' },
      to: { path: '^src/(store|server|cli|print)/' },
    },
    {
      name: 'page-runs-in-a-browser',
      severity: 'error',
      from: { path: '^src/web/', pathNot: test },
      to: { dependencyTypes: ['core'] },
    },
    {
      name: 'store-knows-documents-only',
      comment: 'What is kept are documents; what they mean is the engine’s business.',
      severity: 'error',
      from: { path: '^src/store/', pathNot: `${test}|store-cases\\.ts$` },
      to: { path: '^src/', pathNot: '^src/(store|engine/documents)/' },
    },
    {
      name: 'faces-do-not-import-one-another',
      comment: 'Except that the command `open` starts the server.',
      severity: 'error',
      from: { path: '^src/(server|print)/', pathNot: test },
      to: { path: '^src/(web|cli)/' },
    },
    {
      name: 'tests-stay-out-of-the-program',
      severity: 'error',
      from: { path: '^src/', pathNot: `${test}|store-cases\\.ts$|-cases\\.ts$` },
      to: { path: '(\\.test\\.tsx?$|^(checks|bench|e2e|fixtures)/)' },
    },
  ],
  options: {
    doNotFollow: { path: 'node_modules' },
    tsPreCompilationDeps: true,
    tsConfig: { fileName: 'tsconfig.json' },
    enhancedResolveOptions: {
      exportsFields: ['exports'],
      conditionNames: ['import', 'node', 'default', 'types'],
      extensions: ['.ts', '.tsx', '.mjs', '.cjs', '.js', '.json'],
    },
  },
}
