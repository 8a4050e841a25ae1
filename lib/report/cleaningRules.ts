/** What the cleaning rules found: a table for the report, a line for the screen. Rules that found nothing and are on are left out. */
import { amount } from '../chart/words.js';
import type { RuleCount, RuleExample } from '../findings.js';
import { CLEANING_RULES } from '../fleet/cleaning/rules.js';
import { dataTable, type Html, html, name, prose } from './markup.js';
import { COLUMN } from './texts.js';

export function rulesPart(rules: readonly RuleCount[]): Html | null {
  const told = toldRules(rules);
  if (told.length === 0) return null;
  return dataTable({
    caption:
      'Cleaning rules, each with how often it found something; site.json can switch them off under "cleaning"',
    columns: [
      { title: COLUMN.rule },
      { title: COLUMN.looksFor },
      { title: COLUMN.found, number: true },
      { title: COLUMN.mended, number: true },
      { title: COLUMN.setAside, number: true },
      { title: COLUMN.askedAbout, number: true },
      { title: COLUMN.firstExamples },
    ],
    rows: told.map((count) => [
      name(`${plainRule(count.rule)}${count.on ? '' : ' (off)'}`),
      prose(CLEANING_RULES.find((rule) => rule.name === count.rule)?.looksFor ?? ''),
      ...[count.found, count.mended, count.setAside, count.asked].map((number) => amount(number, 9)),
      examplesOf(count),
    ]),
    cards: true,
  });
}

/** One line, such as: rules  overlaps 33, gaps 277 (asked); null where no rule found anything. */
export function rulesLine(rules: readonly RuleCount[]): string | null {
  const told = toldRules(rules).map(
    ({ rule, on, found }) => `${plainRule(rule)} ${on ? amount(found, 9) : 'off'}`,
  );
  return told.length === 0 ? null : `Found by cleaning rules: ${told.join(', ')}`;
}

function toldRules(rules: readonly RuleCount[]): RuleCount[] {
  return rules.filter(({ found, on }) => found > 0 || !on);
}

function plainRule(rule: string): string {
  return rule.replaceAll('_', ' ');
}

/** Rows by file: lives.csv rows 25, 35, 200. Where no row is meant, the value. */
function examplesOf({ examples }: RuleCount): Html {
  const files = [...new Set(examples.map(({ file }) => file))];
  return html`${files.map((file, i) => html`${i === 0 ? '' : '; '}${file}${placesOf(examples.filter((one) => one.file === file))}`)}`;
}

function placesOf(examples: readonly RuleExample[]): Html {
  const rows = examples.flatMap(({ row }) => (row === null ? [] : [String(row)]));
  if (rows.length > 0) return html` ${rows.length === 1 ? 'row' : 'rows'} ${rows.join(', ')}`;
  const values = examples.flatMap(({ value }) => (value === null || value === '' ? [] : [value]));
  return html`${values.map((value, i) => html`${i === 0 ? ': ' : ', '}${name(value)}`)}`;
}
