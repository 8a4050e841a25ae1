/** Whether each group's law fits its leaks, and what it would cost to be wrong about the law. */
import { count, percent, spanWords } from '../chart/words.js';
import type { GroupCheck, IntervalAdvice } from '../interval/types.js';
import { significant } from '../numeric/round.js';
import type { Plan } from '../planTypes.js';
import { dataTable, folded, type Html, html, prose } from './markup.js';

const MOST_ROWS = 100;

export function lawChecks({ groups, intervals }: Plan): Html | null {
  if (groups.length === 0) return null;
  const advice = new Map(intervals.map((each) => [each.group, each]));
  const shown = groups.slice(0, MOST_ROWS);
  const rest =
    groups.length > shown.length ? ` (first ${shown.length} of ${groups.length}; all in plan.json)` : '';
  const table = dataTable({
    caption: `Each group’s own leaks against the law planned with, and a second opinion${rest}`,
    columns: [
      { title: 'Group' },
      { title: 'Does the model fit?' },
      { title: 'Which law suits better?' },
      { title: 'Cost of being wrong about the law' },
    ],
    rows: shown.map(({ group, check }) => [
      prose(group),
      verdictCell(check),
      prose(preferenceWords(check)),
      prose(wrongWords(check, advice.get(group))),
    ]),
    cards: true,
  });
  return folded(
    html`<b>Does the model fit?</b> ${prose(summary(groups.map(({ check }) => check)))}`,
    html`<p>The plan takes wear-out for a Weibull law beside early leaks of faulty fittings. A group fits where lives drawn from that law, watched as its own were, lie as far from it as its leaks do; under 10 leaks that cannot be judged. The second opinion is a lognormal law beside the same faulty fittings. It is preferred only with 20 leaks or more and an AIC lower by 6 or more. Costs are compared at ages that the records support.</p>${table}`,
    true,
  );
}

function summary(checks: readonly GroupCheck[]): string {
  const of = (verdict: GroupCheck['verdict']): number =>
    checks.filter((check) => check.verdict === verdict).length;
  const silent = of('cannot be judged');
  const misfits = of('does not fit');
  return `${count(of('fits'), 'group fits', 'groups fit')}, ${misfits} ${misfits === 1 ? 'does' : 'do'} not, ${silent} cannot be judged.`;
}

function verdictCell({ verdict, leaks, p }: GroupCheck): Html {
  const ground = p === null ? '' : `, p ${significant(p, 2)}`;
  return html`<b>${verdict}</b><br><span class="small">${count(significant(leaks, 2), 'leak')}${ground}</span>`;
}

function preferenceWords({ secondOpinion }: GroupCheck): string {
  if (secondOpinion === null) return 'no second opinion: too few leaks';
  const { aicDifference, preferred } = secondOpinion;
  const by = `AIC lower by ${Math.abs(aicDifference).toFixed(1)}`;
  if (preferred) return `lognormal (${by})`;
  if (aicDifference <= -6) return `Weibull (${by})`;
  return `cannot tell (${aicDifference > 0 ? 'lognormal' : 'Weibull'} ${by})`;
}

function wrongWords({ secondOpinion }: GroupCheck, advice: IntervalAdvice | undefined): string {
  const under = secondOpinion?.lognormal ?? null;
  if (under === null) return 'not known';
  const days = advice?.days ?? null;
  const advised = days === null ? 'running until it leaks' : `the advised ${spanWords(days)}`;
  const best = under.bestDays === null ? 'running until it leaks' : spanWords(under.bestDays);
  if (under.aboveLeast < 0.0005) return `none: under a lognormal ${advised} would cost the least too`;
  return `under a lognormal ${advised} would cost ${percent(under.aboveLeast)} above its least, which is at ${best}`;
}
