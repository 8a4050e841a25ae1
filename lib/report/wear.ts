/** What wears diaphragms besides days: clocks compared, life by use, and the intervals on clocks that were told. */
import { clocksCompared } from '../chart/clocksCompared.js';
import { lifeByUse } from '../chart/lifeByUse.js';
import type { Chart } from '../chart/types.js';
import { amount, count, dateWords, percent, range, spanWords } from '../chart/words.js';
import type { Wear, WearClock, WearExposure } from '../group/wear/types.js';
import type { WearGroup, WearInterval } from '../interval/wear/types.js';
import type { Plan } from '../planTypes.js';
import type { Figures } from './figure.js';
import { heatPart } from './heat.js';
import { bullets, dataTable, folded, type Html, html, prose } from './markup.js';
import { COLUMN, HEADING } from './texts.js';

const MOST_ROWS = 100;
/** Positions listed of each interval on a clock; all are in due-dates.csv. */
const MOST_POSITIONS = 20;

/** The charts of the part: known as soon as what wears is. */
export function wearCharts({ clocks, effects }: Pick<Wear, 'clocks' | 'effects'>): Chart[] {
  const whole = wholeGroups(clocks);
  return [
    ...(whole.some((clock) => clock.clocks.length > 1) ? [clocksCompared(whole)] : []),
    ...(effects.some((each) => each.effects.length > 0) ? [lifeByUse(effects)] : []),
  ];
}

/** Each group once under its own name, where parts of it by use stand in its place. */
function wholeGroups<T extends WearClock>(groups: readonly T[]): T[] {
  const whole = new Map<string, T>();
  for (const each of groups) {
    const name = each.partOf ?? each.group;
    if (!whole.has(name)) whole.set(name, { ...each, group: name });
  }
  return [...whole.values()];
}

/** Nothing more than a line where no use is on record. */
export function wearPart({ wear }: Pick<Plan, 'wear'>, figures: Figures): Html | null {
  const { groups, effects, notes, exposures } = wear;
  if (groups.length === 0) {
    return notes.length === 0
      ? null
      : html`<h3>${HEADING.whatWearsThem}</h3>\n<p>${prose(notes.join(' '))}</p>`;
  }
  const charts = wearCharts({ clocks: groups, effects });
  const told = groups.flatMap((group) =>
    group.interval === null ? [] : [{ group, interval: group.interval }],
  );
  return html`<h3>${HEADING.whatWearsThem}</h3>
<p>${prose(summary(wholeGroups(groups)))}</p><div class="figures">${figures.all(charts)}</div>
${told.length === 0 ? null : intervalsPart(told)}${unknownPart(groups)}${verdictsPart(wholeGroups(groups))}${heatPart(wear.heat)}${effectsPart(wear)}${countsPart(exposures, notes)}`;
}

function summary(groups: readonly WearGroup[]): string {
  const told = groups.filter(({ verdict }) => verdict === 'told');
  const counters = told.filter(({ clock }) => clock !== 'days');
  const open = groups.length - told.length;
  const first = `${count(told.length - counters.length, 'group wears', 'groups wear')} by days whatever their use, ${counters.length === 0 ? 'none' : counters.length} by what is counted; of ${open} the records cannot tell, and days are kept.`;
  return counters.length === 0 ? `${first} Due dates and the shutdown plan are in days.` : first;
}

function intervalsPart(told: readonly { group: WearGroup; interval: WearInterval }[]): Html {
  const table = dataTable({
    caption: 'Intervals on the clock that wears the group, and what they are in days at its positions',
    columns: [
      { title: COLUMN.group },
      { title: COLUMN.replaceAfter },
      { title: COLUMN.daysByPosition },
      { title: COLUMN.intervalDays },
      { title: COLUMN.because },
    ],
    rows: told
      .slice(0, MOST_ROWS)
      .map(({ group, interval }) => [
        prose(group.group),
        html`<b>${amount(interval.count)}</b> ${group.clock}`,
        html`<span class="day">${amount(interval.days.median)}</span><br><span class="small">${range(interval.days.low, interval.days.high)}</span>`,
        spanWords(interval.intervalDays),
        prose(interval.text),
      ]),
    cards: true,
  });
  const lists = told
    .filter(({ interval }) => interval.basis === 'least cost')
    .slice(0, MOST_ROWS)
    .map(({ group, interval }) =>
      folded(
        html`Positions of ${prose(group.group)} by their own count`,
        positionTable(group, interval),
        true,
      ),
    );
  return html`${BY_USE}${table}${lists}`;
}

const BY_USE = html`<p>These groups are planned by their count. Positions used about alike (none more than 12 % off the middle of its class) go together, and each class has its own interval, shutdowns, demand and cost: the same number of counts comes sooner where a position is used more. A due date is the day on which the position’s own count reaches the interval at its own rate. An interval longer than today’s goes through change control like any other.</p>
<p><b>When the use of a position changes</b> for good (another product, another cleaning), read its counter, or give the new use in positions.csv, and plan again: it moves to the class of its new use, and what its diaphragm has worn so far stays counted. A rate is the mean over all readings of the position, so that a change in the last months shows in part only; until it has shown, trust the count and replace when it is reached.</p>
`;

