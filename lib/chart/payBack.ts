/** Savings of the years ahead added up: when the proposal has paid for itself. */

import { at } from '../numeric/columns.js';
import type { PayBack } from '../yearly/outlookTypes.js';
import type { CostComparison } from '../yearly/types.js';
import { countAxis, fine, spanTicks } from './axes.js';
import { framed, leftFor } from './frame.js';
import { diamonds, label, layer, onScale } from './marks.js';
import { moneyWords } from './money.js';
import { AXIS, COLUMN } from './texts.js';
import { COLOUR } from './theme.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { amount, chanceWords, range } from './words.js';

const HEIGHT = 200;
const LEFT = 66;
const RIGHT = 92;

export function payBackChart(cost: CostComparison, currency: string): Chart {
  const { payBack } = cost.outlook;
  const money = moneyWords(cost);
  const title = `Saving added up, ${rateWords(payBack)}`;
  const finding = payBackWords(cost, currency);
  const list = payBack.years.map(
    ({ year, cumulated, low, high }) => `year ${year} ${money(cumulated)} (${range(low, high, money)})`,
  );
  const description = `${finding}. Saving added up to the end of each year, ${currency}: ${list.join(', ')}. Band: 5 % to 95 %.`;
  return {
    ...framed('pay-back', {
      title,
      finding,
      description,
      unit: AXIS.moneySavedSinceToday(currency),
      across: AXIS.yearsFromNow,
      height: HEIGHT,
      left: leftFor(ticksOf(payBack), LEFT),
      right: RIGHT,
      layers: layersOf(payBack, money),
    }),
    table: {
      columns: [
        COLUMN.year,
        `Saving of the year, ${currency}`,
        COLUMN.discounted,
        COLUMN.addedUp,
        COLUMN.low5Percent,
        COLUMN.high95Percent,
      ],
      rows: payBack.years.map(({ year, saving, discounted, cumulated, low, high }) => [
        year,
        ...[saving, discounted, cumulated, low, high].map(money),
      ]),
    },
    leftOut: null,
  };
}

function rateWords({ discountRate }: PayBack): string {
  return discountRate === 0 ? 'not discounted' : `discounted by ${amount(discountRate * 100, 3)} % a year`;
}

/** "Pays back in year 3 (year 1 to 4, chance ...); 210 000 EUR after 5 years (...)". */
export function payBackWords(cost: CostComparison, currency: string): string {
  const { verdict, year, range: years, chance, years: rows } = cost.outlook.payBack;
  const money = moneyWords(cost);
  const last = rows[rows.length - 1];
  if (last === undefined || verdict === 'nothing changes')
    return 'Nothing changes, so nothing is to be paid back';
  const after = `${money(last.cumulated)} ${currency} after ${rows.length} years (${range(last.low, last.high, money)})`;
  const within = `chance ${chanceWords(chance)} within ${rows.length} years`;
  if (verdict === 'at once') {
    return years[1] === 1
      ? `Pays from the first year on; ${after}`
      : `Pays from the first year on (${within}); ${after}`;
  }
  if (verdict === 'never within the horizon')
    return `On average does not pay back within ${rows.length} years (chance that it does: ${chanceWords(chance)}); ${after}`;
  const to = years[1] === null ? `later than year ${rows.length}` : `year ${years[1]}`;
  return `Paid back by the end of year ${year} (range: year ${years[0] ?? rows.length} to ${to}; ${within}); ${after}`;
}

function ticksOf({ years }: Pick<PayBack, 'years'>): number[] {
  const ends = years.flatMap(({ low, cumulated, high }) => [fine(low), fine(cumulated), fine(high)]);
  const [lowest, highest] = [Math.min(0, ...ends), Math.max(0, ...ends)];
  return spanTicks(lowest, highest === lowest ? lowest + 1 : highest, 4);
}

function layersOf({ years }: PayBack, money: (value: number) => string): Layer[] {
  const rows = [
    { year: 0, value: 0, low: 0, high: 0 },
    ...years.map(({ year, cumulated, low, high }) => ({
      year,
      value: fine(cumulated),
      low: fine(low),
      high: fine(high),
    })),
  ];
  const ticks = ticksOf({ years });
  const last = Math.max(1, rows.length - 1);
  const scaleX = { domain: [0, last], nice: false, zero: false };
  const scaleY = { domain: [at(ticks, 0), at(ticks, ticks.length - 1)], nice: false, zero: false };
  const x = onScale('year', scaleX);
  const y = (field: string) => onScale(field, scaleY);
  const values = Array.from({ length: last + 1 }, (_, i) => i).filter((year) => last <= 12 || year % 2 === 0);
  const end = rows[rows.length - 1] ?? { year: 0, value: 0 };
  return [
    layer({ type: 'rule', opacity: 0 }, [{ year: 0, value: 0 }], {
      x: { field: 'year', type: 'quantitative', scale: scaleX, axis: { values, grid: false, format: 'd' } },
      y: { field: 'value', type: 'quantitative', scale: scaleY, axis: countAxis(ticks) },
    }),
    layer({ type: 'area', color: COLOUR.band, opacity: 0.85 }, rows, {
      x,
      y: y('low'),
      y2: { field: 'high' },
    }),
    layer({ type: 'rule', color: COLOUR.ink, strokeWidth: 1, opacity: 1 }, [{ value: 0 }], { y: y('value') }),
    layer({ type: 'line', strokeWidth: 2, color: COLOUR.rust, opacity: 1 }, rows, { x, y: y('value') }),
    tipped(
      diamonds(rows.slice(1), { x, y: y('value') }, 60),
      years.map(
        ({ year, cumulated, low, high }) => `year ${year}: ${money(cumulated)} (${range(low, high, money)})`,
      ),
    ),
    label(
      [{ year: end.year, value: end.value, label: money(end.value) }],
      { x, y: y('value') },
      { dx: 10, bold: true, color: COLOUR.rust },
    ),
  ];
}
