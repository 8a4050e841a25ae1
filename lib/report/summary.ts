/** What the command prints: the plan on one screen or two, in plain words. */

import { moneyWords } from '../chart/money.js';
import {
  amount,
  count,
  dateWords,
  hoursText,
  percent,
  pieces,
  plainName,
  spanWords,
} from '../chart/words.js';
import type { Problem } from '../findings.js';
import { isKept, kindOf } from '../interval/adviceKind.js';
import { shortfallWords } from '../interval/shortfall.js';
import type { IntervalAdvice } from '../interval/types.js';
import { inLocale } from '../numeric/locale.js';
import { fixed } from '../numeric/words.js';
import type { GroupResult, Plan } from '../planTypes.js';
import { orderTotals } from '../stock/totals.js';
import type { StockAdvice, StockOrder } from '../stock/types.js';
import type { YearlyCost } from '../yearly/types.js';
import { rulesLine } from './cleaningRules.js';
import { orderRows } from './csv.js';
import { gapText, isTold } from './optimum.js';
import { totalWords } from './orders.js';
import { outlookSentence } from './outlook.js';
import { more, table, WIDTH, wrapped } from './plainText.js';
import { problemKinds } from './records.js';
import { recordsSentence, savingSentence } from './saving.js';
import { stockSection } from './stockSummary.js';

const MOST_ROWS = 40;
const MOST_ORDERS = 15;
const MOST_PROBLEM_KINDS = 8;

/** The summary of a plan; `folder` is where its files were written. */
export function summaryText(plan: Plan, folder: string): string {
  return inLocale(plan.site.locale, () => textOf(plan, folder));
}

function textOf(plan: Plan, folder: string): string {
  const sections = [
    heading(plan),
    readSection(plan),
    groupSection(plan),
    intervalSection(plan),
    shutdownSection(plan),
    orderSection(plan),
    stockSection(plan),
    costSection(plan),
    silenceSection(plan),
    [
      `Written to ${folder}: report.html (open it first), change-sheets.html (for approval), pick-lists.html (to print),`,
      'intervals.csv, shutdown-plan.csv, pick-lists.csv, due-dates.csv, stand-outs.csv, order-list.csv, kits.csv, stock.csv,',
      'stock-buy-next.csv, demand.csv, wear.csv, recurrence.csv, plan.json.',
      '',
      ...wrapped(plan.caution),
    ],
  ];
  return `${sections
    .filter((lines) => lines.length > 0)
    .map((lines) => lines.join('\n'))
    .join('\n\n')}\n`;
}

function heading({ site, version, seed, inputsHash }: Plan): string[] {
  return [
    `${plainName(site.name)}: diaphragm plan from data until ${dateWords(site.dataUntil)}`,
    `weirwise ${version}, seed ${seed}, inputs ${inputsHash.slice(0, 12)}`,
  ];
}

function readSection({ findings }: Plan): string[] {
  const { rowsIn, rowsUsed, rowsSetAside, livesBuilt } = findings;
  const lines = [
    `READ  ${count(rowsIn, 'row')} = ${amount(rowsUsed, 9)} used + ${amount(rowsSetAside, 9)} set aside`,
  ];
  for (const file of findings.files) {
    lines.push(
      `  ${file.file.padEnd(15)} ${amount(file.rowsIn, 9)} = ${amount(file.rowsUsed, 9)} + ${amount(file.rowsSetAside, 9)}`,
    );
  }
  if (livesBuilt > 0) {
    lines.push(
      `  ${count(livesBuilt, 'running life', 'running lives')} built from the last removal of the position`,
    );
  }
  const rules = rulesLine(findings.rules);
  if (rules !== null) lines.push(...wrapped(rules, '  ', '    '));
  const kinds = problemKinds(findings.problems);
  for (const { first, number } of kinds.slice(0, MOST_PROBLEM_KINDS)) {
    lines.push(...wrapped(`${number} x ${exampleOf(first)} ${first.todo}`, '  ', '    '));
  }
  if (kinds.length > MOST_PROBLEM_KINDS) {
    lines.push(
      `  and ${count(kinds.length - MOST_PROBLEM_KINDS, 'more kind', 'more kinds')} of problem: see findings in plan.json`,
    );
  }
  return lines;
}

function exampleOf(problem: Problem): string {
  const place = [
    problem.file,
    problem.row === null ? '' : `row ${problem.row}`,
    problem.column === null ? '' : problem.column,
    problem.value === null ? '' : `"${plainName(problem.value).slice(0, 40)}"`,
  ].filter((part) => part !== '');
  return `${problem.done}, for example ${place.join(', ')}: ${plainName(problem.text)}`;
}

