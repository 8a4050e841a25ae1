import { describe, expect, it } from 'vitest';
import type { ShutdownLoad, ShutdownTask } from '../../lib/interval/types.js';
import type { Plan } from '../../lib/planTypes.js';
import { figures } from '../../lib/report/figure.js';
import { aboutWords, gathered } from '../../lib/report/gather.js';
import { headerPart } from '../../lib/report/header.js';
import { maintenancePart, nextWindow } from '../../lib/report/maintenance.js';
import { folded, type Html, html } from '../../lib/report/markup.js';
import { windowsOf } from '../../lib/report/pickLists.js';
import { lineTable } from '../../lib/report/shutdowns.js';
import { summaryText } from '../../lib/report/summary.js';
import { emptyPlan, ordinaryPlan, quietPlan } from '../fixtures/plan.js';

const FIGURES = figures();

const textOf = ({ markup }: Html): string =>
  markup
    .replace(/<[^>]+>/g, ' ')
    .replace(/\u00a0/g, ' ')
    .replace(/\s+/g, ' ');

const rowsOf = ({ markup }: Html): string[][] =>
  [...markup.matchAll(/<tr>(.*?)<\/tr>/g)].map(([, row = '']) =>
    [...row.matchAll(/<t[hd][^>]*>(.*?)<\/t[hd]>/g)].map(([, cell = '']) => cell.replace(/<[^>]+>/g, '')),
  );

/** Two lines; at D6 nothing fits. Crew hours 7, of which 6.5 are used: 3.2 h of work are left over. */
function shortPlan(): Plan {
  const plan = ordinaryPlan();
  const base = plan.shutdownPlan[0] as ShutdownTask;
  const task = (
    position: string,
    line: string,
    fits: boolean,
    fitterHours: number,
    instrumentHours: number,
  ) => ({
    ...base,
    position,
    line,
    fits,
    shortOf: fits ? null : ('crew hours' as const),
    fitterHours,
    instrumentHours,
    afterStartUpHours: 0.2,
    costOfWaiting: 410.3,
  });
  const shutdownPlan = [
    task('V-3', 'D5', true, 2, 0.5),
    task('V-1', 'D5', true, 4, 0),
    task('V-2', 'D6', false, 2, 0.2),
    task('V-9', 'D6', false, 1, 0),
  ];
  const load: ShutdownLoad = {
    ...(plan.shutdowns[0] as ShutdownLoad),
    crewHours: 7,
    hoursNeeded: 9.7,
    hoursPlanned: 6.5,
    hoursAfterStartUp: 0.4,
    replacements: 2,
    doNotFit: 2,
  };
  return { ...plan, shutdownPlan, shutdowns: [load] };
}

