/** The planner's section on money in stock, and the picture in it. */
import { describe, expect, it } from 'vitest';
import { stockMoneyCurve } from '../../lib/chart/index.js';
import { csvFiles } from '../../lib/report/csv.js';
import { figures } from '../../lib/report/figure.js';
import { stockMoneyCharts, stockMoneyPart } from '../../lib/report/stockMoney.js';
import type { StockMoney } from '../../lib/stock/money/types.js';
import { ordinaryPlan } from '../fixtures/plan.js';
import { stockMoneyByHand } from '../fixtures/stockMoney.js';

function page(change: Partial<StockMoney> = {}): string {
  const plan = { ...ordinaryPlan(), stockMoney: { ...stockMoneyByHand(), ...change } };
  const markup = stockMoneyPart(plan, figures())?.markup ?? '';
  return markup.replace(/<[^>]+>/g, ' ').replace(/[\s\u00a0]+/g, ' ');
}

describe('money in stock on the page', () => {
  it('says what the best mix saves where there is no budget, and how to give one', () => {
    const text = page();
    expect(text).toContain(
      'for 1 200 EUR less, each item at its own target, with smaller orders placed more often',
    );
    expect(text).toContain('Give targets.stock_budget in site.json');
    expect(text).toMatch(/PT-40 4 360 1.5 240 360 yes/);
    expect(text).toMatch(/EP-25 10 400 under 0.01 200 000 760 no/);
    expect(text).toContain(
      'A tenth more money, 190 EUR, would serve 0.11 more leaks a year at best: PT-40 6 to 8.',
    );
  });
  it('says what a budget does, what it does not reach, and what is over it', () => {
    expect(page({ budget: 2000 })).toContain(
      "Today's stock ties up 400 EUR more than the budget".replace("'", '&#39;'),
    );
    expect(page({ budget: 3000 })).toContain('leaves 600 EUR of it');
    expect(page({ budget: 300 })).toContain(
      'does not reach the targets of items of high criticality or safety, which take 400 EUR',
    );
  });
  it('crosses classes, and shows levels at several stores where there are any', () => {
    expect(page()).toMatch(/A, high 1 item: EP-25 3 200 1 200, 560 97 % every month order by date/);
    expect(page()).not.toContain('Central store and local stores');
    const text = page({
      twoLevel: [
        {
          item: 'EP-25',
          central: 2,
          stores: [{ store: 'Hall A', positions: 12, level: 1, served: 0.97 }],
          pieces: 3,
          money: 120,
          served: 0.97,
          servedTwoMoment: 0.968,
          target: 0.95,
          piecesInOneStore: 2,
        },
      ],
    });
    expect(text).toMatch(/EP-25 2 Hall A 1 \(97 %\) 3 120 97 % \(95 %\) 2/);
  });
  it('is left out where there is no items.csv or no leak to serve', () => {
    const plan = ordinaryPlan();
    expect(stockMoneyPart({ ...plan, stockMoney: null }, figures())).toBeNull();
    expect(stockMoneyCharts({ ...plan, stockMoney: { ...stockMoneyByHand(), leaksPerYear: 0 } })).toEqual([]);
    expect(
      csvFiles({ ...plan, stockMoney: null })
        ['stock-buy-next.csv'].trim()
        .split('\n'),
    ).toHaveLength(1);
  });
});

describe('the curve of money in stock', () => {
  const chart = stockMoneyCurve(stockMoneyByHand(), 'EUR');
  const plain = (text: string): string => text.replace(/\u00a0/g, ' ');
  it('says the finding with money and shares, and what is left out', () => {
    expect(plain(chart.finding)).toBe(
      'Best mix: 1 900 EUR, 97 % of leaks served at once; as advised 3 100 EUR, 97 % of leaks served at once; today 2 400 EUR, 85 % of leaks served at once',
    );
    expect(plain(chart.description)).toContain('best 0.4 (0.32 to 0.52)');
    expect(plain(chart.description)).toContain('90 % for 1 400 and 95 % for 1 900');
    expect(chart.leftOut).toBe('Left out: VM-15 (no price in items.csv).');
  });
  it('lists all stocks and the steps of the curve as numbers', () => {
    expect(chart.table.rows.slice(0, 4).map(([name]) => name)).toEqual([
      'today',
      'as advised',
      'best mix',
      'nothing kept',
    ]);
    expect(chart.table.rows).toHaveLength(8);
  });
  it('stands without a range and with stocks that serve all', () => {
    const sure = { ...stockMoneyByHand().best, range: null, leaksFindingShelfEmptyPerYear: 0, served: 1 };
    const { spec, table } = stockMoneyCurve({ ...stockMoneyByHand(), best: sure, today: sure }, 'EUR');
    expect(JSON.stringify(spec)).not.toMatch(/NaN|Infinity/);
    expect(table.rows[0]?.[4]).toBe('');
  });
});
