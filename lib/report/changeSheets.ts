/** Printable sheets for change control: one page for each interval that changes, with room for those who approve it. */

import {
  amount,
  chanceWords,
  count,
  dateWords,
  listed,
  monthsSpan,
  percent,
  plainName,
  range,
  spanWords,
} from '../chart/words.js';
import { HISTORY_FILES } from '../fleet/columnNames.js';
import type { ChangeSheet, EvidencePoint } from '../interval/changeSheet.js';
import type { IntervalAdvice } from '../interval/types.js';
import { inLocale } from '../numeric/locale.js';
import { fixed } from '../numeric/words.js';
import type { Plan } from '../planTypes.js';
import { bullets, dataTable, type Html, html, name, prose } from './markup.js';
import { wholePage } from './page.js';
import { STYLE } from './style.js';
import { COLUMN, HEADING, SENTENCE } from './texts.js';

/** Tags written out on a sheet; the rest is in due-dates.csv. */
const MOST_TAGS = 120;
/** Leaks that are in neither of the parts told are named from here on. */
const LEAST_REST = 0.05;
const KINDS: Readonly<Record<ChangeSheet['kind'], string>> = {
  shorter: 'a shorter interval',
  longer: 'a longer interval',
  'first schedule': 'a schedule for the first time',
  'no schedule': 'no schedule: run until it leaks',
};

const SHEET_STYLE = `.sheet{margin-top:40px;break-before:page;break-inside:auto}
.sheet:first-of-type{break-before:auto}
@media print{.sheet{margin-top:0;font-size:8.4pt;line-height:1.28}.sheet h2{font-size:15pt;margin:0 0 4px;padding-top:6px;break-before:auto}
.sheet h3{font-size:10.5pt;margin:7px 0 2px}.sheet p,.sheet ul{max-width:none;margin-bottom:5px}.sheet li{margin:0 0 1px}.sheet .scroll{margin:3px 0 5px}
.sheet table{font-size:7.8pt;line-height:1.22}.sheet th,.sheet td{padding:1.5px 8px 1.5px 0}.sheet .fromto{font-size:13pt;margin:3px 0 5px}.sheet .small{font-size:7pt;line-height:1.2}
.sheet caption,.sheet thead th{font-size:8pt;padding-bottom:2px}.sheet .sign thead th{height:auto}header:has(+main .sheet){display:none}}
.sign{width:100%}.sign td,.sign th{height:44px;border-bottom:1px solid var(--rule);vertical-align:bottom}
@media print{.sheet .sign td,.sheet .sign th{height:25px}}
@page{margin:9mm 14mm}
.fromto{font-size:22px;margin:6px 0 10px}`;

/** One HTML file without scripts and without anything from outside. Same plan, same bytes. */
export function changeSheetsHtml(plan: Plan): string {
  return inLocale(plan.site.locale, () => sheetsOf(plan));
}

function sheetsOf(plan: Plan): string {
  const { changes, site } = plan;
  const none = html`<p class="lead">${SENTENCE.noIntervalChangesSoThereNothing}</p>`;
  const body = html`<header><h1>${name(site.name)}: changed intervals, for approval</h1>
<p class="facts">${count(changes.length, 'interval changes', 'intervals change')}. Data until <b>${dateWords(site.dataUntil)}</b>. weirwise ${plan.version}, seed ${plan.seed}, inputs ${plan.inputsHash}.</p>
<p class="caution"><b>Before you act.</b> ${plan.caution}</p></header>
<main>${changes.length === 0 ? none : changes.map((change) => sheet(plan, change))}</main>
`;
  return wholePage({
    title: `${plainName(site.name)}: changed intervals`,
    style: `${STYLE}${SHEET_STYLE}`,
    body,
  });
}

function sheet(plan: Plan, change: ChangeSheet): Html {
  const advice = plan.intervals.find(({ group }) => group === change.group);
  const to = change.toDays === null ? 'run until it leaks' : spanWords(change.toDays);
  return html`<section class="sheet">
<h2>${name(change.group)}: ${KINDS[change.kind]}</h2>
<p class="fromto">Today <b>${spanWords(change.fromDays)}</b> → proposed <b>${to}</b></p>
<p>${prose(change.because)}</p>
${advice === undefined ? null : costTable(advice, plan.site.currency)}
${evidenceTable(change)}
<h3>${HEADING.whatItRestsOn}</h3>
${bullets(restsOn(plan, change))}
<h3>${HEADING.limitsAndWarnings}</h3>
${bullets(limitPoints(change, advice))}
<h3>${HEADING.positions}</h3>
<p>${count(change.positions.length, 'position')}${criticalityText(change)}: ${tagsText(change)}</p>
${signTable()}
<p class="small">${name(plan.site.name)}. weirwise ${plan.version}, seed ${plan.seed}, inputs ${plan.inputsHash}, data until ${dateWords(plan.site.dataUntil)}. ${plan.caution}</p>
</section>
`;
}

function costTable(advice: IntervalAdvice, currency: string): Html {
  const row = (what: string, today: string, proposed: string): string[] => [what, today, proposed];
  const short = (value: number): string => amount(value, 3);
  return dataTable({
    caption: `Per position and year, long run; money in ${currency}`,
    columns: [{ title: '' }, { title: COLUMN.today, number: true }, { title: COLUMN.proposed, number: true }],
    rows: [
      row('Cost, on average', short(advice.costPerYearToday), short(advice.costPerYear)),
      row('Cost, 5 % to 95 %', '', range(...advice.costRange, short)),
      row('Leaks', short(advice.leaksPerYearToday), short(advice.leaksPerYear)),
      row('Diaphragms fitted', short(advice.replacementsPerYearToday), short(advice.replacementsPerYear)),
      row('Chance that the proposal costs less', '', chanceWords(advice.chanceBetter)),
      row(
        'If it turns out badly (worst tenth of what is possible): dearer than today by; below 0, still cheaper',
        '',
        short(advice.worstTenth),
      ),
      row('What perfect knowledge of the life model would save on average', '', short(advice.expectedRegret)),
    ],
  });
}