/** Positions that stay in days because nobody knows how much they are used. */
function unknownPart(groups: readonly WearGroup[]): Html | null {
  const parts = groups.filter(({ partOf, clock }) => partOf !== undefined && clock === 'days');
  if (parts.length === 0) return null;
  return bullets(
    parts.map(({ group, todo }) => html`<b>${prose(group)}</b> ${STAYS_IN_DAYS} <b>${prose(todo)}</b>`),
  );
}

const STAYS_IN_DAYS =
  'stays in days, though a counter wears the group: nobody knows how much its positions are used.';

function positionTable(group: WearGroup, { positions, count: interval }: WearInterval): Html {
  const shown = positions.slice(0, MOST_POSITIONS);
  const rest =
    positions.length > shown.length
      ? ` (first ${shown.length} of ${positions.length}; all in due-dates.csv)`
      : '';
  return dataTable({
    caption: `${group.group}: day by which the count reaches ${amount(interval)} ${group.clock}${rest}`,
    columns: [
      { title: COLUMN.position },
      { title: COLUMN.countNow, number: true },
      { title: COLUMN.aWeek, number: true },
      { title: COLUMN.wholeIntervalDays, number: true },
      { title: COLUMN.dueByItsCount },
      { title: COLUMN.range },
    ],
    rows: shown.map((row) => [
      prose(row.position),
      row.count === null ? 'unknown' : amount(row.count),
      row.perDay === null
        ? 'unknown'
        : `${amount(7 * row.perDay)}${row.source === 'given' ? ' (given)' : ''}`,
      row.days === null ? 'none' : amount(row.days),
      row.due === null ? 'not known' : dateWords(row.due),
      row.dueRange === null ? '' : range(0, 1, (end) => endWords(row.dueRange?.[end] ?? null)),
    ]),
  });
}

function endWords(date: string | null): string {
  return date === null ? 'no limit' : dateWords(date);
}

function verdictsPart(groups: readonly WearGroup[]): Html {
  const points = groups
    .slice(0, MOST_ROWS)
    .map(
      ({ group, comparedOn, text, todo }) =>
        html`<b>${prose(group)}</b>${comparedOn === group ? null : html` (compared on ${prose(comparedOn)})`}: ${prose(text)} ${todo === '' ? null : html`<b>${prose(todo)}</b>`}`,
    );
  return folded(
    html`<b>Clock of each group, and what data would settle it</b>`,
    html`${HOW_TO_READ}${bullets(points)}`,
    true,
  );
}

const HOW_TO_READ = html`<p>Lives are told in days and in counts of steam cycles, hot cleans and strokes, alone and added to days; the clock that tells when they leak best is the one that wears them. AIC (a number without a unit) says how well: the lower, the better, and under 2 apart is no difference. A clock is told where it leads by 2, positions use it differently enough, at least 80 % of resampled sets of positions choose it, and it stands without any one position (a counter: any two). Leaks before 60 days are left out, as faulty fittings have no clock; removals without a reason count as sound.</p>
`;

function effectsPart({ effects }: Pick<Plan['wear'], 'effects'>): Html | null {
  if (effects.length === 0) return null;
  const points = effects.map(
    ({ material, leaks, carried, effects: own, leftOut }) =>
      html`<b>${prose(material)}</b> (${count(leaks, 'leak')}, ${count(carried, 'comparison')} carried): ${prose(
        own.length === 0 ? 'nothing can be compared' : own.map(({ text }) => text).join('. '),
      )}.${leftOut.length === 0 ? null : html` ${prose(leftOut.join(' '))}`}`,
  );
  return folded(
    html`<b>How life goes with use, size and duty</b>`,
    html`<p>A regression of log life in each material (90 % ranges). More use is compared within a duty, as duties differ in more than use. Duty, size, steam cycles, hot cleans and strokes are entered in this order as far as the leaks carry them, one for five leaks, whatever comes out. A range that holds 1 says that no effect was seen, not that there is none.</p>
${bullets(points)}`,
    true,
  );
}

function countsPart(exposures: readonly WearExposure[], notes: readonly string[]): Html {
  const points = [
    ...exposures.map(
      ({ counter, lives, measured, interpolated, byOwnRate, assumed, unknown }) =>
        `${counter} of ${count(lives, 'life', 'lives')}: ${percent(measured)} measured, ${percent(interpolated)} between readings, ${percent(byOwnRate)} by the position’s own rate, ${percent(assumed)} assumed from positions.csv, ${percent(unknown)} unknown.`,
    ),
    ...notes,
  ];
  return folded(
    html`<b>Where the counts come from</b>`,
    html`${bullets(points.map((point) => prose(point)))}`,
    true,
  );
}
