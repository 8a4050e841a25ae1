/** The page of a notebook on dark paper: its rules name the colours of the charts. */
import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, it } from 'vitest';
import { COLOUR, type ColourRole, DARK } from '../../lib/chart/theme.js';
import { ROOT } from '../structure/source.js';

it('every colour of the charts has its dark one in the page of the notebooks', () => {
  const page = readFileSync(join(ROOT, 'notebooks', 'template', 'page', 'index.html.j2'), 'utf8');
  const rules = [...page.matchAll(/figure \[(fill|stroke)="(#\w+)"\] \{ (fill|stroke): (#\w+); \}/g)];
  for (const what of ['fill', 'stroke']) {
    const found = rules.filter(([, attribute, , property]) => attribute === what && property === what);
    const wanted = (Object.keys(COLOUR) as ColourRole[]).map((role) => [COLOUR[role], DARK[role]]);
    expect(found.map(([, , light, , dark]) => [light, dark])).toEqual(wanted);
  }
});
