import type { SlowWork } from '../settle/index.ts'

/** What reads drawings and models, fetched when a sheet or a template is first asked for. */
export const drawingLoaders = async (): Promise<
  Pick<SlowWork, 'loadSolids' | 'loadReliefSolids' | 'decodePicture'>
> => {
  const [{ loadSolids }, { loadReliefSolids }, { decodePicture }] = await Promise.all([
    import('../solids/manifold.ts'),
    import('../solids/relief-solids.ts'),
    import('../pixels/index.ts'),
  ])
  return { loadSolids: () => loadSolids(), loadReliefSolids: () => loadReliefSolids(), decodePicture }
}
