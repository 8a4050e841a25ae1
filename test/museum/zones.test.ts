/**
 * The same bytes in every time zone: what is found in the files, and the months under a chart (github.com/vega/vega-lite/issues/4044,
 * github.com/SheetJS/sheetjs/issues/2153).
 */
import { execFileSync } from 'node:child_process';
import { describe, expect, it } from 'vitest';

const ZONES = ['UTC', 'America/New_York', 'Asia/Kolkata', 'Pacific/Apia', 'Pacific/Auckland'];

/** Run in a process of its own, which moves from zone to zone. */
const SCRIPT = `
  
  import { demandByMonth } from './lib/chart/demandByMonth.ts';
  import { textFromDay } from './lib/numeric/day.ts';
  import { fleetOf } from './lib/fleet/read.ts';
  import { chartSvg } from './lib/render/svg.ts';
  import { ordinaryPlan as plan } from './test/fixtures/plan.ts';
  import { createHash } from 'node:crypto';
  const hash = (text) => createHash('sha256').update(text).digest('hex');
  const months = ['2024-06', '2024-07', '2025-01'];
  const demand = months.map((month) => ({ ...plan().demand[0], month }));
  const bytes = (text) => new TextEncoder().encode(text);
  const head = 'position,size,in_service_since,idle\\n';
  const lives = 'V1,EPDM,31.12.99,01.03.2024 23:30,leak\\nV1,EPDM,1/3/24,44148,leak\\nV1,EPDM,31/03/2024,2024-11-10T00:30:00+14:00,leak\\n'
    + 'V2,EPDM,30.12.2011,31.12.2011,leak\\nV2,EPDM,2025-01-01,,\\nV2,EPDM,2024-02-30,,\\nV3,EPDM,01/03/2020,44148,leak\\n';
  const files = new Map([
    ['positions.csv', bytes(head + 'V1,25,1999-12-31,2024-03-01..2024-03-31\\nV2,25,,\\nV3,25,,\\n')],
    ['lives.csv', bytes('position,material,fitted,removed,reason\\n' + lives)],
    ['work-orders.csv', bytes('position,date,work,material\\nV2,2024-10-27,replaced,EPDM\\n')],
    ['site.json', bytes('{"data_until":"2024-11-10"}')],
  ]);
  const out = {};
  for (const zone of ${JSON.stringify(ZONES)}) {
    process.env.TZ = zone;
    const { findings, lives } = fleetOf({ files, hash: '', unread: [] });
    const svg = await chartSvg(demandByMonth('D-1', demand));
    out[zone] = {
      offset: new Date(2024, 0, 1).getTimezoneOffset(),
      serial: textFromDay(lives.removed[lives.row.indexOf(7)]),
      codes: findings.problems.map(({ code }) => code),
      findings: hash(JSON.stringify(findings)),
      lives: hash(JSON.stringify([...lives.fitted, ...lives.removed])),
      labels: [...svg.matchAll(/>([A-Z][a-z]{2}|20\\d\\d)</g)].map(([, text]) => text),
      svg: hash(svg),
    };
  }
  process.stdout.write(JSON.stringify(out));
`;

interface Seen {
  offset: number;
  serial: string;
  codes: string[];
  labels: string[];
}

describe('time zones', () => {
  const out = execFileSync(process.execPath, ['--import', 'tsx', '--input-type=module', '-e', SCRIPT], {
    encoding: 'utf8',
  });
  const seen = JSON.parse(out) as Record<string, Seen>;

  it('were those that were asked for', () => {
    // Minutes west of Greenwich on 2024-01-01.
    expect(ZONES.map((zone) => seen[zone]?.offset)).toEqual([0, 300, -330, -780, -780]);
  });

  it.each(ZONES)('what is found, the lives and the chart are the same: %s', (zone) => {
    const { offset, ...rest } = seen[zone] as Seen;
    const { offset: ofUtc, ...utc } = seen.UTC as Seen;
    expect(rest).toEqual(utc);
    expect([typeof offset, ofUtc]).toEqual(['number', 0]);
  });

  it('the findings are not empty, and the months are those given', () => {
    expect(seen.UTC?.codes).toEqual(
      expect.arrayContaining(['date-does-not-exist', 'fitted-after-data', 'time-left-out']),
    );
    expect(seen.UTC?.serial).toBe('2020-11-13');
    expect(seen.UTC?.labels).toEqual(['Jun', '2024', 'Jul', 'Jan', '2025']);
  });
});
