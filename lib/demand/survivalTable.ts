/**
 * One draw of a life model laid out over ages, so that the renewal path only adds and multiplies.
 * The readable line is S(t) = [1 - p Fe(t)] exp(-(t / scale)^shape) exp(-w t), w the rate of openings.
 */
import { at, columnOf, floatAt, itemAt } from '../numeric/columns.js';

/** A Weibull model with its fitting-fault part, share 0 where there is none. */
export interface PathModel {
  shape: number;
  scale: number;
  share: number;
  faultShape: number;
  faultScale: number;
}

/** Ages below so many steps are computed one by one: there the fault part bends too sharply to interpolate. */
export const YOUNG_STEPS = 5;
/** Nodes and weights of three-point Gauss-Legendre on (0, 1). */
const GAUSS = [
  [0.5 - Math.sqrt(0.15), 5 / 18],
  [0.5, 8 / 18],
  [0.5 + Math.sqrt(0.15), 5 / 18],
] as const;
/** Where the first step is cut to follow the steep start of the fault part. */
const FIRST_CUTS = [0, 1 / 64, 1 / 16, 1 / 4, 1];

export interface SurvivalTable {
  model: PathModel;
  /** Logarithms of the scales of the model: a power is then one exponential. */
  logScale: number;
  logFaultScale: number;
  /** Openings per day. */
  openings: number;
  stepDays: number;
  /** Survival without openings at age j steps. */
  survival: Float64Array;
  /** Mean over ages (j - 1, j) steps of survival with openings; element 0 is 1. */
  mean: Float64Array;
  /** What `mean` falls by from one step to the next. */
  drop: Float64Array;
  /** Integral from age 0 to j steps of survival with openings, days. */
  area: Float64Array;
  /** exp(-w j stepDays). */
  unopened: Float64Array;
}

/** Columns that do not depend on the draw, by age in steps: logarithm of the age, the fault part, exp(-w age). */
export interface AgeColumns {
  stepDays: number;
  /** Openings per day. */
  openings: number;
  logAge: Float64Array;
  fault: Float64Array;
  unopened: Float64Array;
  /** Nodes for the mean over steps whose ends do not tell enough: the young ones and the last. */
  nodes: { step: Int32Array; weight: Float64Array; logAge: Float64Array; fault: Float64Array };
}

export function ageColumns(
  stepDays: number,
  cells: number,
  faultShape: number,
  faultScale: number,
  openings: number,
): AgeColumns {
  const ages = Float64Array.from({ length: cells }, (_, j) => j * stepDays);
  const nodes = [...youngSteps(cells)].flatMap((j) => nodesOf(j, stepDays));
  const nodeAges = columnOf(nodes, ({ age }) => age);
  const faultBy = (age: number): number => -Math.expm1(-((age / faultScale) ** faultShape));
  return {
    stepDays,
    openings,
    logAge: ages.map(Math.log),
    fault: ages.map(faultBy),
    unopened: ages.map((age) => Math.exp(-openings * age)),
    nodes: {
      step: Int32Array.from(nodes, ({ step }) => step),
      weight: columnOf(nodes, ({ weight, age }) => weight * Math.exp(-openings * age)),
      logAge: nodeAges.map(Math.log),
      fault: nodeAges.map(faultBy),
    },
  };
}

/** Steps whose mean survival is summed from nodes. */
function youngSteps(cells: number): Set<number> {
  return new Set([
    ...Array.from({ length: Math.min(YOUNG_STEPS, cells - 1) }, (_, i) => i + 1),
    Math.max(cells - 1, 1),
  ]);
}

/** Gauss-Legendre nodes over step j of age; the first step is cut towards age 0. */
function nodesOf(step: number, stepDays: number): { step: number; age: number; weight: number }[] {
  const cuts = step === 1 ? FIRST_CUTS : [step - 1, step];
  return cuts.slice(1).flatMap((high, i) => {
    const low = itemAt(cuts, i);
    return GAUSS.map(([node, weight]) => ({
      step,
      age: (low + node * (high - low)) * stepDays,
      weight: weight * (high - low),
    }));
  });
}

/** Survival of one age, days, openings left out. */
export function survivalAt({ model, logScale, logFaultScale }: SurvivalTable, age: number): number {
  if (age <= 0) return 1;
  const logAge = Math.log(age);
  // (age / scale)^shape, and the same of the fault part.
  const wear = Math.exp(-Math.exp(model.shape * (logAge - logScale)));
  if (model.share === 0) return wear;
  return (1 + model.share * Math.expm1(-Math.exp(model.faultShape * (logAge - logFaultScale)))) * wear;
}

/** Logarithm of survival: finite where survival itself is too small for a number. */
export function logSurvivalAt(model: PathModel, age: number): number {
  if (age <= 0) return 0;
  const fault = model.share * Math.expm1(-((age / model.faultScale) ** model.faultShape));
  return Math.log1p(fault) - (age / model.scale) ** model.shape;
}

