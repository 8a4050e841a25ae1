/** The files kept in data-demo are what the program beside them writes. */
import { readdirSync, readFileSync, statSync } from 'node:fs';
import { join } from 'node:path';
import { describe, expect, it } from 'vitest';
import { demoFiles } from '../../data-demo/plant/demo.js';
import { makePlant } from '../../data-demo/plant/makePlant.js';
import { ROOT } from '../structure/source.js';

const FOLDER = join(ROOT, 'data-demo');
const written = demoFiles();

describe('the files of the demo plant', () => {
  it.each(Object.keys(written))('%s is reproduced byte for byte', (name) => {
    const kept = readFileSync(join(FOLDER, name));
    expect(kept.equals(Buffer.from(written[name] ?? '', 'utf8'))).toBe(true);
  });

  it('are all there is beside the program, and small', () => {
    const kept = readdirSync(FOLDER).filter((name) => /\.(csv|json)$/.test(name));
    expect(kept.sort()).toEqual(Object.keys(written).sort());
    const bytes = kept.reduce((sum, name) => sum + statSync(join(FOLDER, name)).size, 0);
    expect(bytes).toBeLessThan(2.5e6);
  });

  it('differ from seed to seed', () => {
    const [first, second] = [makePlant({ seed: 1 }), makePlant({ seed: 2 })];
    expect(first.files['lives.csv']).not.toBe(second.files['lives.csv']);
    expect(makePlant({ seed: 1 })).toEqual(first);
  });
});
