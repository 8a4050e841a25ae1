/** Why some lines cost less at another interval than at the one proposed. */
import { listed } from '../chart/words.js';
import { at } from '../numeric/columns.js';
import type { CostByInterval } from '../yearly/outlookTypes.js';

/** A line is named where it costs less by this share. */
const WORTH_NAMING = 0.01;
/** Stops stay what they are up to this share while replacements become more by more than that. */
const STOPS_STAY = 0.02;
const MOST_NAMES = 8;

/** One sentence or two on the lines that cost less at the next shorter interval; null where there are none. */
export function lineNote({ factor, lines }: CostByInterval): string | null {
  const proposed = factor.indexOf(1);
  const shorter = proposed - 1;
  const cheaper = lines.filter(
    ({ perYear }) => at(perYear, shorter) < (1 - WORTH_NAMING) * at(perYear, proposed),
  );
  if (cheaper.length === 0) return null;
  const stay = cheaper.filter(
    ({ plannedStop, replacementsPerYear: fitted }) =>
      at(plannedStop, proposed) > 0 &&
      at(plannedStop, shorter) <= (1 + STOPS_STAY) * at(plannedStop, proposed) &&
      at(fitted, shorter) > (1 + STOPS_STAY) * at(fitted, proposed),
  );
  const names = listed(
    cheaper.map(({ line }) => (line === '' ? 'no name' : line)),
    MOST_NAMES,
  );
  const share = `${Math.round(100 * at(factor, shorter))} %`;
  const why =
    stay.length === cheaper.length
      ? 'There every interval counts a share of a stop for each replacement, so that it holds for one position alone; but these lines stop for replacements at about every window anyway, so that more of them there cost no more stops. Shortening all intervals of such a line together would cost less on average; one of them alone may not.'
      : 'An interval is chosen for all lines of its group at their mean cost, and these lines differ from that.';
  return `Less at ${share} of the proposed intervals: ${names}. ${why}`;
}