function groupSection({ groups }: Plan): string[] {
  if (groups.length === 0) return ['LIVES  no group could be formed: see the findings'];
  const level = Math.round((groups[0]?.level ?? 0.9) * 100);
  const rows = groups.slice(0, MOST_ROWS).map(groupRow);
  return [
    `LIVES  Weibull wear-out as planned on (own data and groups alike), ${level} % bounds`,
    ...table(['group', 'lives', 'leaks', 'shape', 'scale, days', '10 % leaked, days', 'borrowed'], rows),
    ...more(groups.length - rows.length, 'group'),
  ];
}

function groupRow(group: GroupResult): string[] {
  const { shape, scale, b10 } = group.planned;
  return [
    plainName(group.group),
    String(group.lives),
    amount(group.failures, 3),
    `${fixed(shape.median, 1)} (${fixed(shape.low, 1)} to ${fixed(shape.high, 1)})`,
    `${amount(scale.median, 3)} (${amount(scale.low, 3)} to ${amount(scale.high, 3)})`,
    amount(b10.median, 2),
    group.materialWearLeaks < 1 ? 'assumed' : percent(group.borrowed),
  ];
}

function intervalSection({ intervals, site }: Plan): string[] {
  if (intervals.length === 0) return [];
  const shown = intervals.slice(0, MOST_ROWS);
  const lines = [`INTERVALS  today -> proposed, cost in ${site.currency} per position and year`];
  for (const interval of shown) {
    if (kindOf(interval) === 'unused') {
      lines.push(`  ${plainName(interval.group)}: no position uses it now`);
      continue;
    }
    const cost = `${amount(interval.costPerYearToday)} -> ${amount(interval.costPerYear)}`;
    lines.push(
      `  ${plainName(interval.group)}: ${spanWords(interval.today)} -> ${answerOf(interval)}, ${cost}`,
    );
    lines.push(...reasonLines(interval));
  }
  return [...lines, ...more(intervals.length - shown.length, 'group')];
}

/** Why, whole where something changes; a kept interval has one line here and its whole reason in the report. */
function reasonLines(interval: IntervalAdvice): string[] {
  const { because, inShort } = interval;
  if (!isKept(interval)) return wrapped(because, '      ', '      ');
  const line = `      because ${plainName(inShort)}`;
  return [line.length > WIDTH ? `${line.slice(0, WIDTH - 3)}...` : line];
}

function answerOf(interval: IntervalAdvice): string {
  const { action, months, days, direction } = interval;
  if (action === 'run') return 'run until it leaks';
  const span = months === null ? spanWords(days) : count(months, 'month');
  return isKept(interval) ? `keep ${span}` : `${span} (${direction})`;
}

function shutdownSection({ shutdowns, shutdownPlan, backlog, optimum }: Plan): string[] {
  if (shutdowns.length === 0) return [];
  const rows = shutdowns
    .slice(0, 8)
    .map((load) => [
      plainName(load.shutdown),
      dateWords(load.start),
      String(load.replacements),
      hoursText(load.hoursPlanned),
      load.crewHours === null ? 'no limit' : hoursText(load.crewHours),
      String(load.doNotFit),
      hoursText(load.hoursNeeded - load.hoursPlanned),
      hoursText(load.hoursAfterStartUp),
    ]);
  const short = shortfallWords(shutdownPlan);
  const gone =
    backlog.goneAfter === null
      ? 'not gone within this calendar'
      : `gone after ${plainName(backlog.goneAfter)}`;
  return [
    `SHUTDOWNS  ${count(backlog.overdueNow, 'position')} past the interval today${backlog.overdueNow > 0 ? `, ${gone}` : ''}`,
    ...table(
      ['shutdown', 'start', 'replace', 'hours', 'crew hours', 'do not fit', 'their hours', 'after start-up'],
      rows,
    ),
    ...(short === null ? [] : wrapped(`Do not fit: ${plainName(short)}.`, '  ', '  ')),
    ...more(shutdowns.length - rows.length, 'shutdown'),
    ...(optimum === null
      ? []
      : wrapped(
          isTold(optimum)
            ? `Within ${gapText(optimum)} of the best possible within these hours and intervals.`
            : `How near this is to the best possible cannot be told: another list could save ${gapText(optimum)} at most.`,
          '  ',
          '  ',
        )),
  ];
}

