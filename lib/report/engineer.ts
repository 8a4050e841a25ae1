/** The engineer's part: fit against data, intervals with their span and reason, and what the data cannot say. */

import { costRateChart } from '../chart/costRate.js';
import { groupLives } from '../chart/groupLives.js';
import { intervalsOverview } from '../chart/intervalsOverview.js';
import { probabilityPlot } from '../chart/probabilityPlot.js';
import type { Chart } from '../chart/types.js';
import { amount, count, monthsSpan, percent, range, spanWords } from '../chart/words.js';
import { isChange, isKept, kindOf } from '../interval/adviceKind.js';
import type { IntervalAdvice } from '../interval/types.js';
import type { GroupResult, Plan } from '../planTypes.js';
import { practiceNote } from './changes.js';
import type { Figures } from './figure.js';
import { aboutWords, type GatheredWarning, gathered } from './gather.js';
import { fitSummary, lawChecks } from './lawChecks.js';
import { bullets, dataTable, folded, type Html, html, prose } from './markup.js';
import { otherReadings } from './otherReadings.js';
import { policiesPart } from './policies.js';
import { recurrencePart } from './recurrence.js';
import { standOutsPart } from './standOuts.js';
import { COLUMN, HEADING, SENTENCE } from './texts.js';
import { wearPart } from './wear.js';

/** Groups that get pictures of their own: those with most at stake. */
const PICTURED_GROUPS = 6;
/** Pictures of a group: fit and cost. */
const PER_GROUP = 2;
const MOST_ROWS = 100;
const MOST_WARNINGS = 40;
/** Groups named one by one. */
const MOST_NAMED = 6;
/** From this many wear-out leaks on, a group has a fit of its own. */
const OWN_LEAKS = 5;

export function engineerPart(plan: Plan, figures: Figures): Html {
  return html`<section id="engineer" aria-labelledby="engineer-title">
<h2 id="engineer-title">${HEADING.engineerHowLongTheyLast}</h2>
${plan.groups.length === 0 ? html`<p class="lead">${SENTENCE.noGroupCouldBeFormedFrom}</p>` : livesPart(plan, figures)}<h3>${HEADING.whatDataCannotSay}</h3>
${silencePart(plan)}</section>
`;
}

function livesPart(plan: Plan, figures: Figures): Html {
  const { pictured, pairs, overview } = engineerCharts(plan);
  const rest = plan.groups.length - pictured;
  const first = figures.all(pairs.slice(0, PER_GROUP));
  const further = figures.all(pairs.slice(PER_GROUP));
  return html`${leadPart(plan)}<h3>${HEADING.fitAgainstRecordsCostAgainst}</h3>
<p class="small">${SENTENCE.twoCurvesWhatGroupsOwnData}</p><div class="figures">${first}</div>
<h3>${HEADING.intervalsAndLives}</h3>
<div class="figures">${figures.all(overview)}</div>
<h3>${HEADING.intervalsAndWhy}</h3>
${intervalTable(plan)}${policiesPart(plan)}${furtherPart(further, pictured, rest)}${lawChecks(plan)}${otherReadings(plan)}${wearPart(plan, figures)}${recurrencePart(plan, figures)}${standOutsPart(plan)}`;
}

/** Fit and cost of the other groups with much at stake. */
function furtherPart(further: readonly Html[], pictured: number, rest: number): Html | null {
  if (further.length === 0) return null;
  const others =
    rest === 0 ? '' : `; the other ${rest === 1 ? 'one is' : `${amount(rest, 9)} are`} in the tables`;
  return html`<h3>${HEADING.fitAndCostOfFurtherGroups}</h3>
<p class="small">Pictures of the ${count(pictured, 'group')} with most money at stake, the first of them above${others}.</p><div class="figures">${further}</div>
`;
}

/** How well the laws suit the records, and how much of the plan rests on groups that lend. */
function leadPart({ groups }: Plan): Html {
  const lent = groups.filter(({ wearLeaks }) => wearLeaks < OWN_LEAKS).length;
  const few =
    lent === 0
      ? ''
      : ` ${count(lent, 'group has', 'groups have')} under ${OWN_LEAKS} wear-out leaks, so what is said of ${lent === 1 ? 'it' : 'them'} leans on other groups or is assumed.`;
  return html`<p class="lead"><b>Does the model fit?</b> ${prose(fitSummary(groups))}${few}</p>
`;
}

/** What the engineer's charts are drawn from: all of it is known before demand, stock and cost are. */
export interface EngineerFacts extends Pick<Plan, 'intervals' | 'site'> {
  groups: GroupResult[];
}

