/** Counters that do anything but rise: what is made of them, worked by hand. */
import { describe, expect, it } from 'vitest';
import { type DaySpans, type ExposedSpans, exposeSpans } from '../../lib/exposure/exposeSpans.js';
import { EXPOSURE_MARKS, type ExposureOptions } from '../../lib/exposure/exposureTypes.js';
import { counted, type Duty, type ReadingRow, spansOf } from './fixtures.js';

/** Strokes at days 0, 100, 200 and so on. */
function follow(
  values: readonly (number | readonly [day: number, value: number])[],
  { duty = {}, spans, ...options }: { duty?: Duty; spans?: DaySpans } & ExposureOptions = {},
): {
  counts: number[];
  byRate: number[];
  marks: (string | undefined)[];
  events: string[];
  exposed: ExposedSpans;
} {
  const rows = values.map((value, k): ReadingRow => {
    const [day, strokes] = typeof value === 'number' ? [100 * k, value] : value;
    return [0, day, strokes];
  });
  const last = Math.max(...rows.map(([, day]) => day));
  const exposed = exposeSpans(counted(rows, [duty]), spans ?? spansOf([0, last]), options);
  return {
    counts: [...exposed.strokes.exposure],
    byRate: [...exposed.strokes.byRate],
    marks: Array.from(exposed.strokes.mark, (k) => EXPOSURE_MARKS[k]),
    events: exposed.findings.events.map(({ code }) => code),
    exposed,
  };
}

describe('a counter that falls', () => {
  it('went round: the rise is known', () => {
    const got = follow([6000, 7000, 8000, 9000, 9990, 1010, 2000]);
    expect(got).toMatchObject({ counts: [6000], byRate: [0], marks: ['measured'], events: ['rolled-over'] });
    const [event] = got.exposed.findings.events;
    expect(event).toMatchObject({
      position: 'V1',
      counter: 'strokes',
      before: { date: '1971-02-05', value: 9990 },
      after: { date: '1971-05-16', value: 1010 },
    });
    expect(event?.text).toContain(
      'V1, strokes: the counter fell from 9\u00a0990 (1971-02-05) to 1\u00a0010 (1971-05-16)',
    );
    expect(event?.todo).not.toBe('');
  });

  it('was set to zero: what it counted before is bridged by the rate of the position', () => {
    // 1000 in 100 days everywhere else; it shows 400 after the fall.
    const got = follow([6000, 7000, 8000, 400, 1400]);
    expect(got).toMatchObject({ counts: [4000], byRate: [600], marks: ['bridged'], events: ['reset'] });
  });

  it('was set to zero at a fitting: the new life is counted by the counter alone', () => {
    const spans = spansOf([0, 240], [240, 400]);
    const got = follow([6000, 7000, 8000, 620, 1620], { spans });
    // 40 days bridged at 10.125 a day: 2000 + 620 + 1000 in 360 days were read... the rate is 3620 / 360.
    const rate = 3620 / 360;
    expect(got.events).toEqual(['reset-at-fitting']);
    expect(got.counts[0]).toBeCloseTo(2000 + 40 * rate, 9);
    expect(got.counts[1]).toBe(1620);
    expect(got.byRate[0]).toBeCloseTo(40 * rate, 9);
    expect(got.byRate[1]).toBe(0);
    expect(got.marks).toEqual(['bridged', 'measured']);
  });

  it('was replaced by one that does not begin at zero: the step is bridged', () => {
    const got = follow([60000, 61000, 62000, 30000, 31000]);
    expect(got).toMatchObject({ counts: [4000], byRate: [1000], marks: ['bridged'], events: ['replaced'] });
  });

  it('passes: a reading too low between two that go on is set aside', () => {
    const got = follow([50000, 51000, 5200, 53000, 54000]);
    expect(got).toMatchObject({ counts: [4000], byRate: [0], marks: ['measured'], events: ['misread'] });
    expect(got.exposed.findings.setAside).toMatchObject([{ code: 'misread', number: 1 }]);
  });

  it('shows zero for a year in the middle: those are not readings', () => {
    const got = follow([5000, 6000, 0, 0, 0, 0, 11000, 12000]);
    expect(got).toMatchObject({ counts: [7000], byRate: [0] });
    expect(got.exposed.findings.eventCounts).toEqual([{ code: 'zero-for-missing', number: 4 }]);
    expect(got.exposed.findings).toMatchObject({ rowsIn: 8, rowsUsed: 4, rowsSetAside: 4 });
  });

  it('together with another counter was set to zero, near a power of ten too', () => {
    const rows: ReadingRow[] = [
      [0, 0, 7000, 70],
      [0, 100, 8000, 80],
      [0, 200, 9000, 90],
      [0, 300, 900, 5],
      [0, 400, 1900, 15],
    ];
    const { findings } = exposeSpans(counted(rows), spansOf([0, 400]));
    expect(findings.events.map(({ code, counter }) => [code, counter])).toEqual([
      ['reset', 'strokes'],
      ['reset', 'steamCycles'],
    ]);
  });

  it('is not known over the fall where nothing tells a rate', () => {
    const spans = spansOf([-3, 100], [-3, 5], [-3, 96]);
    const got = follow([5000, 200], { spans });
    expect(got.events).toEqual(['reset']);
    expect(got.marks).toEqual(['unknown', 'measured', 'unknown']);
    expect(got.counts).toEqual([Number.NaN, 0, Number.NaN]);
    expect(follow([5000, 200], { duty: { strokesPerDay: 9 } })).toMatchObject({
      counts: [900],
      marks: ['assumed'],
    });
  });

  it('on the day of fitting: that life begins at zero', () => {
    expect(follow([5000, 200])).toMatchObject({ counts: [200], byRate: [0], events: ['reset-at-fitting'] });
  });

  it('is bridged no further than the limit', () => {
    const long = [
      [0, 0],
      [100, 1000],
      [700, 500],
      [800, 1500],
    ] as const;
    expect(follow(long)).toMatchObject({ marks: ['unknown'], events: ['reset'] });
    // Nor further than the 200 days over which the rate was measured; another 400 days of readings make it 600.
    expect(follow(long, { longestBridgeDays: 600 })).toMatchObject({ marks: ['unknown'] });
    const longer = [...long, [1000, 3500], [1200, 5500]] as const;
    expect(follow(longer, { longestBridgeDays: 600 })).toMatchObject({ counts: [12000], marks: ['bridged'] });
    // 1000 and 1000 read, 600 days by duty.
    expect(follow(long, { duty: { strokesPerDay: 5 } })).toMatchObject({
      counts: [5000],
      marks: ['assumed'],
    });
  });
});