/** An empty table for a group, to be filled for each draw anew. */
export function emptyTable(columns: AgeColumns): SurvivalTable {
  const cells = columns.logAge.length;
  return {
    model: { shape: 1, scale: 1, share: 0, faultShape: 1, faultScale: 1 },
    logScale: 0,
    logFaultScale: 0,
    openings: columns.openings,
    stepDays: columns.stepDays,
    survival: new Float64Array(cells),
    mean: new Float64Array(cells),
    drop: new Float64Array(cells),
    area: new Float64Array(cells),
    unopened: columns.unopened,
  };
}

/** Fills a table for one draw of the model. */
export function fillTable(table: SurvivalTable, columns: AgeColumns, model: PathModel): void {
  table.model = model;
  const { survival } = table;
  const logScale = Math.log(model.scale);
  table.logScale = logScale;
  table.logFaultScale = Math.log(model.faultScale);
  for (let j = 0; j < survival.length; j++) {
    const wear = Math.exp(-Math.exp(model.shape * (floatAt(columns.logAge, j) - logScale)));
    survival[j] = (1 - model.share * floatAt(columns.fault, j)) * wear;
  }
  fillMeans(table);
  addNodes(table, columns, logScale);
  const { area, mean, drop, stepDays } = table;
  for (let j = 1; j < area.length; j++) {
    area[j] = floatAt(area, j - 1) + floatAt(mean, j) * stepDays;
    drop[j - 1] = floatAt(mean, j - 1) - floatAt(mean, j);
  }
}

/** Mean over each step of age by the four-point rule; steps that have nodes start at 0. */
function fillMeans({ survival: s, unopened: u, mean }: SurvivalTable): void {
  const end = mean.length - 1;
  mean.fill(0);
  mean[0] = 1;
  for (let j = YOUNG_STEPS + 1; j < end; j++) {
    const inner = floatAt(s, j - 1) * floatAt(u, j - 1) + floatAt(s, j) * floatAt(u, j);
    const outer = floatAt(s, j - 2) * floatAt(u, j - 2) + floatAt(s, j + 1) * floatAt(u, j + 1);
    mean[j] = (13 * inner - outer) / 24;
  }
}

function addNodes({ mean, model }: SurvivalTable, { nodes }: AgeColumns, logScale: number): void {
  for (let i = 0; i < nodes.step.length; i++) {
    const wear = Math.exp(-Math.exp(model.shape * (floatAt(nodes.logAge, i) - logScale)));
    const left = (1 - model.share * floatAt(nodes.fault, i)) * wear;
    const j = at(nodes.step, i);
    mean[j] = floatAt(mean, j) + floatAt(nodes.weight, i) * left;
  }
}

function gaussMean(table: SurvivalTable, low: number, high: number): number {
  let total = 0;
  for (const [node, weight] of GAUSS) {
    const age = low + node * (high - low);
    total += weight * survivalAt(table, age) * Math.exp(-table.openings * age);
  }
  return total;
}

/** Survival (openings left out) at an age given as whole steps i plus a share f of one, whose weights are given. */
export function survivalBetween(
  table: SurvivalTable,
  i: number,
  f: number,
  { a, b, c, d }: ReturnType<typeof interpolationWeights>,
): number {
  if (i < YOUNG_STEPS || i + 2 >= table.survival.length) {
    return survivalAt(table, (i + f) * table.stepDays);
  }
  const s = table.survival;
  return a * floatAt(s, i - 1) + b * floatAt(s, i) + c * floatAt(s, i + 1) + d * floatAt(s, i + 2);
}

/** Weights of the values at -1, 0, 1 and 2 for the cubic through them, at a share f of the way from 0 to 1. */
export function interpolationWeights(f: number): { a: number; b: number; c: number; d: number } {
  return {
    a: (-f * (f - 1) * (f - 2)) / 6,
    b: ((f + 1) * (f - 1) * (f - 2)) / 2,
    c: (-(f + 1) * f * (f - 2)) / 2,
    d: ((f + 1) * f * (f - 1)) / 6,
  };
}

/** Integral of survival with openings from age 0 to `age`, days: cubic through the ends of the step and their slopes. */
export function areaTo(table: SurvivalTable, age: number): number {
  if (age <= 0) return 0;
  const { stepDays, area } = table;
  const i = Math.min(Math.floor(age / stepDays), area.length - 2);
  const f = age / stepDays - i;
  if (f === 0) return floatAt(area, i);
  if (i < YOUNG_STEPS) {
    const mean = gaussMean(table, i * stepDays, age);
    return floatAt(area, i) + mean * (age - i * stepDays);
  }
  const low = floatAt(table.survival, i) * floatAt(table.unopened, i) * stepDays;
  const high = floatAt(table.survival, i + 1) * floatAt(table.unopened, i + 1) * stepDays;
  const rise = floatAt(area, i + 1) - floatAt(area, i);
  const square = 3 * rise - 2 * low - high;
  const cube = low + high - 2 * rise;
  return floatAt(area, i) + f * (low + f * (square + f * cube));
}
