export const FROM = {
  'weighed-wax': 'weighed wax',
  mesh: 'model file',
  pattern: 'drawing',
  volume: 'entered volume',
} as const
