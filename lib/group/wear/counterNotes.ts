/** What counters did besides rising, in a sentence a kind. */
import type { CounterEventCode, ExposureFindings } from '../../exposure/exposureTypes.js';
import type { Fleet } from '../../fleet/types.js';
import { count, listed } from '../../numeric/words.js';

const MOST_NAMED = 5;

/** One counter, and several. */
const WORDS: Readonly<Record<CounterEventCode, readonly [one: string, many: string]>> = {
  'rolled-over': [
    'counter passed its highest standing and went on from zero',
    'counters passed their highest standing and went on from zero',
  ],
  reset: ['counter was set to zero', 'counters were set to zero'],
  'reset-at-fitting': [
    'counter was set to zero when a diaphragm was fitted',
    'counters were set to zero when a diaphragm was fitted',
  ],
  replaced: ['counter was replaced by another', 'counters were replaced by others'],
  jumped: ['counter leapt and went on from there', 'counters leapt and went on from there'],
  misread: [
    'reading does not fit its neighbours and is set aside',
    'readings do not fit their neighbours and are set aside',
  ],
  'zero-for-missing': [
    'reading of 0 stands for one that was not taken and is set aside',
    'readings of 0 stand for ones that were not taken and are set aside',
  ],
  'two-values-on-a-day': ['day has two readings', 'days have two readings'],
  'stood-still': [
    'counter stood still for months though it used to rise; the time is bridged by the rate of its position',
    'counters stood still for months though they used to rise; the time is bridged by the rate of their positions',
  ],
  'never-moved': [
    'counter never moved; the use in positions.csv is taken instead',
    'counters never moved; the use in positions.csv is taken instead',
  ],
  'rose-while-idle': [
    'counter rose while its position is given as idle',
    'counters rose while their positions are given as idle',
  ],
  'rate-unlike-duty': [
    'counter runs at another rate than positions.csv gives; the readings are used',
    'counters run at another rate than positions.csv gives; the readings are used',
  ],
};

/** Kinds in which somebody should look at the counter or the file. */
export function counterNotes(fleet: Fleet, { events, eventCounts }: ExposureFindings): string[] {
  const told = eventCounts.map(({ code, number }) => {
    const own = events.filter((event) => event.code === code);
    const names = [...new Set(own.map(({ position }) => position))];
    const [one, many] = WORDS[code];
    return `${count(number, one, many)} (${listed(names, MOST_NAMED)}). ${own[0]?.todo ?? ''}`.trim();
  });
  return fleet.filesRead.includes('readings.csv') || fleet.readings.length > 0
    ? told
    : [
        'No counter was read: all counts are assumed from positions.csv. Counters read twice a year (readings.csv) would tell what wears these diaphragms.',
        ...told,
      ];
}
