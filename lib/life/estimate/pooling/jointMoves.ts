/**
 * Moves of what groups share that carry the groups along. Moving the two in turn creeps, because a group sits where the
 * shared parameters put it and they sit where the groups are. Here a shared parameter takes a random step and every
 * group goes to where its own likelihood, taken as a normal for this purpose only, would have it under the new value:
 * same standardised distance from its conditional mean. Were the likelihoods normal, the step would be accepted by the
 * parameter's own marginal posterior, groups integrated out; where they are not, the acceptance ratio makes up for it.
 * (Deterministic proposals: Green 1995; partial non-centring: Papaspiliopoulos, Roberts & Sköld 2007; from memory.)
 */
import { floatAt, itemAt } from '../../../numeric/columns.js';
import { expectedLogScale, groupFit, logBell, type Step, type Walk } from './walk.js';

/** Share of proposals that should be taken along one line (Gelman, Roberts & Gilks 1996, from memory). */
const TAKEN = 0.44;

/** A step of a shared parameter: how to take it, how to take it back, and what it does to the log prior. */
interface SharedStep {
  apply(): void;
  undo(): void;
  /** Change of the log prior of the shared parameters; -Infinity where the step leads out of it. */
  priorChange: number;
}

/** A material or duty with every duty and group under it. */
export function carryLocation(walk: Walk, j: number): void {
  const { state } = walk;
  const { parent, centre } = itemAt(walk.layout.locations, j);
  const step = itemAt(walk.steps.locations, j);
  const change = proposal(walk, step);
  const place = state.locations[j] as number;
  const above = parent === null ? centre : (state.locations[parent] as number);
  const outside = parent === null && Math.abs(place + change - centre) > walk.priors.materialHalfWidth;
  const bell = (value: number): number => (parent === null ? 0 : logBell(value - above, state.betweenDuty));
  const shift = (by: number): void => {
    for (const i of [j, ...itemAt(walk.dutiesOf, j)])
      state.locations[i] = (state.locations[i] as number) + by;
  };
  carry(walk, itemAt(walk.groupsUnder, j), step, {
    apply: () => shift(change),
    undo: () => shift(-change),
    priorChange: outside ? Number.NEGATIVE_INFINITY : bell(place + change) - bell(place),
  });
}

/** The effect of size. */
export function carrySizeEffect(walk: Walk): void {
  const { state, priors } = walk;
  const before = state.size;
  const change = proposal(walk, walk.steps.size);
  carry(walk, walk.seen, walk.steps.size, {
    apply: () => {
      state.size = before + change;
    },
    undo: () => {
      state.size = before;
    },
    priorChange: logBell(before + change, priors.size) - logBell(before, priors.size),
  });
}

/**
 * The common shape, and with it every material and duty along the line that they keep to each other (`walk.withShape`,
 * learned in the burn-in): where lives end long before they would leak, a flatter shape means a longer scale everywhere.
 */
export function carryShapeCentre(walk: Walk): void {
  const { state } = walk;
  const [mean, sd] = walk.priors.shapeCentre;
  const before = state.shapeCentre;
  const change = proposal(walk, walk.steps.shapeCentre);
  const shift = (by: number): void => {
    for (let j = 0; j < state.locations.length; j++) {
      state.locations[j] = (state.locations[j] as number) + by * (walk.withShape[j] as number);
    }
  };
  const prior = logBell(before + change - mean, sd) - logBell(before - mean, sd);
  carry(walk, walk.seen, walk.steps.shapeCentre, {
    apply: () => {
      state.shapeCentre = before + change;
      shift(change);
    },
    undo: () => {
      state.shapeCentre = before;
      shift(-change);
    },
    priorChange: prior + placesPriorChange(walk, change),
  });
}

/** Change of the log prior of materials and duties when the common shape takes them along. */
function placesPriorChange({ state, layout, priors, withShape }: Walk, change: number): number {
  let total = 0;
  layout.locations.forEach(({ parent, centre }, j) => {
    const place = state.locations[j] as number;
    const after = place + change * (withShape[j] as number);
    if (parent === null) {
      if (Math.abs(after - centre) > priors.materialHalfWidth) total = Number.NEGATIVE_INFINITY;
      return;
    }
    const above = state.locations[parent] as number;
    const aboveAfter = above + change * (withShape[parent] as number);
    total += logBell(after - aboveAfter, state.betweenDuty) - logBell(place - above, state.betweenDuty);
  });
  return total;
}

/** The spread between groups on the scale axis. */
export function carryBetweenScale(walk: Walk): void {
  const { state } = walk;
  const before = state.betweenScale;
  const change = proposal(walk, walk.steps.spread);
  carry(walk, walk.seen, walk.steps.spread, {
    apply: () => {
      state.betweenScale = before * Math.exp(change);
    },
    undo: () => {
      state.betweenScale = before;
    },
    priorChange: spreadPrior(before, change, walk.priors.betweenScale),
  });
}

/** The spread between groups on the shape axis. */
export function carryBetweenShape(walk: Walk): void {
  const { state } = walk;
  const before = state.betweenShape;
  const change = proposal(walk, walk.steps.shapeSpread);
  carry(walk, walk.seen, walk.steps.shapeSpread, {
    apply: () => {
      state.betweenShape = before * Math.exp(change);
    },
    undo: () => {
      state.betweenShape = before;
    },
    priorChange: spreadPrior(before, change, walk.priors.betweenShape),
  });
}