describe('a counter that leaps', () => {
  it('by a million and back: those readings are set aside', () => {
    const got = follow([0, 1000, 1_002_000, 1_003_000, 4000, 5000]);
    expect(got).toMatchObject({ counts: [5000], byRate: [0], events: ['misread', 'misread'] });
  });

  it('by a million and stays: another counter, the step is bridged', () => {
    const got = follow([0, 1000, 2000, 1_003_000, 1_004_000, 1_005_000]);
    expect(got).toMatchObject({ counts: [5000], byRate: [1000], marks: ['bridged'], events: ['jumped'] });
  });

  it('at the last reading: the same, and told', () => {
    expect(follow([0, 1000, 2000, 1_003_000])).toMatchObject({ counts: [3000], events: ['jumped'] });
  });

  it('is believed where the higher pace lasts: a new duty', () => {
    const got = follow([0, 10, 20, 30, 5030, 10030]);
    expect(got).toMatchObject({ counts: [10030], byRate: [0], events: [] });
  });

  it('is believed where few are counted at all', () => {
    expect(follow([0, 1, 1, [250, 4], [800, 5], [801, 6]])).toMatchObject({ counts: [6], events: [] });
  });
});

describe('a counter that stands still', () => {
  const stops = [0, 1000, 2010, 2990, 2990, 2990, 2990, 2990, 3990, 5000];

  it('for long though it used to rise: bridged, or idle if the caller says so', () => {
    const got = follow(stops);
    // 5000 in the 500 days in which it rose.
    expect(got).toMatchObject({
      counts: [9000],
      byRate: [4000],
      marks: ['bridged'],
      events: ['stood-still'],
    });
    expect(follow(stops, { flat: 'idle' })).toMatchObject({
      counts: [5000],
      marks: ['measured'],
      events: [],
    });
  });

  it('is nothing to tell while the position is idle by positions.csv', () => {
    const duty = { idle: [{ start: 300, end: 700 }] };
    expect(follow(stops, { duty })).toMatchObject({ counts: [5000], byRate: [0], events: [] });
  });

  it('is nothing to tell where it counts rarely or unevenly', () => {
    expect(follow([0, 1, 3, 4, 4, 4, 4, 5, 7])).toMatchObject({ counts: [7], events: [] });
    expect(follow([0, 3000, 3000, 3100, 9000, 9000, 9000, 9000, 9500, 15000])).toMatchObject({
      counts: [15000],
      events: [],
    });
  });

  it('always, against the duty: the duty is used', () => {
    const got = follow([42, 42, 42, 42], { duty: { strokesPerDay: 8 } });
    expect(got).toMatchObject({ counts: [2400], marks: ['assumed'], events: ['never-moved'] });
    expect(got.exposed.findings).toMatchObject({ rowsUsed: 0, rowsSetAside: 4 });
    expect(follow([42, 42, 42, 42])).toMatchObject({ counts: [0], marks: ['measured'], events: [] });
  });

  it('rising while idle is told and spread over the days', () => {
    const duty = { idle: [{ start: 100, end: 200 }] };
    const got = follow([0, 1000, 1400, 2400], { duty, spans: spansOf([0, 125], [125, 300]) });
    expect(got).toMatchObject({ counts: [1100, 1300], events: ['rose-while-idle'] });
  });
});

