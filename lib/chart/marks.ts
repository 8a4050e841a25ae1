/** The marks that the charts are made of. Positions are fields of the data unless they say px. */
import { COLOUR, LABEL_SIZE } from './theme.js';
import type { Layer } from './types.js';

type Encoding = Record<string, unknown>;
type Row = Record<string, unknown>;

export interface Axes {
  x: Encoding;
  y: Encoding;
}

/** A position channel without axis, on the scale that the first layer draws. */
export function onScale(field: string, scale: Encoding): Encoding {
  return { field, type: 'quantitative', scale, title: null };
}

/** Layer of one mark; decoration unless it carries data that a reader would ask for. */
export function layer(mark: Encoding, values: Row[], encoding: Encoding): Layer {
  return { data: { values }, mark: { aria: false, ...mark }, encoding };
}

/** Text beside a point: `dx`, `dy` in px, bold and rust where it names the proposal. */
export function label(
  values: Row[],
  axes: Axes,
  { align = 'left', dx = 0, dy = 0, color = COLOUR.ink as string, bold = false, size = LABEL_SIZE } = {},
): Layer {
  return layer(
    {
      type: 'text',
      align,
      baseline: 'middle',
      dx,
      dy,
      color,
      fontSize: size,
      fontWeight: bold ? 'bold' : 'normal',
    },
    values,
    { ...axes, text: { field: 'label', type: 'nominal' } },
  );
}

/** A hollow circle: today, or a point of the data. */
export function circles(values: Row[], axes: Axes, size = 55, color: string = COLOUR.ink): Layer {
  return layer(
    {
      type: 'point',
      shape: 'circle',
      filled: true,
      fill: COLOUR.paper,
      stroke: color,
      strokeWidth: 1.8,
      size,
      opacity: 1,
    },
    values,
    { ...axes },
  );
}

/** A filled diamond: what is proposed. */
export function diamonds(values: Row[], axes: Axes, size = 85): Layer {
  return layer(
    {
      type: 'point',
      shape: 'diamond',
      filled: true,
      fill: COLOUR.rust,
      stroke: COLOUR.rust,
      strokeWidth: 0.5,
      size,
      opacity: 1,
    },
    values,
    { ...axes },
  );
}
