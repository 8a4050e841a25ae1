/** What the proposal saves or costs, in sentences that claim no more than the records bear. */
import { moneyWords } from '../chart/money.js';
import { chanceWords, pieces, range } from '../chart/words.js';
import type { CostComparison } from '../yearly/types.js';

/** "The plan saves about 101 000 EUR a year in the long run (56 000 to 161 000; chance ...), 98 000 in the first year (...)." */
export function savingSentence(cost: CostComparison, currency: string): string {
  const { saving } = cost;
  const money = moneyWords(cost);
  const scope = cost.covers === 'downtime only' ? ', downtime only' : '';
  if (cost.today.perYear === 0 && cost.proposed.perYear === 0) return 'No cost could be worked out.';
  if (!saving.claimed) return 'No saving is claimed: the leaks on record do not agree with the formula.';
  if (isSmall(cost)) {
    return `The yearly cost stays about the same${scope}${spanOf([saving.low, saving.high], money, currency)}.`;
  }
  const verb = saving.perYear > 0 ? 'The plan saves' : 'The plan costs';
  const [low, high] = saving.perYear > 0 ? [saving.low, saving.high] : [-saving.high, -saving.low];
  const chance = `chance that it is cheaper ${chanceWords(saving.chance)}`;
  const more = saving.perYear > 0 ? '' : ' more';
  return `${verb} about ${money(Math.abs(saving.perYear))} ${currency}${more} a year in the long run${scope} (${range(low, high, money)}; ${chance}). ${firstYearWords(cost, currency)}`;
}

/** " (saving −200 to 1 400 EUR)"; nothing where the whole span reads 0. */
function spanOf([low, high]: [number, number], money: (value: number) => string, currency: string): string {
  const span = range(low, high, money);
  return span === '0' ? '' : ` (saving ${span} ${currency})`;
}

function isSmall({ saving, today, proposed }: CostComparison): boolean {
  return Math.abs(saving.perYear) < 0.005 * Math.max(today.perYear, proposed.perYear);
}

/** "In the first year it saves about 98 000 EUR (48 000 to 158 000)." */
function firstYearWords(cost: CostComparison, currency: string): string {
  const money = moneyWords(cost);
  const { saving, low, high } = cost.saving.firstYear;
  if (money(Math.abs(saving)) === '0')
    return `The first year costs about the same${spanOf([low, high], money, currency)}.`;
  return saving >= 0
    ? `In the first year it saves about ${money(saving)} ${currency} (${range(low, high, money)}).`
    : `In the first year it costs about ${money(-saving)} ${currency} more (${range(-high, -low, money)}).`;
}

/** How leaks on record and formula compare, and what the saving would be with the recorded ones only; null where silent. */
export function recordsSentence(cost: CostComparison, currency: string): string | null {
  const { check, saving, today } = cost;
  if (check === null) return null;
  const { years, named, withoutReason } = check;
  const [first, last] = [years[0], years[years.length - 1]];
  const span = first === last ? `in ${first}` : `on average from ${first} to ${last}`;
  const beside =
    withoutReason < 0.05
      ? ''
      : ` by name and about ${pieces(withoutReason)} among removals without a reason, ${pieces(named + withoutReason)} in all`;
  const formula = `by the formula for today’s practice ${pieces(today.leaksPerYear)}, and ${range(...check.range, pieces)} for ${first === last ? 'one year' : 'such a mean'}`;
  const only =
    saving.withNamedLeaksOnly === null || !saving.claimed || isSmall(cost)
      ? ''
      : ` With leaks as many as recorded by name only, the long-run saving would be about ${moneyWords(cost)(saving.withNamedLeaksOnly)} ${currency} a year.`;
  return `Leaks a year on record ${span}: ${pieces(named)}${beside}; ${formula}. They ${check.agrees ? 'agree' : 'do not agree'}.${only}`;
}
