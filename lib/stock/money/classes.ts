/** Classes of items by money and by consequence together, and what follows for each. */
import { CRITICALITIES, type Criticality, type Targets } from '../../fleet/types.js';
import { itemAt } from '../../numeric/columns.js';
import type { MoneyClass, MoneyRow, StockClass } from './types.js';

/** Cumulative shares of the yearly money of use that end class A and class B: common practice (Pareto's rule), from memory. */
export const CLASS_SHARES: [number, number] = [0.8, 0.95];

/**
 * Class of each item by its yearly money of use: in falling order, A until 80 % of the money are reached, B until 95 %, C beyond. The item
 * that crosses a border belongs before it. Items that nobody uses are C.
 */
export function moneyClasses(usePerYear: readonly number[], shares = CLASS_SHARES): MoneyClass[] {
  const order = usePerYear.map((_, i) => i);
  order.sort((a, b) => itemAt(usePerYear, b) - itemAt(usePerYear, a) || a - b);
  const all = usePerYear.reduce((total, each) => total + each, 0);
  const found = usePerYear.map((): MoneyClass => 'C');
  let before = 0;
  for (const i of order) {
    const use = itemAt(usePerYear, i);
    if (use > 0) found[i] = before < shares[0] * all ? 'A' : before < shares[1] * all ? 'B' : 'C';
    before += use;
  }
  return found;
}

const COUNT_MONTHS: Record<MoneyClass, number> = { A: 1, B: 3, C: 12 };
/** Where a wrong count would cost a line or harm people, it is found within a quarter. */
const MOST_MONTHS_CRITICAL = 3;

/** The classes that hold items, A first, the highest criticality first. */
export function stockClasses(rows: readonly MoneyRow[], { served }: Targets): StockClass[] {
  const found: StockClass[] = [];
  for (const moneyClass of ['A', 'B', 'C'] as const) {
    for (const criticality of [...CRITICALITIES].reverse()) {
      const own = rows.filter((row) => row.moneyClass === moneyClass && row.criticality === criticality);
      if (own.length === 0) continue;
      const sum = (of: (row: MoneyRow) => number): number => own.reduce((total, row) => total + of(row), 0);
      found.push({
        moneyClass,
        criticality,
        items: own.map(({ item }) => item),
        useMoneyPerYear: sum(({ useMoneyPerYear }) => useMoneyPerYear),
        stockMoney: {
          today: sum(({ today, price }) => today * price),
          best: sum(({ best, price }) => best * price),
        },
        target: served[criticality],
        count: countWords(moneyClass, criticality),
        policy: policyWords(moneyClass, criticality),
      });
    }
  }
  return found;
}

function countWords(moneyClass: MoneyClass, criticality: Criticality): string {
  const own = COUNT_MONTHS[moneyClass];
  const months = isCritical(criticality) ? Math.min(own, MOST_MONTHS_CRITICAL) : own;
  return months === 1 ? 'every month' : months === 12 ? 'once a year' : `every ${months} months`;
}

function policyWords(moneyClass: MoneyClass, criticality: Criticality): string {
  const least = isCritical(criticality) ? 'never below the level for its target; ' : '';
  const how = {
    A: 'order by date in small lots, and look at it at every review',
    B: 'order at the reorder point in the usual lot',
    C: 'order rarely, in lots for up to a year',
  };
  return `${least}${how[moneyClass]}`;
}

function isCritical(criticality: Criticality): boolean {
  return criticality === 'high' || criticality === 'safety';
}
