export {
  type BoundedQuantity,
  type BoundsMethod,
  type BoundsOptions,
  type LifeBounds,
  lifeBounds,
} from './bounds.js';
export { type ChiSquareOptions, exponentialBounds, type FixedShapeBounds } from './boundsChiSquare.js';
export type { RedrawOptions } from './redraw.js';
