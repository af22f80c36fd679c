/** The schemas alone, so that they load after the first view. */
export { calipersSchema, pourSchema } from '../../engine/documents/pour.ts'
export { shopSchema } from '../../engine/documents/shop.ts'
