import { describe, expect, it } from 'vitest';
import { exposeLives } from '../../lib/exposure/exposeLives.js';
import { readingColumns } from '../../lib/exposure/readingColumns.js';
import { readFiles } from '../fleet/files.js';

const files = {
  'positions.csv': 'position,size\nV1,25\nV2,25\n',
  'lives.csv': 'position,material,fitted\nV1,EPDM,2024-01-01\nV2,EPDM,2024-01-05\n',
};
const rows = 'V2,2024-02-01,50,\nV1,2024-01-01,100,7\nV2,2024-01-05,20,\nV1,2024-02-01,200,\n';
const read = readFiles({ ...files, 'readings.csv': `position,date,strokes,hot_cleans\n${rows}` });

describe('readingColumns', () => {
  const given = {
    position: ['V2', 'V1', 'V2', 'V1'],
    date: ['2024-02-01', '2024-01-01', '2024-01-05', '2024-02-01'],
    strokes: [50, 100, 20, 200],
    hotCleans: [Number.NaN, 7, Number.NaN, Number.NaN],
  };

  it('gives the same exposures as the file read', () => {
    const readings = readingColumns(given, read.positions);
    expect(readings).toEqual(read.readings);
    expect(exposeLives({ ...readFiles(files), site: read.site, readings })).toEqual(exposeLives(read));
  });

  it('takes indexes and days as numbers', () => {
    const { position, date, ...counters } = readingColumns(given, read.positions);
    expect(readingColumns({ position, date, ...counters }, read.positions)).toEqual(read.readings);
  });

  it('refuses what is no table of the fleet', () => {
    const wrong = (change: Partial<typeof given>) => () =>
      readingColumns({ ...given, ...change }, read.positions);
    expect(wrong({ position: ['V2', 'V1', 'V9', 'V1'] })).toThrow(
      'row 3 names no position of the fleet. Received "V9".',
    );
    expect(wrong({ date: ['2024-02-01', '2024-02-30', '2024-01-05', '2024-02-01'] })).toThrow(
      'row 2: date must be a day that exists',
    );
    expect(wrong({ strokes: [1] })).toThrow('strokes must have as many rows as date, 4. Received 1.');
    expect(() => readingColumns({ position: [2], date: [1] }, read.positions)).toThrow(
      'row 1 names no position',
    );
    expect(() => readingColumns({ position: [0], date: [1.5] }, read.positions)).toThrow('whole days');
  });
});