describe('maintenance part', () => {
  it('says how many hours of which craft would make all fit, and what waiting costs', () => {
    const text = textOf(maintenancePart(shortPlan(), FIGURES));
    expect(text).toContain('2 replacements , 6.5 h of 7 h of the crew. 2 do not fit.');
    expect(text).toContain(
      '2.7 h more make all of it fit : the work left over takes 3 h fitters, 0.2 h instruments, less 0.5 h of crew hours that are left over.',
    );
    expect(text).toContain('Leaving them until their next windows costs 821 EUR on average');
    expect(text).toContain('After start-up: plan 0.4 h of fitters to re-tighten');
    expect(text).toContain('They are on D6 ');
  });

  it('says what is lacking where it is not the hours of the whole crew', () => {
    const plan = shortPlan();
    const kinds = ['fitter hours', 'closed'] as const;
    let next = 0;
    const shutdownPlan = plan.shutdownPlan.map((task) =>
      task.fits ? task : { ...task, shortOf: kinds[next++] ?? null },
    );
    const text = textOf(maintenancePart({ ...plan, shutdownPlan }, FIGURES));
    expect(text).toContain(
      'They do not fit: 1 for want of hours of fitters and 1 for want of leave to touch them (not_on)',
    );
    expect(text).toContain(
      'The work left over takes 3 h fitters, 0.2 h instruments; of the crew’s hours 0.5 h are left.',
    );
    expect(text).not.toContain('more make all of it fit');
  });

  it('keeps planned and not fitting hours apart by line, with a total that adds up', () => {
    const rows = rowsOf(lineTable(shortPlan().shutdownPlan)).slice(1);
    expect(rows).toEqual([
      ['D5', 'Hall 1, bay 10', '2', '6', '0.5', '0.4', '0', '0'],
      ['D6', 'Hall 1, bay 10', '0', '0', '0', '0', '2', '3.2'],
      ['All lines', '', '2', '6', '0.5', '0.4', '2', '3.2'],
    ]);
  });

  it('has a row for each place on a line, and no column of places where the plant gives none', () => {
    const tasks = shortPlan().shutdownPlan.map((task, i) => ({ ...task, location: `Hall ${i % 2}` }));
    expect(rowsOf(lineTable(tasks)).map((row) => row.slice(0, 3))).toEqual([
      ['Line', 'Location', 'Replacements'],
      ['D5', 'Hall 0', '1'],
      ['D5', 'Hall 1', '1'],
      ['D6', 'Hall 0', '0'],
      ['D6', 'Hall 1', '0'],
      ['All lines', '', '2'],
    ]);
    const nowhere = tasks.map((task) => ({ ...task, location: '' }));
    expect(rowsOf(lineTable(nowhere))[0]?.slice(0, 2)).toEqual(['Line', 'Replacements']);
  });

  it('lists tasks by line and position, only what fits', () => {
    const { markup } = maintenancePart(shortPlan(), FIGURES);
    const list = markup.slice(markup.indexOf('Task list to take along'));
    expect(list.indexOf('V-1')).toBeGreaterThan(0);
    expect(list.indexOf('V-1')).toBeLessThan(list.indexOf('V-3'));
    expect(list.slice(0, list.indexOf('All shutdowns'))).not.toContain('V-2');
  });

  it('tells how good the plan is after the lists of all shutdowns', () => {
    const { markup } = maintenancePart(ordinaryPlan(), FIGURES);
    const later = markup.lastIndexOf('By line and position');
    expect(later).toBeGreaterThan(markup.indexOf('All shutdowns'));
    expect(markup.indexOf('How good this plan is')).toBeGreaterThan(later);
  });

  it('names parts of which the shelf holds too few, and the order for them', () => {
    const plan = shortPlan();
    const [kit] = plan.kits;
    if (kit === undefined) throw new Error('the fixture has kits');
    const taken = { shelf: 24, 'on order': 0, late: 0, planned: 0 };
    const enough = { ...kit, layOut: 24, onShelf: 24, taken };
    const lacking = {
      ...kit,
      item: 'DIA-7',
      layOut: 24,
      onShelf: 9,
      onTheWay: 0,
      toOrder: 11,
      short: 4,
      taken: { ...taken, shelf: 9, planned: 11 },
    };
    const text = textOf(maintenancePart({ ...plan, kits: [enough, lacking] }, FIGURES));
    expect(text).toMatch(
      /Parts of which the kit takes more than the shelf is expected to hold on 6 Apr 2026/,
    );
    expect(text).toMatch(/DIA-7 EPDM DN 25 24 24 22 24 9 \d+ 11 4/);
    expect(text).not.toContain(`${kit.item} EPDM DN 25 24`);
    const full = maintenancePart({ ...plan, kits: [enough] }, FIGURES);
    expect(textOf(full)).toContain('The shelf holds enough of every part for this shutdown.');
  });

  it('has a card and an entry of its own, and words for nothing to do', () => {
    expect(headerPart(ordinaryPlan()).markup).toContain('<a href="#maintenance">Maintenance</a>');
    expect(nextWindow(emptyPlan())).toBeNull();
    expect(textOf(maintenancePart(emptyPlan(), FIGURES))).toContain('No replacement falls into');
    expect(textOf(maintenancePart(quietPlan(), FIGURES))).toContain('no crew hours are given');
  });

  it('finds the tasks of a month in a due list', () => {
    const plan = ordinaryPlan();
    const base = plan.shutdownPlan[0] as ShutdownTask;
    const month = {
      ...(plan.shutdowns[0] as ShutdownLoad),
      shutdown: 'due 2026-04',
      start: '2026-04-01',
      end: '2026-04-30',
    };
    const shutdownPlan = ['2026-04-01', '2026-04-17'].map((start) => ({
      ...base,
      shutdown: 'due 2026-04',
      start,
    }));
    expect(windowsOf({ ...plan, shutdowns: [month], shutdownPlan })[0]?.tasks).toHaveLength(2);
  });
});

describe('summary of shutdowns and kept intervals', () => {
  it('keeps planned and not fitting hours apart and counts what does not fit one way', () => {
    const text = summaryText(shortPlan(), 'out').replace(/\u00a0/g, ' ');
    expect(text).toMatch(/Spring shutdown 2026 +6 Apr 2026 +2 +6\.5 +7 +2 +3\.2 +0\.4/);
    expect(text).toContain('Do not fit: 2 in Spring shutdown 2026.');
  });

  it('gives a kept interval one line of reason', () => {
    const plan = ordinaryPlan();
    const long = plan.intervals.map((each) => ({
      ...each,
      because: 'x '.repeat(400),
      inShort: 'y'.repeat(200),
    }));
    const lines = summaryText({ ...plan, intervals: long }, 'out').split('\n');
    const reasons = lines.filter((line) => line.includes('because yyy'));
    expect(reasons).toHaveLength(plan.intervals.filter(({ action }) => action === 'keep').length);
    for (const line of reasons) expect(line.length).toBeLessThanOrEqual(110);
  });
});

describe('alike warnings', () => {
  it('are said once, with the groups named', () => {
    const warning = (text: string) => ({ code: 'unknown-reasons', text, todo: 'Ask.' });
    const kinds = gathered([
      { about: null, warning: { code: 'plant', text: 'All.', todo: 'Do.' } },
      { about: 'A', warning: warning('3 removals') },
      { about: 'B', warning: warning('5 removals') },
      { about: 'A', warning: { code: 'other', text: 'Else.', todo: 'Look.' } },
    ]);
    expect(kinds).toEqual([
      { about: [], texts: ['All.'], todo: 'Do.' },
      { about: ['A', 'B'], texts: ['3 removals', '5 removals'], todo: 'Ask.' },
      { about: ['A'], texts: ['Else.'], todo: 'Look.' },
    ]);
  });
});

describe('names of groups in a warning', () => {
  it('are kept apart though they hold commas, and are not listed without end', () => {
    const kind = { about: ['A, dairy', 'B, dairy', 'C'], texts: [], todo: '' };
    expect(aboutWords(kind, 3)).toBe('A, dairy; B, dairy; C');
    expect(aboutWords(kind, 1)).toBe('A, dairy; 2 more');
  });
});

describe('folded parts on paper', () => {
  it('stand open or say where to look', () => {
    expect(folded('a', html`b`, true).markup).toContain('class="print"');
    expect(folded('a', html`b`, 'see order-list.csv').markup).toContain('(not printed: see order-list.csv)');
    expect(folded('a', html`b`).markup).toContain('not printed');
  });
});
