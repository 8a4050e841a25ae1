/** Refuses a fleet's problem that makes no sense: each fault by its rule and the value received. */
import { UsageError } from '../../errors.js';
import type { FleetOptions, FleetPosition, FleetProblem, FleetWindow } from './types.js';

/** More windows of one line than this are not planned at once. */
export const MOST_WINDOWS = 104;

const WHERE = 'optimiseShutdowns';

export function checkProblem(problem: FleetProblem, options: FleetOptions): void {
  const { today, windows, lines, positions } = problem;
  if (!Number.isFinite(today)) refuse('today must be a day.', today);
  distinct(
    'windows',
    windows.map(({ name }) => name),
  );
  distinct(
    'lines',
    lines.map(({ line }) => line),
  );
  distinct(
    'positions',
    positions.map(({ position }) => position),
  );
  for (const window of windows) checkWindow(window, today);
  checkLines(problem);
  const known = new Set(lines.map(({ line }) => line));
  for (const position of positions) checkPosition(position, known);
  checkStock(problem);
  checkDemands(problem);
  checkOptions(options);
}

function refuse(rule: string, received: unknown): never {
  throw new UsageError(WHERE, rule, received);
}

function amount(name: string, value: number): void {
  if (!(value >= 0 && value < Infinity)) refuse(`${name} must be a number of at least 0.`, value);
}

function limit(name: string, value: number | null | undefined): void {
  if (value !== null && value !== undefined) amount(name, value);
}

function distinct(what: string, names: readonly string[]): void {
  const seen = new Set<string>();
  for (const name of names) {
    if (seen.has(name)) refuse(`${what} must have different names.`, name);
    seen.add(name);
  }
}

function checkWindow(window: FleetWindow, today: number): void {
  if (!(window.day > today && window.day < Infinity)) {
    refuse(`window "${window.name}" must be after today: leave out windows that are past.`, window.day);
  }
  limit(`crewHours of window "${window.name}"`, window.crewHours);
  limit(`fitterHours of window "${window.name}"`, window.fitterHours);
  limit(`instrumentHours of window "${window.name}"`, window.instrumentHours);
  limit(`lines of window "${window.name}"`, window.lines);
  limit(`replacements of window "${window.name}"`, window.replacements);
}

function checkLines({ windows, lines }: FleetProblem): void {
  const dayOf = new Map(windows.map(({ name, day }) => [name, day]));
  for (const { line, windows: own, later } of lines) {
    if (own.length > MOST_WINDOWS) {
      refuse(
        `line "${line}" may have up to ${MOST_WINDOWS} known windows; give further ones as later.`,
        own.length,
      );
    }
    const days = new Set<number>();
    let last = -Infinity;
    for (const { window, stopCost } of own) {
      const day = dayOf.get(window);
      if (day === undefined) refuse(`a window of line "${line}" must be among the windows.`, window);
      if (days.has(day)) refuse(`line "${line}" has two windows on one day; give one of them.`, window);
      days.add(day);
      last = Math.max(last, day);
      amount(`stopCost of line "${line}" at "${window}"`, stopCost);
    }
    for (const { day } of later) {
      if (!(day > last && day < Infinity))
        refuse(`later windows of line "${line}" must follow its known ones.`, day);
      if (days.has(day)) refuse(`line "${line}" has two windows on one day; give one of them.`, day);
      days.add(day);
    }
  }
}

function checkPosition(position: FleetPosition, lines: ReadonlySet<string>): void {
  const of = `of position "${position.position}"`;
  if (!lines.has(position.line)) refuse(`the line ${of} must be among the lines.`, position.line);
  amount(`replacementCost ${of}`, position.replacementCost);
  amount(`stopShare ${of}`, position.stopShare);
  amount(`fitterHours ${of}`, position.fitterHours);
  amount(`instrumentHours ${of}`, position.instrumentHours);
  amount(`unmetWeight ${of}`, position.unmetWeight ?? 1);
  for (const { leakCost, openingCost = 0, openingsPerYear = 0 } of [position.now, position.next]) {
    amount(`leakCost ${of}`, leakCost);
    amount(`openingCost ${of}`, openingCost);
    amount(`openingsPerYear ${of}`, openingsPerYear);
  }
  for (const { age, chance } of position.ages) {
    amount(`an age ${of}`, age);
    amount(`the chance of an age ${of}`, chance);
  }
  const total = position.ages.reduce((sum, { chance }) => sum + chance, 0);
  if (!(total > 0)) refuse(`ages ${of} must hold one with a chance above 0.`, total);
  if (position.latestAge !== null && !(position.latestAge > 0))
    refuse(`latestAge ${of} must be above 0.`, position.latestAge);
  if (position.until !== null && Number.isNaN(position.until))
    refuse(`until ${of} must be a day.`, position.until);
}

function checkStock({ stock = [], windows }: FleetProblem): void {
  distinct(
    'items in stock',
    stock.map(({ item }) => item),
  );
  const known = new Set(windows.map(({ name }) => name));
  for (const { item, ready } of stock) {
    for (const { window, pieces } of ready) {
      if (!known.has(window)) refuse(`a window of item "${item}" must be among the windows.`, window);
      amount(`pieces of item "${item}" at "${window}"`, pieces);
    }
  }
}

function checkDemands({ must = [], frozen = [], positions, lines }: FleetProblem): void {
  const lineOf = new Map(positions.map(({ position, line }) => [position, line]));
  const windowsOf = new Map(
    lines.map(({ line, windows }) => [line, new Set(windows.map(({ window }) => window))]),
  );
  for (const each of [...must, ...frozen]) {
    const line = 'line' in each ? each.line : lineOf.get(each.position);
    if (line === undefined)
      refuse('must and frozen must name a position of the fleet.', JSON.stringify(each));
    if (windowsOf.get(line)?.has(each.window) !== true) {
      refuse(`must and frozen must name a window of line "${line}".`, each.window);
    }
  }
}

function checkOptions({ rounds, gap, unmetCost }: FleetOptions): void {
  if (rounds !== undefined && !(Number.isInteger(rounds) && rounds >= 1))
    refuse('rounds must be a whole number of at least 1.', rounds);
  limit('gap', gap);
  limit('unmetCost', unmetCost);
}
