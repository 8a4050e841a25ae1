/** Lives or work orders: which of the two a table is, what is asked, and words for work that must not be guessed. */
import { describe, expect, it } from 'vitest';
import { proposeMapping } from '../../../lib/fleet/mapping/proposeMapping.js';
import { proposeWords } from '../../../lib/fleet/mapping/proposeWords.js';
import { sourcesOf } from '../../../lib/fleet/mapping/sources.js';
import { isWritten, type MapProposal } from '../../../lib/fleet/mapping/types.js';
import { LANGUAGES } from '../../../lib/fleet/mapping/words/languages.js';
import { readMappings } from '../../../lib/fleet/mappings.js';
import { WORKS } from '../../../lib/fleet/workOrders/types.js';

const WORK = ['Membran gewechselt', 'Sichtprüfung', 'Schrauben nachgezogen', 'Membran gewechselt'];
const two = (number: number): string => String(number).padStart(2, '0');
/** Forty rows of ten valves; `cells` by row. */
const table = (header: string, cells: (i: number) => string): string =>
  `${header}\n${Array.from({ length: 40 }, (_, i) => `FV-${100 + (i % 10)};${cells(i)}`).join('\n')}\n`;
const day = (i: number, year = 2021): string => `${two(13 + (i % 15))}.${two(1 + (i % 12))}.${year}`;
const valves = `Ventil;Nennweite\n${Array.from({ length: 10 }, (_, i) => `FV-${100 + i};25`).join('\n')}\n`;

function propose(files: Record<string, string>): MapProposal {
  const bytes = Object.entries({ 'Ventile.csv': valves, ...files }).map(
    ([name, text]) => [name, new TextEncoder().encode(text)] as const,
  );
  return proposeMapping(sourcesOf(new Map(bytes), 1e8), readMappings({}));
}
const tables = ({ tables: all }: MapProposal): string[] => all.map(({ table: name }) => name);

describe('a history', () => {
  it('with one day and a kind of work is one of work orders, whatever it is called', () => {
    for (const name of ['Membranwechsel.csv', 'a.csv', 'Historie.csv']) {
      const text = table('Ventil;Datum;Tätigkeit;Werkstoff', (i) => `${day(i)};${WORK[i % 4]};EPDM`);
      expect(tables(propose({ [name]: text })), name).toEqual(['positions.csv', 'work-orders.csv']);
    }
  });

  it('with days that it was written beside those of the work is one of work orders all the same', () => {
    const text = table(
      'Ventil;Datum;Tätigkeit;Werkstoff;erfasst am',
      (i) => `${day(i)};${WORK[i % 4]};EPDM;${day(i, 2022)}`,
    );
    const proposal = propose({ 'Export.csv': text });
    expect(tables(proposal)).toEqual(['positions.csv', 'work-orders.csv']);
    const found = proposal.tables[1]?.columns.map(({ ours, theirs }) => `${ours}: ${theirs}`);
    expect(found).toEqual(expect.arrayContaining(['date: Datum', 'recorded: erfasst am']));
  });

  it('with a day fitted and a day removed is one of lives, even beside a kind of work', () => {
    const text = table(
      'Ventil;Eingebaut am;Ausgebaut am;Tätigkeit;Werkstoff',
      (i) => `${day(i)};${day(i, 2022)};${WORK[i % 4]};EPDM`,
    );
    for (const name of ['Aufträge.csv', 'a.csv'])
      expect(tables(propose({ [name]: text })), name).toEqual(['positions.csv', 'lives.csv']);
  });

  it('may be both: lives, and orders that go on from them', () => {
    const lives = table(
      'Ventil;Eingebaut am;Ausgebaut am;Werkstoff',
      (i) => `${day(i)};${day(i, 2022)};EPDM`,
    );
    const orders = table('Ventil;Datum;Tätigkeit', (i) => `${day(i, 2023)};${WORK[i % 4]}`);
    const proposal = propose({ 'Wechsel.csv': lives, 'Aufträge.csv': orders });
    expect(tables(proposal)).toEqual(['positions.csv', 'lives.csv', 'work-orders.csv']);
  });

  it('that is missing may have either shape, and what is nearest is named', () => {
    const { questions } = propose({ 'Aufträge.csv': table('Ventil;Tätigkeit', (i) => `${WORK[i % 4]}`) });
    expect(questions[0]?.text).toMatch(/No table is one of lives .* or of work orders/);
    expect(questions[0]?.text).toMatch(/Aufträge\.csv is most like a table of work orders, .* for date\./);
    expect(questions[0]?.answer).toContain('"work-orders.csv": { "your column": "date" }');
  });

  it('of orders without a reason is asked for it', () => {
    const text = table('Ventil;Datum;Tätigkeit;Feld', (i) => `${day(i)};${WORK[i % 4]};x${i % 30}`);
    const asked = propose({ 'Aufträge.csv': text }).questions.map(({ text: one }) => one);
    expect(asked.join()).toMatch(/the reason of work-orders\.csv; .*Is it one of "Feld"/);
  });
});

describe('words for work', () => {
  const one = (text: string, language: string | null) =>
    proposeWords('work', new Map([[text, 3]]), new Map(), language)[0];

  it.each(LANGUAGES.slice(1).map((language) => [language.name, language] as const))(
    '%s has some for each work, and none leads to another',
    (name, language) => {
      expect(Object.keys(language.work).sort()).toEqual([...WORKS].sort());
      for (const [ours, words] of Object.entries(language.work)) {
        for (const word of words.split(',').map((text) => text.trim().replace(/^~/, ''))) {
          const found = one(word, name);
          if (found !== undefined && isWritten(found)) expect(found.ours, word).toBe(ours);
        }
      }
    },
  );

  it.each([
    ['English', 'positioner replaced'],
    ['German', 'Antrieb gewechselt'],
    ['French', 'remplacement actionneur'],
    ['Polish', 'wymiana napędu'],
    ['English', 'gasket changed'],
    ['English', 'leak test failed'],
    ['English', 'leak test'],
    ['German', 'Dichtheitsprüfung nicht bestanden'],
    ['German', 'undicht'],
    ['Polish', 'próba szczelności negatywna'],
    ['Czech', 'netěsný'],
    ['Finnish', 'koe hylätty'],
    ['Italian', 'prova non superata'],
    ['English', 'not replaced'],
    ['English', 'replacement cancelled'],
    ['German', 'Instandsetzung'],
    ['German', 'demontiert'],
    ['English', 'dismantled'],
  ])('%s "%s" is asked', (language, text) => {
    const found = one(text, language);
    expect(found === undefined || isWritten(found)).toBe(false);
  });
});
