/**
 * Moves of what groups share that carry the groups along. Moving the two in turn creeps, because a group sits where the
 * shared parameters put it and they sit where the groups are. Here a shared parameter takes a random step and every
 * group goes to where its own likelihood, taken as a normal for this purpose only, would have it under the new value:
 * same standardised distance from its conditional mean. Were the likelihoods normal, the step would be accepted by the
 * parameter's own marginal posterior, groups integrated out; where they are not, the acceptance ratio makes up for it.
 * (Deterministic proposals: Green 1995; partial non-centring: Papaspiliopoulos, Roberts & Sköld 2007; from memory.)
 */
import { floatAt, itemAt } from '../../../numeric/columns.js';
import { carry, carryAlong } from './carry.js';
import { logBell, type Step, type Walk } from './walk.js';

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
  carryAlong(walk, itemAt(walk.groupsUnder, j), step, {
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
  carryAlong(walk, walk.seen, walk.steps.size, {
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
  carryAlong(walk, walk.seen, walk.steps.shapeCentre, {
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