export interface EngineerCharts {
  /** Groups with pictures of their own. */
  pictured: number;
  /** Fit and cost of each of them. */
  pairs: Chart[];
  overview: Chart[];
}

/** The charts of the engineer's part. */
export function engineerCharts(facts: EngineerFacts): EngineerCharts {
  const { groups, intervals, site } = facts;
  const pictured = picturedGroups(facts);
  return {
    pictured: pictured.length,
    pairs: pictured.flatMap(({ group, interval }) => [
      probabilityPlot(group),
      ...(interval === null ? [] : [costRateChart(interval, group, site.currency)]),
    ]),
    overview: [intervalsOverview(intervals, site.currency), groupLives(groups)],
  };
}

/** Groups by the money their advice moves, each with its advice. */
function picturedGroups({
  groups,
  intervals,
}: EngineerFacts): { group: GroupResult; interval: IntervalAdvice | null }[] {
  const advice = new Map(intervals.map((each) => [each.group, each]));
  const stake = (group: GroupResult): number => {
    const each = advice.get(group.group);
    return each === undefined
      ? 0
      : Math.abs(each.costPerYearToday - each.costPerYear) * each.positions + each.positions * 1e-6;
  };
  const unused = new Set(intervals.filter((each) => kindOf(each) === 'unused').map(({ group }) => group));
  return groups
    .filter(({ group }) => !unused.has(group))
    .sort((a, b) => stake(b) - stake(a))
    .slice(0, PICTURED_GROUPS)
    .map((group) => ({ group, interval: advice.get(group.group) ?? null }));
}

function intervalTable({ intervals, site }: Plan): Html {
  const shown = intervals.slice(0, MOST_ROWS);
  const rest =
    intervals.length > shown.length
      ? ` (first ${shown.length} of ${intervals.length}; all in intervals.csv)`
      : '';
  return dataTable({
    caption: `Months between replacements; cost in ${site.currency} per position and year, with the 5 % to 95 % range${rest}`,
    columns: [
      { title: COLUMN.group },
      { title: COLUMN.today },
      { title: COLUMN.proposed },
      { title: COLUMN.withinTwoPercentMonths },
      { title: COLUMN.costTodayToProposed },
      { title: COLUMN.because },
    ],
    rows: shown.map((each) => [
      html`${prose(each.group)}<br><span class="small">${count(each.positions, 'position')}</span>`,
      html`<span class="day">${spanWords(each.today)}</span>`,
      html`<b>${proposalWords(each)}</b>${practiceNote(each)}`,
      html`<span class="day">${each.within2percent === null ? 'none' : monthsSpan(each.within2percent)}</span>`,
      costCell(each),
      becauseCell(each, site.currency),
    ]),
    cards: true,
  });
}

function costCell(each: IntervalAdvice): Html | string {
  if (kindOf(each) === 'unused') return 'none';
  const { costPerYearToday, costPerYear, costRange } = each;
  return html`<span class="day">${amount(costPerYearToday, 2)} → <b>${amount(costPerYear, 2)}</b></span><br><span class="small">${range(...costRange, (value) => amount(value, 2))}</span>`;
}

function proposalWords(each: IntervalAdvice): string {
  const { action, days, direction } = each;
  if (kindOf(each) === 'unused') return 'not used now';
  if (action === 'run') return 'run until it leaks';
  if (days === null) return 'keep as it is';
  if (isKept(each)) return `keep ${spanWords(days)}`;
  const change = { lengthen: ' (longer)', shorten: ' (shorter)', leave: '', undecided: ' (undecided)' }[
    direction
  ];
  return `${spanWords(days)}${change}`;
}

/** The reason, with what else to know folded below it. */
function becauseCell(each: IntervalAdvice, currency: string): Html {
  const { because, warnings, around } = each;
  const remarks = warnings.map(({ text, todo }) => html`<p>${prose(`${text} ${todo}`)}</p>`);
  if (kindOf(each) !== 'unused') remarks.push(html`<p>${prose(riskWords(each, currency))}</p>`);
  if (around.length > 0) remarks.unshift(html`<p>${prose(aroundWords(around, currency))}</p>`);
  const more =
    remarks.length === 0 ? null : folded(count(remarks.length, 'remark'), remarks, 'see intervals.csv');
  return html`<div class="why">${prose(because)}${more}</div>`;
}

