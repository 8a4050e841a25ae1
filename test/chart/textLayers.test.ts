/** Texts put together into few layers: each stands where it stood, looks as it looked, and none is lost. */
import { describe, expect, it } from 'vitest';
import { frameSpec } from '../../lib/chart/frame.js';
import { label, layer, onScale } from '../../lib/chart/marks.js';
import { withTextsTogether } from '../../lib/chart/textLayers.js';
import type { Layer } from '../../lib/chart/types.js';
import { draw } from '../../lib/render/svg.js';

const SCALE = { domain: [0, 10], nice: false, zero: false };
const ROWS = [
  { x: 1, y: 2, label: 'low' },
  { x: 9, y: 8, label: 'high' },
];
const AXES = { x: onScale('x', SCALE), y: onScale('y', SCALE) };
const at = (x: number, y: number) => ({ x: { value: x }, y: { value: y } });

const TEXTS: Layer[] = [
  label(ROWS, AXES, { align: 'right', dx: -4, bold: true }),
  label([{ label: 'corner' }], at(8, 12), { color: '#96371b' }),
  label([{ label: 'beside', x: 5, y: 5 }], AXES, { dy: -6, size: 9 }),
  label([{ label: 'side' }], at(3, 40)),
  layer({ type: 'text', angle: 270 }, [{ label: 'up' }], {
    ...at(20, 60),
    text: { field: 'label', type: 'nominal' },
  }),
  layer({ type: 'text', limit: 20 }, [{ label: 'cut short for want of room' }], {
    ...at(60, 60),
    text: { field: 'label', type: 'nominal' },
  }),
];
const POINTS = layer({ type: 'point' }, ROWS, AXES);

/** Text elements of a picture, sorted, without what says which group they are in. */
async function textsOf(layers: readonly Layer[]): Promise<string[]> {
  const words = { title: 'T', finding: 'F', description: 'D' };
  const spec = frameSpec({ ...words, height: 100, left: 40, right: 40, layers: [] });
  const { svg, warnings } = await draw({ ...spec, layer: layers });
  expect(warnings).toEqual([]);
  return (svg.match(/<text .*?<\/text>/g) ?? [])
    .map((text) => text.replace(/ (?:opacity="[^"]*"|font-weight="normal")/g, ''))
    .sort();
}

describe('texts put together', () => {
  it('look as they did apart', async () => {
    const together = withTextsTogether([POINTS, ...TEXTS]);
    const [before, after] = [await textsOf([POINTS, ...TEXTS]), await textsOf(together)];
    expect(before.length).toBeGreaterThanOrEqual(7);
    expect(after).toEqual(before);
  });

  it('make one layer for each way to place them, on top; what differs in more stays apart', () => {
    const together = withTextsTogether([TEXTS[0] as Layer, POINTS, ...TEXTS.slice(1)]);
    expect(together.map(({ mark }) => (mark as { type: string }).type)).toEqual([
      'point',
      'text',
      'text',
      'text',
    ]);
    expect(together.filter(({ mark }) => 'limit' in (mark as object))).toHaveLength(1);
  });
});
