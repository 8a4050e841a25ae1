/** What the proposal saves or costs, in a sentence that claims no more than the records bear. */
import { amount, chanceWords, range } from '../chart/words.js';
import type { CostComparison } from '../yearly/types.js';

/** "Saves about 210 000 EUR a year (61 000 to 402 000; chance 94 %), downtime only." */
export function savingSentence(cost: CostComparison, currency: string): string {
  const { saving } = cost;
  const scope = cost.covers === 'downtime only' ? ', downtime only' : '';
  if (cost.today.perYear === 0 && cost.proposed.perYear === 0) return 'No cost could be worked out.';
  if (!saving.claimed) return 'No saving is claimed: the leaks on record do not agree with the formula.';
  if (Math.abs(saving.perYear) < 0.005 * Math.max(cost.today.perYear, cost.proposed.perYear)) {
    return `The yearly cost stays about the same${scope} (saving ${range(saving.low, saving.high)} ${currency}).`;
  }
  const verb = saving.perYear > 0 ? 'Saves' : 'Costs';
  const [low, high] = saving.perYear > 0 ? [saving.low, saving.high] : [-saving.high, -saving.low];
  const chance = `chance that it is cheaper ${chanceWords(saving.chance)}`;
  const more = saving.perYear > 0 ? '' : ' more';
  return `${verb} about ${amount(Math.abs(saving.perYear), 2)} ${currency}${more} a year in the long run${scope} (${range(low, high, twoDigits)}; ${chance}).`;
}

const twoDigits = (value: number): string => amount(value, 2);
