export const FROM = { 'weighed-wax': 'weighed wax', mesh: 'model file', volume: 'entered volume' } as const
