/** Charts of the report that are known before the whole plan is, so that they can be drawn meanwhile. */
import { shutdownLoad } from '../chart/shutdownLoad.js';
import type { Chart } from '../chart/types.js';
import { inLocale } from '../numeric/locale.js';
import type { Practised, Supplied, Weighed } from '../plan.js';
import { engineerCharts } from './engineer.js';
import { plannerCharts } from './planner.js';
import { recurrenceCharts } from './recurrence.js';
import { stockMoneyCharts } from './stockMoney.js';
import { wearCharts } from './wear.js';

/** Once intervals are weighed. */
export function chartsOfWeighed(weighed: Weighed): Chart[] {
  const { pairs, overview } = inLocale(weighed.site.locale, () => engineerCharts(weighed));
  return [...pairs, ...overview];
}

/** Once the shutdown plan, demand and stock are added. */
export function chartsOfSupplied({ site, shutdowns, demand, stock, stockMoney }: Supplied): Chart[] {
  return inLocale(site.locale, () => {
    const { cover, months } = plannerCharts({ demand: demand.months, stock });
    const load = shutdowns.tasks.length === 0 ? [] : [shutdownLoad(shutdowns.loads, shutdowns.tasks)];
    return [...cover, ...months, ...stockMoneyCharts({ site, stockMoney }), ...load];
  });
}

/** Once it is known what wears and what comes again. */
export function chartsOfPractised({ wear, recurrence }: Pick<Practised, 'wear' | 'recurrence'>): Chart[] {
  return [...wearCharts(wear), ...recurrenceCharts({ recurrence })];
}