describe('two values on one day', () => {
  it('keeps the one between the days before and after', () => {
    const got = follow([0, 1000, [200, 200], [200, 2000], [300, 3000]]);
    expect(got).toMatchObject({ counts: [3000], events: ['two-values-on-a-day'] });
    expect(got.exposed.findings.setAside).toMatchObject([{ code: 'twice-on-a-day', number: 1 }]);
  });

  it('keeps the first where both fit, and says nothing of the same value twice', () => {
    const twice = follow([0, 1000, [200, 2000], [200, 2100], [300, 3000]], { spans: spansOf([0, 200]) });
    expect(twice).toMatchObject({ counts: [2000], events: ['two-values-on-a-day'] });
    const same = follow([0, 1000, [200, 2000], [200, 2000], [300, 3000]]);
    expect(same).toMatchObject({ counts: [3000], events: [] });
    expect(same.exposed.findings).toMatchObject({ rowsUsed: 4, rowsSetAside: 1 });
  });

  it('keeps both where the counter was replaced that day, in either order', () => {
    for (const day of [
      [2000, 0],
      [0, 2000],
    ] as const) {
      const got = follow([0, 1000, [200, day[0]], [200, day[1]], [300, 990], [400, 1990]]);
      expect(got).toMatchObject({ counts: [3990], byRate: [0], marks: ['measured'], events: ['reset'] });
    }
  });
});

describe('what else is asked', () => {
  it('a rate far from the duty in positions.csv', () => {
    const got = follow([0, 7000, 14000], { duty: { strokesPerDay: 10 } });
    expect(got).toMatchObject({ counts: [14000], events: ['rate-unlike-duty'] });
    expect(got.exposed.findings.events[0]?.text).toContain('the readings give 70 a day and positions.csv 10');
    expect(follow([0, 700, 1400], { duty: { strokesPerDay: 10 } }).events).toEqual([]);
  });

  it('sets aside what is no count', () => {
    const got = follow([0, -5, 2000, Infinity, 4000]);
    expect(got).toMatchObject({ counts: [4000] });
    expect(got.exposed.findings.setAside).toMatchObject([{ code: 'not-a-count', number: 2 }]);
  });

  it('lists the first of each kind and counts all', () => {
    const values = Array.from({ length: 41 }, (_, k) => (k % 4 === 3 ? 0 : 1000 * k));
    const { exposed } = follow(values, { mostListed: 3 });
    expect(exposed.findings.events).toHaveLength(3);
    expect(exposed.findings.eventCounts).toEqual([{ code: 'zero-for-missing', number: 10 }]);
  });

  it('marks what lies between readings far apart', () => {
    const got = follow(
      [
        [0, 0],
        [500, 5000],
      ],
      { spans: spansOf([0, 250], [0, 500], [3, 497]) },
    );
    expect(got).toMatchObject({ counts: [2500, 5000, 4940], marks: ['bridged', 'measured', 'measured'] });
  });

  it('refuses spans that make no sense', () => {
    const fleet = counted([[0, 0, 0]]);
    expect(() => exposeSpans(fleet, spansOf([5, 4]))).toThrow(
      'row 1 of spans ends before it begins. Received "5 to 4".',
    );
    expect(() => exposeSpans(fleet, { ...spansOf([4, 5]), position: Int32Array.of(1) })).toThrow(
      'there are 1 positions',
    );
    expect(() => exposeSpans(fleet, { ...spansOf([4, 5]), to: new Float64Array(2) })).toThrow('same length');
    expect(() => exposeSpans(fleet, spansOf([0.5, 4]))).toThrow('whole days');
  });
});
