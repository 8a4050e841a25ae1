/** Exports of work orders of invented plants: what is proposed is right or asked, and what is read with it is what was exported. */
import { beforeAll, describe, expect, it } from 'vitest';
import { proposeMapping } from '../../../lib/fleet/mapping/proposeMapping.js';
import { siteText } from '../../../lib/fleet/mapping/siteText.js';
import { sourcesOf } from '../../../lib/fleet/mapping/sources.js';
import { isWritten, type MapProposal } from '../../../lib/fleet/mapping/types.js';
import { readMappings } from '../../../lib/fleet/mappings.js';
import { fleetOf } from '../../../lib/fleet/read.js';
import { rawSite } from '../../../lib/fleet/settings.js';
import { FINDINGS_AT_REMOVAL, type Fleet, REASONS } from '../../../lib/fleet/types.js';
import { columnHits } from '../../fixtures/exports/columnHits.js';
import type { Dialect } from '../../fixtures/exports/dialects.js';
import { type Export, makeExport } from '../../fixtures/exports/makeExport.js';
import { ORDER_DIALECTS } from '../../fixtures/exports/orderDialects.js';
import { type OrderPlant, orderPlant } from '../../fixtures/exports/orderPlant.js';
import { demoPart, type Plant } from '../../fixtures/exports/plant.js';
import { livesOf, readFiles } from '../files.js';

let plant: OrderPlant;
const tried: { dialect: Dialect; made: Export; proposal: MapProposal }[] = [];
const DAYS = { data_until: '2026-09-30', records_from: '2018-10-01' };

beforeAll(async () => {
  plant = orderPlant(await demoPart());
  for (const dialect of ORDER_DIALECTS) {
    const made = makeExport(plant, dialect);
    tried.push({ dialect, made, proposal: proposeMapping(sourcesOf(made.files, 1e9), readMappings({})) });
  }
}, 30_000);

const cases = ORDER_DIALECTS.map(({ name }, i) => [name, i] as const);
const one = (i: number) => tried[i] as (typeof tried)[number];

describe('exports of work orders', () => {
  it.each(cases)('%s: no column is wrong or missed, and no table of lives is proposed', (_name, i) => {
    const { made, proposal } = one(i);
    const hits = columnHits(made, proposal);
    expect(hits).toMatchObject({ wrong: 0, missed: 0 });
    expect(hits.asked).toBeLessThanOrEqual(1);
    expect(proposal.tables.map(({ table }) => table)).toEqual(['positions.csv', 'work-orders.csv']);
  });

  it.each(cases)('%s: words are right or asked', (_name, i) => {
    const { dialect, proposal } = one(i);
    const meant = (column: string, ours: string | null) => dialect.words[column]?.[ours ?? ''];
    const written = proposal.words.filter(isWritten);
    expect(written.filter(({ column, ours, theirs }) => meant(column, ours) !== theirs)).toEqual([]);
    expect(written.length).toBeGreaterThan(0.85 * proposal.words.length);
    expect(new Set(proposal.words.map(({ column }) => column))).toContain('work');
  });

  it.each(cases)('%s: what is read with the proposal is what was exported', (_name, i) => {
    const { made } = one(i);
    const site = new TextEncoder().encode(JSON.stringify(answered(i)));
    const fleet = fleetOf({ files: new Map([...made.files, ['site.json', site]]), hash: '', unread: [] });
    const expected = baseline(i);
    const tags = ({ positions }: Fleet) =>
      positions.map(({ position, size, line }) => `${position} ${size} ${line}`).sort();
    expect(tags(fleet)).toEqual(tags(expected));
    expect(livesAndWords(fleet)).toEqual(livesAndWords(expected));
    expect(fleet.lives.length).toBeGreaterThan(400);
  });

  it('ask about a test that does not say how it went, and about work that is not known', () => {
    const asked = (i: number) =>
      one(i)
        .proposal.words.filter((word) => word.column === 'work' && !isWritten(word))
        .map(({ theirs }) => theirs);
    expect(asked(1)).toEqual(['Test d’étanchéité']);
    expect(asked(4).sort()).toEqual(['Prueba de estanqueidad', 'Repaso general']);
    expect(
      one(4)
        .proposal.questions.map(({ text }) => text)
        .join(),
    ).toMatch(/words of work mean: .*"Repaso general".*one of replaced, opened, fitted/);
  });

  it('give the positions where no table lists the valves', () => {
    expect(one(2).proposal.tables[0]).toMatchObject({ table: 'positions.csv', takenFrom: 'work-orders.csv' });
    expect(answered(2).files).toMatchObject({ 'positions.csv': { from: 'work-orders.csv' } });
  });
});

/** The proposal after a person who knows the plant has answered what is asked. */
function answered(i: number): Record<string, Record<string, unknown> | string> {
  const { dialect, made, proposal } = one(i);
  const site = rawSite(new TextEncoder().encode(siteText(proposal, {}))) as Record<
    string,
    Record<string, Record<string, unknown>>
  >;
  const set = (section: string, part: string, key: string, value: string): void => {
    site[section] = { ...site[section], [part]: { ...site[section]?.[part], [key]: value } };
  };
  for (const { table, columns } of proposal.tables) {
    for (const { ours, asked } of columns) {
      const theirs = made.truth.get(table)?.get(ours);
      if (asked && theirs !== undefined) set('columns', table, theirs, ours);
    }
  }
  for (const word of proposal.words.filter((other) => !isWritten(other))) {
    const meant = Object.entries(dialect.words[word.column] ?? {}).find(([, text]) => text === word.theirs);
    if (meant !== undefined) set('values', word.column, word.theirs, meant[0]);
  }
  return { ...site, ...DAYS };
}

/** The same columns by our own names, in the plain form. */
function baseline(i: number): Fleet {
  const { made, dialect } = one(i);
  const worked = new Set(plant['work-orders.csv'].map(({ position }) => position));
  const files: Record<string, string> = {};
  for (const [table, columns] of made.truth) {
    const names = [...columns.keys()];
    const all = plant[table as keyof Plant];
    const taken = table === 'positions.csv' && !(table in dialect.tables);
    const rows = taken ? all.filter(({ position }) => worked.has(position)) : all;
    files[table] =
      `${names.join(',')}\n${rows.map((row) => names.map((name) => row[name] ?? '').join(',')).join('\n')}\n`;
  }
  return readFiles({ ...files, 'site.json': DAYS });
}

function livesAndWords(fleet: Fleet): string[] {
  const { lives, lotNames, fitters } = fleet;
  return livesOf(fleet)
    .map((text, i) => {
      const words = `${REASONS[lives.reason[i] ?? -1]} ${FINDINGS_AT_REMOVAL[lives.finding[i] ?? -1]}`;
      return `${text} ${words} ${lotNames[lives.lot[i] ?? -1]} ${fitters[lives.fittedBy[i] ?? -1]} ${lives.lastTight[i]} ${lives.recorded[i]}`;
    })
    .sort();
}
