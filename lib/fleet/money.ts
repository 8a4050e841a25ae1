/** The money settings of site.json as ranges; what is not given stays null and is said where it is needed. */
import { tidyText } from './cell.js';
import { settingError } from './settingError.js';
import { amountSchema, type MoneyFile, type SpreadFile } from './siteSchema.js';
import type { Money, Spread } from './types.js';

/** Nothing given. */
export function noMoney(): Money {
  return readMoney({});
}

export function readMoney(file: MoneyFile): Money {
  return {
    labourPerHour: spread(file.labour_per_hour),
    instrumentLabourPerHour: spread(file.instrument_labour_per_hour),
    fittingHours: spread(file.fitting_hours),
    retightenHours: spread(file.retighten_hours),
    recalibrationHoursPerAccessory: spread(file.recalibration_hours_per_accessory),
    resteriliseCost: spread(file.resterilise_cost),
    plannedStopHours: spread(file.planned_stop_hours),
    downtimePerHour: downtime(file.downtime_per_hour),
    leakDowntimeHours: spread(file.leak_downtime_hours),
    lostBatchProbability: spread(file.lost_batch_probability),
    batchValue: spread(file.batch_value),
    cleanupCost: spread(file.cleanup_cost),
    investigationCost: spread(file.investigation_cost),
    leakPartsCost: spread(file.leak_parts_cost),
    holdingRatePerYear: spread(file.holding_rate_per_year),
    orderCost: spread(file.order_cost),
    discountRatePerYear: spread(file.discount_rate_per_year),
  };
}

function spread(given: SpreadFile): Spread | null {
  if (given === undefined) return null;
  return typeof given === 'number' ? { low: given, likely: given, high: given } : given;
}

/** One amount for all lines (key ''), or one per line; a range is told from lines by its three names. */
function downtime(given: MoneyFile['downtime_per_hour']): Map<string, Spread> | null {
  if (given === undefined) return null;
  const all = amountSchema.safeParse(given);
  if (all.success) return new Map([['', spread(all.data) as Spread]]);
  const byLine = new Map<string, Spread>();
  for (const [line, value] of Object.entries(given)) {
    const amount = amountSchema.safeParse(value);
    if (!amount.success) throw settingError(amount.error, value, ['money', 'downtime_per_hour', line]);
    const range = spread(amount.data);
    if (range !== null) byLine.set(tidyText(line), range);
  }
  return byLine;
}