/** The spread between duties: duties keep their standardised distance from their material. */
export function carryBetweenDuty(walk: Walk): void {
  const { state } = walk;
  const change = proposal(walk, walk.steps.dutySpread);
  const scaleBy = (factor: number): void => {
    for (const j of walk.duties) {
      const above = floatAt(state.locations, itemAt(walk.layout.locations, j).parent ?? j);
      state.locations[j] = above + factor * ((state.locations[j] as number) - above);
    }
    state.betweenDuty *= factor;
  };
  carry(walk, walk.seen, walk.steps.dutySpread, {
    apply: () => scaleBy(Math.exp(change)),
    undo: () => scaleBy(Math.exp(-change)),
    priorChange: spreadPrior(state.betweenDuty, change, walk.priors.betweenDuty),
  });
}

/** Change of the log prior of log(spread) under a half-normal prior of the spread. */
function spreadPrior(spread: number, change: number, prior: number): number {
  return change + logBell(spread * Math.exp(change), prior) - logBell(spread, prior);
}

function proposal(walk: Walk, step: Step): number {
  return Math.exp(step.logSize) * walk.random.normal();
}

/** Takes a step of a shared parameter with the groups listed, or leaves all as it was. */
function carry(walk: Walk, groups: readonly number[], step: Step, shared: SharedStep): void {
  const { state, tried } = walk;
  let change = shared.priorChange;
  if (change > Number.NEGATIVE_INFINITY) {
    change -= standardise(walk, groups);
    shared.apply();
    change += destandardise(walk, groups);
  }
  const taken = Math.log(walk.random.uniform()) < change;
  step.logSize += walk.gain * ((taken ? 1 : 0) - TAKEN);
  if (!taken) {
    if (shared.priorChange > Number.NEGATIVE_INFINITY) shared.undo();
    return;
  }
  for (const g of groups) {
    state.logScale[g] = tried.logScale[g] as number;
    state.logShape[g] = tried.logShape[g] as number;
    state.fit[g] = tried.fit[g] as number;
  }
}

/** A group's conditional normal given what is shared: mean, and the upper triangle of the root of its precision. */
interface Conditional {
  scaleMean: number;
  shapeMean: number;
  rootScale: number;
  rootCross: number;
  rootShape: number;
}

/** Writes each group's standardised distances; returns the groups' log density less the log volume of the map. */
function standardise(walk: Walk, groups: readonly number[]): number {
  const { state, tried, conditional } = walk;
  let total = 0;
  for (const g of groups) {
    setConditional(walk, g, conditional);
    const scale = (state.logScale[g] as number) - conditional.scaleMean;
    const shape = (state.logShape[g] as number) - conditional.shapeMean;
    tried.logScale[g] = conditional.rootScale * scale + conditional.rootCross * shape;
    tried.logShape[g] = conditional.rootShape * shape;
    total +=
      (state.fit[g] as number) + logPrior(walk, g, state.logScale[g] as number, state.logShape[g] as number);
    total -= Math.log(conditional.rootScale * conditional.rootShape);
  }
  return total;
}

/** Turns standardised distances into places under the shared parameters as they are now; returns as `standardise`. */
function destandardise(walk: Walk, groups: readonly number[]): number {
  const { tried, conditional } = walk;
  let total = 0;
  for (const g of groups) {
    setConditional(walk, g, conditional);
    const shape = (tried.logShape[g] as number) / conditional.rootShape;
    const scale = ((tried.logScale[g] as number) - conditional.rootCross * shape) / conditional.rootScale;
    const logScale = conditional.scaleMean + scale;
    const logShape = walk.freeShape ? conditional.shapeMean + shape : (walk.state.logShape[g] as number);
    const fit = groupFit(walk, g, logShape, logScale);
    tried.logScale[g] = logScale;
    tried.logShape[g] = logShape;
    tried.fit[g] = fit;
    total +=
      fit + logPrior(walk, g, logScale, logShape) - Math.log(conditional.rootScale * conditional.rootShape);
  }
  return total;
}

/** Log density of a group's place given what is shared. */
function logPrior(walk: Walk, g: number, logScale: number, logShape: number): number {
  const { state } = walk;
  const scale = logScale - expectedLogScale(walk, itemAt(walk.layout.groups, g));
  const onScale = logBell(scale, state.betweenScale) - Math.log(state.betweenScale);
  if (!walk.freeShape) return onScale;
  return onScale + logBell(logShape - state.shapeCentre, state.betweenShape) - Math.log(state.betweenShape);
}

/** Normal of a group given what is shared: its likelihood as `walk.normal` has it, times its prior. */
function setConditional(walk: Walk, g: number, out: Conditional): void {
  const { state, normal } = walk;
  const scalePrior = 1 / state.betweenScale ** 2;
  const shapePrior = walk.freeShape ? 1 / state.betweenShape ** 2 : 1;
  const cross = normal.cross[g] as number;
  out.rootScale = Math.sqrt((normal.scale[g] as number) + scalePrior);
  out.rootCross = cross / out.rootScale;
  out.rootShape = Math.sqrt((normal.shape[g] as number) + shapePrior - out.rootCross ** 2);
  const mean = expectedLogScale(walk, itemAt(walk.layout.groups, g));
  // Solve precision * means = pull by the two triangles.
  const scalePull = (normal.scalePull[g] as number) + scalePrior * mean;
  const shapePull = (normal.shapePull[g] as number) + shapePrior * state.shapeCentre;
  const first = scalePull / out.rootScale;
  out.shapeMean = (shapePull - out.rootCross * first) / out.rootShape ** 2;
  out.scaleMean = (first - out.rootCross * out.shapeMean) / out.rootScale;
}