function evidenceTable({ evidence, kind }: ChangeSheet): Html {
  const stricter =
    kind === 'longer' || kind === 'no schedule'
      ? 'Evidence asked for; replacing later is asked for more than replacing sooner'
      : 'Evidence asked for';
  return dataTable({
    caption: stricter,
    columns: [
      { title: COLUMN.what },
      { title: COLUMN.asked },
      { title: COLUMN.found },
      { title: COLUMN.met },
    ],
    rows: evidence.map((point) => [
      prose(point.what),
      prose(point.asked),
      prose(point.found),
      html`<b>${metWord(point)}</b>`,
    ]),
    cards: true,
  });
}

function metWord({ met }: EvidencePoint): string {
  if (met === null) return 'to be judged';
  return met ? 'yes' : 'no';
}

function restsOn({ findings, assumed, site }: Plan, { data, model }: ChangeSheet): Html[] {
  const lives = HISTORY_FILES.map((name) => findings.files.find(({ file }) => file === name)).find(Boolean);
  const { shape, scaleDays, b10Days, borrowed, supportedAgeDays } = model;
  const rest = data.leaks - data.wearLeaks - data.earlyLeaks;
  const parts = [
    `${amount(data.wearLeaks)} by wear-out`,
    `${amount(data.earlyLeaks)} in the first 60 days`,
    ...(rest < LEAST_REST
      ? []
      : [`${amount(rest, 1)} by faults of fitting found later or early without a reason`]),
  ];
  const leaks = `${amount(data.leaks)} leaks, of these ${listed(parts)}`;
  return [
    html`<b>Data used:</b> ${count(data.lives, 'life', 'lives')}, ${leaks}; ${count(data.withoutReason, 'removal')} without a reason, weighed by age.`,
    html`<b>Set aside:</b> ${count(data.setAside, 'life', 'lives')} of this kind without a known age${lives === undefined ? '' : `; in ${lives.file} as a whole ${count(lives.rowsSetAside, 'row')} of ${amount(lives.rowsIn, 9)}`}.`,
    html`<b>Model:</b> Weibull wear-out with a share of faulty fittings, 90 % bounds: shape ${range(shape.low, shape.high, (value) => fixed(value, 1))}; scale ${monthsSpan([scaleDays.low, scaleDays.high])} months; one in ten has leaked by ${monthsSpan([b10Days.low, b10Days.high])} months. ${percent(borrowed)} of what is known of the scale comes from groups alike.`,
    html`<b>Supported up to</b> ${supportedAgeDays === null ? 'no age' : spanWords(supportedAgeDays)}: beyond, too few lives were watched.`,
    html`<b>A life ends</b> ${site.event === 'damage' ? 'when it leaks; damage is shown apart' : 'when it leaks or fails a test'}.`,
    ...(assumed.length === 0 ? [] : [html`<b>Assumed:</b> ${prose(assumed.join(' '))}`]),
  ];
}

function limitPoints({ limit }: ChangeSheet, advice: IntervalAdvice | undefined): Html[] {
  const cap =
    limit === null
      ? 'No limit of the maker is given for this material and size: ask, and keep the answer with this sheet.'
      : `The ${limit.text} is respected.`;
  const warnings = advice?.warnings ?? [];
  return [
    html`${prose(cap)}`,
    ...(advice?.cappedBy == null ? [] : [html`Held down by: ${prose(advice.cappedBy)}.`]),
    ...warnings.map(({ text, todo }) => html`${prose(text)} <b>${prose(todo)}</b>`),
  ];
}

function criticalityText({ byCriticality }: ChangeSheet): string {
  const words = Object.entries(byCriticality).map(([criticality, number]) => `${number} ${criticality}`);
  return words.length === 0 ? '' : ` (${listed(words)})`;
}

function tagsText({ positions }: ChangeSheet): Html {
  const shown = positions
    .slice(0, MOST_TAGS)
    .map((tag, i) => html`${i === 0 ? '' : ', '}<span class="day">${name(tag)}</span>`);
  const rest = positions.length - shown.length;
  return html`${shown}${rest > 0 ? ` and ${rest} more (due-dates.csv)` : ''}.`;
}

/** Blank lines for people: nothing here is filled in by a program. */
function signTable(): Html {
  const roles = ['Prepared by', 'Checked by', 'Approved by'];
  const rows = roles.map((role) => html`<tr><th scope="row">${role}</th><td></td><td></td><td></td></tr>`);
  const more = ['Valid from', 'To be reviewed on', 'Remarks'].map(
    (what) => html`<tr><th scope="row">${what}</th><td colspan="3"></td></tr>`,
  );
  return html`<div class="scroll" tabindex="0" role="group" aria-label="Approval, to be filled in by hand"><table class="sign">
<caption>Approval, to be filled in by hand</caption>
<thead><tr><th scope="col"></th><th scope="col">Name</th><th scope="col">Date</th><th scope="col">Signature</th></tr></thead>
<tbody>${rows}${more}</tbody></table></div>
`;
}
