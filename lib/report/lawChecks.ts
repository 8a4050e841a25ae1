/** Whether each group's law fits its leaks, and what it would cost to be wrong about the law. */

import { amount, count, counted, fixed, money, percent, pValueWords, spanWords } from '../chart/words.js';
import { LEAKS_TO_JUDGE } from '../group/ownFit.js';
import { CLEARLY_BETTER } from '../interval/checkGroups.js';
import type { GroupCheck, IntervalAdvice } from '../interval/types.js';
import type { Plan } from '../planTypes.js';
import { dataTable, folded, type Html, html, prose } from './markup.js';
import { COLUMN, SENTENCE } from './texts.js';

const MOST_ROWS = 100;
/** A share of the cost too small to speak of. */
const NOTHING = 0.0005;

export function lawChecks({ groups, intervals, site }: Plan): Html | null {
  if (groups.length === 0) return null;
  const advice = new Map(intervals.map((each) => [each.group, each]));
  // Those that call for something first, else in the order of the plan.
  const shown = [...groups].sort((a, b) => rank(a.check) - rank(b.check)).slice(0, MOST_ROWS);
  const rest =
    groups.length > shown.length ? ` (first ${shown.length} of ${groups.length}; all in plan.json)` : '';
  const table = dataTable({
    caption: `Each group’s own leaks against the law planned with, and a second opinion: which law suits better, and what the advised interval costs if lives are lognormal${rest}`,
    // Titles short enough for one line beside a cell on a phone.
    columns: [
      { title: COLUMN.group },
      { title: COLUMN.doesItFit },
      { title: COLUMN.betterLaw },
      { title: COLUMN.ifLognormal },
    ],
    rows: shown.map(({ group, check }) => [
      prose(group),
      verdictCell(check),
      prose(preferenceWords(check)),
      prose(wrongWords(check, advice.get(group), site.currency)),
    ]),
    cards: true,
  });
  return folded(
    html`<b>Fit of each group</b>: ${prose(fitSummary(groups))}`,
    html`${HOW_TO_READ}${table}`,
    true,
  );
}

const HOW_TO_READ = html`<p>${SENTENCE.howLawsAreChecked}</p>
<p>${SENTENCE.whatSecondOpinionIs}</p>
`;

/** Misfits, then groups that another law suits better, then the rest. */
function rank({ verdict, secondOpinion }: GroupCheck): number {
  return verdict === 'does not fit' ? 0 : secondOpinion?.preferred ? 1 : 2;
}

/** "19 groups fit, none does not, 5 cannot be judged: under 10 leaks." */
export function fitSummary(groups: Plan['groups']): string {
  const checks = groups.map(({ check }) => check);
  const of = (verdict: GroupCheck['verdict']): number =>
    checks.filter((check) => check.verdict === verdict).length;
  const misfits = of('does not fit');
  const others = checks.filter(({ secondOpinion }) => secondOpinion?.preferred).length;
  const other = others === 0 ? '' : ` A lognormal suits ${count(others, 'group')} clearly better.`;
  const open = of('cannot be judged');
  const unjudged = open === 0 ? '' : `, ${amount(open, 9)} cannot be judged (under ${LEAKS_TO_JUDGE} leaks)`;
  if (open === checks.length)
    return `none of ${count(open, 'group')} can be judged (under ${LEAKS_TO_JUDGE} leaks).`;
  const misfit =
    misfits === 0 ? 'none does not' : `${amount(misfits, 9)} ${misfits === 1 ? 'does' : 'do'} not`;
  return `${count(of('fits'), 'group fits', 'groups fit')}, ${misfit}${unjudged}.${other}`;
}

function verdictCell({ verdict, leaks, p }: GroupCheck): Html {
  const ground = p === null ? '' : `, ${pValueWords(p)}`;
  return html`<b>${verdict}</b><br><span class="small">${counted(leaks, 'leak', 'leaks')}${ground}</span>`;
}

function preferenceWords({ secondOpinion }: GroupCheck): string {
  if (secondOpinion === null) return 'no second opinion: too few leaks';
  const { aicDifference, preferred } = secondOpinion;
  const by = fixed(Math.abs(aicDifference), 1);
  const apart =
    by === fixed(0, 1) ? 'AIC the same' : `${aicDifference > 0 ? 'lognormal' : 'Weibull'} AIC lower by ${by}`;
  if (preferred) return `lognormal (AIC lower by ${by})`;
  if (aicDifference <= -CLEARLY_BETTER) return `Weibull (AIC lower by ${by})`;
  return `cannot tell (${apart})`;
}

function wrongWords(
  { secondOpinion }: GroupCheck,
  advice: IntervalAdvice | undefined,
  currency: string,
): string {
  if (secondOpinion === null) return 'not known: no second opinion';
  const under = secondOpinion.lognormal;
  if (under === null) return 'not known: no price or no position';
  const days = advice?.days ?? null;
  const advised = days === null ? 'Running until it leaks' : spanWords(days);
  if (under.aboveLeast < NOTHING) return `${advised}: least cost under a lognormal too`;
  const best = under.bestDays === null ? 'running until it leaks' : spanWords(under.bestDays);
  const extra = money(under.costPerYear - under.leastPerYear, currency);
  return `${advised}: ${percent(under.aboveLeast)} (${extra} per position and year) more than the best age under a lognormal, ${best}`;
}