/** What may come of not knowing the life model exactly, and the age for stops that happen anyway. */
function riskWords(each: IntervalAdvice, currency: string): string {
  const { expectedRegret, worstTenth, opportunityDays } = each;
  const money = (value: number): string => `${amount(Math.abs(value), 2)} ${currency} per position and year`;
  const regret = `Perfect knowledge of the life model would save ${money(expectedRegret)} on average.`;
  const worst = !isChange(each)
    ? ''
    : ` In the worst tenth of what is possible the proposal costs ${money(worstTenth)} ${worstTenth > 0 ? 'more' : 'less'} than today’s practice.`;
  const chance =
    opportunityDays === null
      ? ''
      : ` Where the line is down anyway, and all such positions of it are done together, replace from ${spanWords(opportunityDays)} on.`;
  return `${regret}${worst}${chance}`;
}

/** What a kept interval costs, and a shorter and a longer one beside it. */
function aroundWords(around: IntervalAdvice['around'], currency: string): string {
  const costs = around.map(
    ({ days, costRange }) => `${spanWords(days)} ${range(...costRange, (value) => amount(value, 2))}`,
  );
  return `Cost in ${currency} per position and year (5 % to 95 %): ${costs.join('; ')}.`;
}

function silencePart(plan: Plan): Html {
  const warnings = gathered([
    ...plan.warnings.map((warning) => ({ about: null, warning })),
    ...plan.groups.flatMap(({ group, warnings: own }) => own.map((warning) => ({ about: group, warning }))),
  ]);
  const shown = warnings.slice(0, MOST_WARNINGS).map(warningPoint);
  const few = plan.groups.filter(({ wearLeaks }) => wearLeaks < OWN_LEAKS);
  const rest =
    warnings.length > shown.length
      ? html`<p class="small">${count(warnings.length - shown.length, 'more is', 'more are')} in plan.json.</p>`
      : null;
  const nothing =
    warnings.length + few.length === 0 ? html`<p>${SENTENCE.noLimitBeyondRangesShownWas}</p>` : null;
  return html`${fewLeaksPart(few)}${bullets(shown)}${rest}${nothing}${listPart('Assumed where the folder is silent', plan.assumed)}${listPart('Switched off by missing files', plan.switchedOff)}${listPart('How groups were formed', plan.notes)}`;
}

/** Groups without a fit of their own: those that others lend to, and those to which nobody can. */
function fewLeaksPart(few: GroupResult[]): Html | null {
  const [alone, lent] = [few.filter(isPriorOnly), few.filter((group) => !isPriorOnly(group))];
  const shares = lent.map(({ borrowed }) => borrowed);
  const lentText =
    lent.length === 0
      ? null
      : html`<p>${count(lent.length, 'group has', 'groups have')} under ${OWN_LEAKS} wear-out leaks; what is said of ${lent.length === 1 ? 'it' : 'them'} leans on the other groups (${range(Math.min(...shares), Math.max(...shares), percent)} of what is known of ${lent.length === 1 ? 'its' : 'their'} scale is borrowed).</p>`;
  const aloneText =
    alone.length === 0
      ? null
      : html`<p>No wear-out leak is on record in the material of ${prose(alone.map(({ group }) => group).join(', '))}: that ${alone.length === 1 ? 'it wears' : 'they wear'} out is assumed, and no record has shown it.</p>`;
  return html`${lentText}${aloneText}`;
}

function isPriorOnly({ materialWearLeaks }: GroupResult): boolean {
  return materialWearLeaks < 1;
}

/** One warning, or many of one kind: the groups named once, what each is told folded below. */
function warningPoint(warning: GatheredWarning): Html {
  const { about, texts, todo } = warning;
  const [first = ''] = texts;
  if (about.length === 0) return html`${prose(first)} <b>${prose(todo)}</b>`;
  const named = prose(aboutWords(warning, MOST_NAMED));
  if (about.length === 1) return html`<b>${named}:</b> ${prose(first)} <b>${prose(todo)}</b>`;
  const each = texts.map((text, i) => html`${prose(about[i] ?? '')}: ${prose(text)}`);
  return html`<b>${about.length} groups</b> (${named}). The first of them: ${prose(first)} <b>${prose(todo)}</b>${folded(`What each of the ${about.length} is told`, html`${bullets(each.slice(0, MOST_ROWS))}`, 'see plan.json')}`;
}

function listPart(title: string, lines: readonly string[]): Html | null {
  if (lines.length === 0) return null;
  const points = lines.slice(0, MOST_WARNINGS).map((line) => prose(line));
  return folded(html`<b>${title}</b> (${lines.length})`, html`${bullets(points)}`, true);
}
