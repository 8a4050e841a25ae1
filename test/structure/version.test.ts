import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { VERSION } from '../../lib/version.js';
import { ROOT } from './source.js';

it('the version in results is the version of the package', () => {
  const { version } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8')) as { version: string };
  expect(VERSION).toBe(version);
});
