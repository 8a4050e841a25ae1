/** Key of the fit of a group: a line for each curve with its parameters, and what the leaks show. */
import type { GroupResult } from '../group/resultTypes.js';
import { days, one, wearWords } from './fitWords.js';
import { label, layer } from './marks.js';
import { COLOUR } from './theme.js';
import type { Layer } from './types.js';
import { amount } from './words.js';

/** Widths of the two curves and height of a line of the key, px. */
export const PLANNED_WIDTH = 3;
export const OWN_WIDTH = 1.6;
export const NOTE_LINE = 16;
/** Length of the lines in the key, px. */
const KEY_LINE = 20;

export interface Note {
  words: string;
  /** Line of the key before the words. */
  line: { color: string; width: number } | null;
}

/** Notes below each other from a place, px. */
export function fitKey(notes: readonly Note[], left: number, first: number): Layer[] {
  return notes.flatMap(({ words, line }, i) => {
    const y = first + NOTE_LINE * i;
    const text = label(
      [{ label: words }],
      { x: { value: line === null ? left : left + KEY_LINE + 5 }, y: { value: y } },
      { color: line === null ? COLOUR.text : COLOUR.ink },
    );
    return line === null ? [text] : [keyLine(line, left, y), text];
  });
}

function keyLine({ color, width }: { color: string; width: number }, left: number, y: number): Layer {
  return layer({ type: 'rule', color, strokeWidth: width, opacity: 1 }, [{}], {
    x: { value: left },
    x2: { value: left + KEY_LINE },
    y: { value: y },
  });
}

/** A line of the key per curve, then what the leaks show and the lives without one. */
export function fitNotes(group: GroupResult): Note[] {
  const { model, planned, method } = group;
  const quiet = Math.max(0, Math.round(group.lives - group.failures));
  const own: Note = {
    words: `own data: β ${one(model.shape)}, η ${days(model.scale)} days`,
    line: { color: COLOUR.ink, width: OWN_WIDTH },
  };
  return [
    ...(method === 'likelihood' ? [own] : []),
    {
      words: `planned on: β ${one(planned.shape.median)}, η ${days(planned.scale.median)} days`,
      line: { color: COLOUR.rust, width: PLANNED_WIDTH },
    },
    { words: wearWords(group), line: null },
    {
      words: quiet === 0 ? 'every life ended in a leak' : `${amount(quiet, 9)} without a leak (ticks)`,
      line: null,
    },
  ];
}
