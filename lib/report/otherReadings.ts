/** Other readings of the same records: reasons that are not known read otherwise, and damage instead of leaks. */

import { amount, count, dateWords, percent, plainName, range } from '../chart/words.js';
import type { Drawn, UnknownResult } from '../group/resultTypes.js';
import type { GroupResult, Plan } from '../planTypes.js';
import { dataTable, folded, type Html, html, name, prose } from './markup.js';
import { CAPTION, COLUMN, HEADING, SENTENCE } from './texts.js';

/** Removals whose reason is asked for, over the whole plant. */
const MOST_REMOVALS = 20;

export function otherReadings({ groups }: Plan): Html {
  return html`${unknownPart(groups)}${damagePart(groups)}`;
}

/** What unknown reasons mean in one group. */
export interface Unknown {
  group: string;
  unknown: UnknownResult;
}

function unknownPart(groups: readonly GroupResult[]): Html | null {
  const all = groups.flatMap(({ group, unknown }): Unknown[] =>
    unknown === null ? [] : [{ group, unknown }],
  );
  if (all.length === 0) return null;
  const parted = all.filter(({ unknown }) => unknown.parts);
  const calm = all.length - parted.length;
  const calmText =
    calm === 0
      ? ''
      : ` In ${count(calm, 'group')} it moves by no more than 5 %${parted.length === 0 ? '' : ': not listed'}.`;
  const tables = parted.length === 0 ? null : html`${sensitivityTable(parted)}${removalsTable(parted)}`;
  return folded(
    html`<b>If removals without a reason were leaks more or less often</b>`,
    html`<p>The plan counts each as a leak with the chance that known removals near its age give. Here the odds are multiplied by k; the age by which 10 % have leaked, by each group’s own data alone, shows how much hangs on it.${calmText}</p>${tables}`,
    true,
  );
}

function sensitivityTable(parted: readonly Unknown[]): Html {
  const factors = parted[0]?.unknown.k ?? [];
  const titles = factors.map((k) => {
    if (k === 0) return 'k 0: none a leak';
    if (k === 'infinite') return 'All leaks';
    return k === 1 ? 'k 1: as planned' : `k ${amount(k)}`;
  });
  return dataTable({
    caption: CAPTION.daysWhich10PercentHave,
    columns: [
      { title: COLUMN.group },
      { title: COLUMN.withoutReason, number: true },
      ...titles.map((title) => ({ title, number: true })),
    ],
    rows: parted.map(({ group, unknown }) => [
      prose(group),
      unknown.removals,
      ...unknown.b10.map((age) => (age === null ? 'under 1 leak' : amount(age))),
    ]),
    cards: true,
  });
}

/** A removal without a reason, and its group. */
export type ReasonToAsk = UnknownResult['rows'][number] & { group: string };

/** The removals whose reason would move most, over all groups. */
export function reasonsToAsk(groups: readonly Unknown[]): ReasonToAsk[] {
  return groups
    .flatMap(({ group, unknown }) => {
      const now = unknown.b10[unknown.k.indexOf(1)] ?? Number.POSITIVE_INFINITY;
      return unknown.rows.map((row) => ({ row: { ...row, group }, told: toldBy(row) / now }));
    })
    .sort((a, b) => b.told - a.told)
    .slice(0, MOST_REMOVALS)
    .map(({ row }) => row);
}

function removalsTable(parted: readonly Unknown[]): Html {
  const removals = reasonsToAsk(parted);
  return dataTable({
    caption: CAPTION.reasonsAskFirstWhatKnowing,
    columns: [
      { title: COLUMN.position },
      { title: COLUMN.group },
      { title: COLUMN.removed },
      { title: COLUMN.ageDays, number: true },
      { title: COLUMN.countsAsALeak, number: true },
      { title: COLUMN.tenPercentAgeIfLeak, number: true },
    ],
    rows: removals.map((row) => [
      name(row.position),
      plainName(row.group),
      dateWords(row.removed),
      amount(row.age),
      percent(row.chance),
      signed(row.effect),
    ]),
    cards: true,
  });
}

/** What knowing the reason is expected to move: the effect times the standard deviation of a leak with that chance. */
function toldBy({ chance, effect }: UnknownResult['rows'][number]): number {
  return Math.abs(effect) * Math.sqrt(chance * (1 - chance));
}

function signed(value: number): string {
  return `${value > 0 ? '+' : ''}${amount(value, 2)}`;
}

function damagePart(groups: readonly GroupResult[]): Html | null {
  const asked = groups.filter(({ damage }) => damage !== null);
  if (asked.length === 0) return null;
  return html`<h3>${HEADING.shareFoundDamagedAge}</h3>
<p>${SENTENCE.siteAsksDamageDamagedDiaphragmHas}</p>
${dataTable({
  caption: CAPTION.shareDiaphragmsDamagedAgeFaulty,
  columns: [
    { title: COLUMN.group },
    { title: COLUMN.foundDamagedThoseLooked },
    { title: COLUMN.leaksBeside },
    { title: COLUMN.by6Months },
    { title: COLUMN.by1Year },
    { title: COLUMN.by2Years },
    { title: COLUMN.fromDamageLeakMeanDays },
  ],
  rows: asked.map(damageRow),
  cards: true,
})}`;
}

function damageRow({ group, damage }: GroupResult): (Html | string)[] {
  const [damaged, sound, leaks] = [damage?.damaged ?? 0, damage?.sound ?? 0, damage?.leaks ?? 0];
  const found = [`${amount(damaged, 9)} of ${amount(damaged + sound, 9)}`, amount(leaks, 9)];
  const life = damage?.life ?? null;
  if (life === null) return [prose(group), ...found, 'none found', '', '', ''];
  return [
    prose(group),
    ...found,
    ...life.share.map((share) => drawnText(share, percent)),
    drawnText(life.delay, (days) => amount(days, 2)),
  ];
}

function drawnText({ low, median, high }: Drawn, words: (value: number) => string): string {
  return `${words(median)} (${range(low, high, words)})`;
}