function orderSection({ stock, site }: Plan): string[] {
  if (stock.length === 0) return ['ORDERS  no items.csv: nothing can be said about orders'];
  const orders = orderRows(stock);
  const chased = stock.flatMap(({ item, chase }) =>
    chase === null ? [] : wrapped(`${plainName(item)}: ${plainName(chase.action)}`, '  ', '      '),
  );
  const chase = chased.length === 0 ? [] : ['CHASE  orders placed and overdue', ...chased, ''];
  if (orders.length === 0) return [...chase, 'ORDERS  nothing to order within the horizon'];
  const shown = orders.slice(0, MOST_ORDERS);
  const { now, next12Months } = orderTotals(stock, site.dataUntil);
  return [
    ...chase,
    `ORDERS  first ${shown.length} of ${orders.length}`,
    `  to place now: ${totalWords(now, site.currency)}`,
    `  within 12 months: ${totalWords(next12Months, site.currency)}`,
    ...shown.flatMap(({ item, order }) => wrapped(orderLine(item, order, site), '  ', '      ')),
    ...more(orders.length - shown.length, 'order', ' (order-list.csv)'),
  ];
}

function orderLine(item: StockAdvice, order: StockOrder, { currency, dataUntil }: Plan['site']): string {
  const what = `${amount(order.quantity, 9)} x ${plainName(item.item)} (${plainName(item.material)} DN ${item.size})`;
  const value = order.value === null ? '' : `, ${amount(Math.round(order.value), 9)} ${currency}`;
  const mind = order.warnings.map(({ text, todo }) => ` ${text} ${todo}`).join('');
  const day = order.orderBy <= dataUntil ? 'now' : `by ${dateWords(order.orderBy)}`;
  const when = `${day}: ${what}${value}, for ${plainName(order.for)}`;
  return `${when}${hurryWords(order, currency)}.${plainName(mind) === '' ? '' : ` ${plainName(mind)}`}`;
}

function hurryWords({ hurry, dueBy }: StockOrder, currency: string): string {
  if (hurry === null) return '';
  const cost = hurry.extraCost === null ? '' : `, ${amount(hurry.extraCost, 6)} ${currency} extra`;
  const short =
    hurry.shortOnDay === 0 ? '' : `; it comes ${dateWords(dueBy)} at the earliest, ${hurry.shortOnDay} short`;
  return `, too late for the usual lead time: hurry it (${count(hurry.days, 'day')}${cost}${short})`;
}

function costSection({ cost, site }: Plan): string[] {
  const { today, proposed } = cost;
  const money = moneyWords(cost);
  const columns: [string, (of: YearlyCost) => string][] = [
    ['cash: parts', (of) => money(of.parts)],
    ['cash: labour', (of) => money(of.labour)],
    ['planned stops with re-sterilising', (of) => money(of.plannedStop)],
    ['leaks, on average: downtime and clean-up', (of) => money(of.leakDowntime)],
    ['leaks, on average: lost batches', (of) => money(of.lostBatches)],
    ['per year, long run', (of) => `${money(of.perYear)} (${money(of.low)} to ${money(of.high)})`],
    ['first year', (of) => `${money(of.firstYear)} (${of.firstYearRange.map(money).join(' to ')})`],
    ['diaphragms fitted a year, long run', (of) => pieces(of.replacementsPerYear)],
    ['leaks a year, long run', (of) => pieces(of.leaksPerYear)],
  ];
  const rows = columns.map(([name, value]) => [name, value(today), value(proposed)]);
  return [
    `COST  ${site.currency} per year, ${plainName(cost.covers)}; ranges are 5 % to 95 % of life models and prices`,
    ...table(['', 'today', 'proposed'], rows),
    ...wrapped(
      `${savingSentence(cost, site.currency)} ${outlookSentence(cost, site.currency)}`.trim(),
      '  ',
      '  ',
    ),
    ...wrapped(recordedText(cost, site.currency), '  ', '  '),
  ];
}

function recordedText(cost: Plan['cost'], currency: string): string {
  const { recordedLeaksPerYear } = cost;
  if (recordedLeaksPerYear.length === 0) return 'No leak is on record.';
  const years = recordedLeaksPerYear.map(({ year, leaks, coveredShare }) =>
    coveredShare < 0.999 ? `${year} ${leaks} (${percent(coveredShare)} of the year)` : `${year} ${leaks}`,
  );
  return `Leaks on record by name: ${years.join(', ')}. ${recordsSentence(cost, currency) ?? ''}`.trim();
}

function silenceSection({ assumed, switchedOff, warnings, notes }: Plan): string[] {
  const lines = [
    ...switchedOff,
    ...assumed,
    ...warnings.map((warning) => `${warning.text} ${warning.todo}`),
    ...notes,
  ];
  if (lines.length === 0) return [];
  return ['KEEP IN MIND', ...lines.flatMap((line) => wrapped(plainName(line), '  - ', '    '))];
}
