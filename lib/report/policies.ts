/** The advised interval of each group beside other policies. */

import { amount, count, range, spanWords } from '../chart/words.js';
import type { IntervalAdvice, PolicyFigures } from '../interval/types.js';
import type { Plan } from '../planTypes.js';
import { dataTable, folded, type Html, html, prose } from './markup.js';
import { COLUMN, SENTENCE } from './texts.js';

const MOST_ROWS = 100;
const COLUMNS: readonly { policy: PolicyFigures['policy']; title: string }[] = [
  { policy: 'advised', title: COLUMN.advised },
  { policy: 'today', title: COLUMN.today },
  { policy: 'run', title: COLUMN.runUntilItLeaks },
  { policy: 'block', title: COLUMN.onFixedDates },
  { policy: 'best block', title: COLUMN.bestFixedDates },
];

/** A folded table: what each policy costs, leaks and uses. Null where no group has prices and positions. */
export function policiesPart({ intervals, site }: Plan): Html | null {
  const compared = intervals.filter(
    ({ policies, keptFor }) => policies.length > 0 && keptFor !== 'no prices',
  );
  if (compared.length === 0) return null;
  const shown = compared.slice(0, MOST_ROWS);
  const rest = compared.length > shown.length ? ` (first ${shown.length} of ${compared.length})` : '';
  const table = dataTable({
    caption: `Cost in ${site.currency} per position and year, with the 5 % to 95 % range; below it leaks and diaphragms fitted per position and year${rest}`,
    columns: [{ title: COLUMN.group }, ...COLUMNS.map(({ title }) => ({ title }))],
    rows: shown.map((each) => [prose(each.group), ...COLUMNS.map(({ policy }) => cell(each, policy))]),
    cards: true,
  });
  return folded(
    html`<b>Other policies beside the advised one</b>: running until it leaks, and fixed dates`,
    html`<p>${prose(`“On fixed dates” takes the advised interval, but replaces all positions of a group on one day, whatever their age, and each that leaks at once. It needs no list of ages, and it also replaces diaphragms that were fitted shortly before. ${extraWords(compared)}`)}</p>
<p class="small">${SENTENCE.policyThatCheaperHereNoAdvice}</p>${table}`,
    'see plan.json',
  );
}

/** What fixed dates cost over replacing at an age, at one interval. */
function extraWords(compared: readonly IntervalAdvice[]): string {
  const extras = compared.flatMap(({ policies }) => {
    const [advised, block] = [figuresOf(policies, 'advised'), figuresOf(policies, 'block')];
    if (advised === undefined || block === undefined || !(advised.costPerYear > 0)) return [];
    return [block.costPerYear / advised.costPerYear - 1];
  });
  if (extras.length === 0) return '';
  const [least, most] = [Math.min(...extras), Math.max(...extras)];
  return `At the advised interval fixed dates cost ${moreWords(least, most)} than going by age (${count(extras.length, 'group')}).`;
}

/** "1.1 % to 13 % more"; beyond its best interval a block can be the cheaper: "from 2 % less to 13 % more". */
function moreWords(least: number, most: number): string {
  const words = (share: number): string => `${amount(100 * Math.abs(share), 2)} %`;
  if (least >= 0) return `${range(least, most, words)} more`;
  return most <= 0
    ? `${range(-most, -least, words)} less`
    : `from ${words(least)} less to ${words(most)} more`;
}

function figuresOf(
  policies: readonly PolicyFigures[],
  policy: PolicyFigures['policy'],
): PolicyFigures | undefined {
  return policies.find((each) => each.policy === policy);
}

function cell({ policies }: IntervalAdvice, policy: PolicyFigures['policy']): Html | string {
  const figures = figuresOf(policies, policy);
  if (figures === undefined) return policy === 'best block' ? 'none found' : 'no interval';
  const { days, costPerYear, costRange, leaksPerYear, replacementsPerYear } = figures;
  const when = policy === 'run' ? null : html`<span class="small">${whenWords(policy, days)}</span><br>`;
  return html`<div class="wide">${when}<b class="day">${amount(costPerYear, 3)}</b> <span class="small">(${range(...costRange, (cost) => amount(cost, 2))})</span><br><span class="small">${amount(leaksPerYear, 2)} leaks, ${amount(replacementsPerYear, 2)} fitted</span></div>`;
}

function whenWords(policy: PolicyFigures['policy'], days: number | null): string {
  if (days !== null) return spanWords(days);
  return policy === 'advised' ? 'run until it leaks' : 'no schedule';
}
