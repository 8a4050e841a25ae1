/** Leaks of a plant that come again. */
export { findRecurrence } from './findRecurrence.js';
export type { LeakCurve, LineLeaks, RateTrend, Recurrence, RenewalFinding, WatchedLeaks } from './types.js';
