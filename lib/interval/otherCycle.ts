/** Cycles of one known life model that is not a plain Weibull (see cycle.ts for what a cycle holds). */
import { hazard, logSurvival, meanLife, quantile } from '../life/distribution/index.js';
import type { LifeModel } from '../life/model.js';
import { floatAt } from '../numeric/columns.js';
import { gaussLegendre, integrateByRule } from '../numeric/quadrature.js';
import { type Cycle, type CycleParts, lowerIndex } from './cycle.js';

const FIRST_SHARE = 1e-13;
const LAST_SHARE = 1e-12;
/** Ages go down from the first that matters by this much on the log axis, for very dear leaks. */
const HEAD = 5;
const RULE = gaussLegendre(10);

/** Uptime by panels in log age; the last age is Infinity, where uptime is the mean life (or ends by openings). */
export function otherCycle(model: LifeModel, openingsPerDay: number): Cycle {
  const alive = (age: number): number =>
    age === Infinity ? 0 : Math.exp(logSurvival(model, age) - openingsPerDay * age);
  const piece = (from: number, to: number): number =>
    integrateByRule((x) => Math.exp(x) * alive(Math.exp(x)), Math.log(from), Math.log(to), RULE);
  const ages = otherAges(model, openingsPerDay);
  const uptime = Float64Array.from(ages);
  for (let i = 1; i < ages.length - 1; i++)
    uptime[i] = floatAt(uptime, i - 1) + piece(floatAt(ages, i - 1), floatAt(ages, i));
  const last = ages.length - 1;
  uptime[last] = openingsPerDay > 0 ? floatAt(uptime, last - 1) : meanLife(model);

  const parts = (age: number, up: number): CycleParts => ({
    age,
    survival: Float64Array.of(alive(age)),
    uptime: Float64Array.of(up),
    early: new Float64Array(1),
    openingsPerDay,
  });
  const partsAt = (age: number): CycleParts => {
    const below = lowerIndex(ages, age);
    if (below < 0) return parts(age, age);
    return parts(
      age,
      below === last ? floatAt(uptime, last) : floatAt(uptime, below) + piece(floatAt(ages, below), age),
    );
  };
  return {
    count: 1,
    openingsPerDay,
    tolerance: 1e-14,
    ages,
    onGrid: (i) => parts(floatAt(ages, i), floatAt(uptime, i)),
    partsAt,
    leakRatesAt: (age) => ({ early: new Float64Array(1), wear: Float64Array.of(hazard(model, age)) }),
  };
}

function otherAges(model: LifeModel, openingsPerDay: number): Float64Array {
  const step = Math.min(0.25, 0.3 * spreadOf(model));
  const first = Math.log(firstAge(model)) - HEAD;
  const worn = Math.log(quantile(model, 1 - LAST_SHARE));
  const end = openingsPerDay > 0 ? Math.min(worn, Math.log(40 / openingsPerDay)) : worn;
  const panels = Math.max(1, Math.ceil((end - first) / step));
  const even = Array.from({ length: panels + 1 }, (_, i) => Math.exp(first + ((end - first) * i) / panels));
  const bends = agesAfterFree(model).filter((age) => age > Math.exp(first) && age < Math.exp(end));
  const ages = bends.length === 0 ? even : [...new Set([...even, ...bends])].sort((a, b) => a - b);
  return Float64Array.from([...ages, Infinity]);
}

/** Standard deviation of log age, roughly. */
function spreadOf(model: LifeModel): number {
  if (model.kind === 'lognormal') return model.sigma;
  if (model.kind === 'loglogistic') return 1 / model.shape;
  // What is made of several laws bends as sharply as the sharpest of them.
  if (model.kind === 'mixture') return Math.min(...model.parts.map((part) => spreadOf(part.model)));
  if (model.kind === 'competing') return Math.min(...model.modes.map(spreadOf));
  const [early, late] = [quantile(model, 0.25), quantile(model, 0.75)];
  return early > 0 ? Math.log(late / early) / 1.4 : 1;
}

/** Where some fail at once, or a tiny share at no age that a number can show, an age that is nothing beside the mean life. */
function firstAge(model: LifeModel): number {
  const nothing = 1e-16 * meanLife(model);
  return Math.max(quantile(model, FIRST_SHARE), Number.isFinite(nothing) ? nothing : Number.MIN_VALUE);
}

/** Survival bends where a failure-free time ends: ages that crowd there from above, even on the log axis of the time since. */
function agesAfterFree(model: LifeModel): number[] {
  if (model.kind !== 'weibull' || !model.failureFree) return [];
  const { failureFree, ...wear } = model;
  const [first, last] = [quantile(wear, FIRST_SHARE), quantile(wear, 1 - LAST_SHARE)];
  const panels = Math.ceil(Math.log(last / first) / Math.min(0.25, 0.3 / model.shape));
  const since = Array.from({ length: panels + 1 }, (_, i) => first * (last / first) ** (i / panels));
  return [failureFree, ...since.map((age) => failureFree + age)];
}
