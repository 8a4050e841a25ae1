/** A picture of no plant: the marks that the charts are made of, for a thread to practise on before it is asked. */
import { frameSpec, type Layer } from '../chart/frame.js';
import type { ChartSpec } from '../chart/types.js';

const ROWS = Array.from({ length: 20 }, (_, i) => ({
  x: i,
  y: i * i,
  low: (i * i) / 2,
  to: i + 1,
  label: `${i}`,
}));
const TEXT = { field: 'label', type: 'nominal' };
const MARKS: readonly { mark: Record<string, unknown>; more?: Record<string, unknown> }[] = [
  { mark: { type: 'area', interpolate: 'monotone', clip: true }, more: { y2: { field: 'low' } } },
  { mark: { type: 'line', interpolate: 'monotone', clip: true } },
  { mark: { type: 'rect' }, more: { x2: { field: 'to' }, y2: { value: 100 } } },
  { mark: { type: 'rule', strokeDash: [2, 3] }, more: { y2: { value: 22 } } },
  { mark: { type: 'point', filled: true } },
  { mark: { type: 'text', align: 'left', dx: 5 }, more: { text: TEXT } },
];

/** A chart of every mark, in the frame of all charts. */
export function sampleSpec(): ChartSpec {
  return frameSpec({
    title: 'Sample',
    finding: 'Marks of the charts',
    description: 'Marks of the charts',
    height: 200,
    left: 56,
    right: 18,
    unit: 'unit',
    across: 'unit',
    layers: MARKS.map(({ mark, more }) => layerOf(mark, more)),
  });
}

function layerOf(mark: Record<string, unknown>, more: Record<string, unknown> = {}): Layer {
  const scale = (high: number) => ({ domain: [0, high], nice: false, zero: false });
  return {
    data: { values: ROWS },
    mark: { aria: false, ...mark },
    encoding: {
      x: { field: 'x', type: 'quantitative', scale: scale(20), axis: { values: [0, 10, 20], grid: false } },
      y: { field: 'y', type: 'quantitative', scale: scale(400), axis: { values: [0, 200, 400], grid: true } },
      ...more,
    },
  };
}
