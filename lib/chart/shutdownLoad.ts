/** Work of each shutdown against the hours its crew has: rust for what does not fit. */

import { shortfallWords } from '../interval/shortfall.js';
import type { ShutdownLoad, ShutdownTask } from '../interval/types.js';
import { fine, roundTicks, tickText } from './axes.js';
import { frameSpec, plotWidth } from './frame.js';
import { layer, onScale } from './marks.js';
import { endWords, type RowAxes, rowAxes, rowFrame } from './rows.js';
import { AXIS, COLUMN, KEY, TITLE } from './texts.js';
import { COLOUR } from './theme.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { count, dateWords, hoursText, hoursWords, plainName } from './words.js';

const MOST_SHUTDOWNS = 20;
const ROW = 32;

/** `tasks` are the rows of the work list, from which what does not fit is counted. */
export function shutdownLoad(loads: readonly ShutdownLoad[], tasks: readonly ShutdownTask[]): Chart {
  const shown = loads.slice(0, MOST_SHUTDOWNS);
  const title = TITLE.shutdownLoadAgainstCrewHours;
  const finding = findingOf(loads, tasks);
  const description = `${finding}. ${shown.map(loadText).join('; ')}.`;
  return {
    name: 'shutdown-load',
    title,
    finding,
    description,
    spec: specOf(shown, { title, finding, description }),
    table: tableOf(loads),
    leftOut:
      loads.length > shown.length
        ? `The picture shows the first ${MOST_SHUTDOWNS} of ${loads.length} shutdowns.`
        : null,
  };
}

function findingOf(loads: readonly ShutdownLoad[], tasks: readonly ShutdownTask[]): string {
  if (loads.length === 0) return 'No shutdown is planned';
  const over = loads.filter(({ doNotFit }) => doNotFit > 0);
  const worst = [...over].sort((a, b) => hoursShort(b) - hoursShort(a))[0];
  const words = shortfallWords(tasks);
  if (worst === undefined || words === null)
    return `All planned replacements fit into ${count(loads.length, 'shutdown')}`;
  return `Do not fit: ${plainName(words)}; most hours are short in ${plainName(worst.shutdown)}: ${hoursWords(hoursShort(worst))}`;
}

/** Hours that would have to be added for everything to fit. */
function hoursShort({ hoursNeeded, crewHours, doNotFit }: ShutdownLoad): number {
  return doNotFit === 0 || crewHours === null ? 0 : Math.max(0, hoursNeeded - crewHours);
}

function loadText(load: ShutdownLoad): string {
  const crew =
    load.crewHours === null ? 'no limit of crew hours given' : `${hoursText(load.crewHours)} crew hours`;
  const rest = load.doNotFit > 0 ? `, ${load.doNotFit} do not fit` : '';
  return `${plainName(load.shutdown)} (${dateWords(load.start)}): ${count(load.replacements, 'replacement')}, ${hoursWords(load.hoursNeeded)} of work, ${crew}${rest}`;
}

function specOf(
  shown: readonly ShutdownLoad[],
  texts: { title: string; finding: string; description: string },
): Chart['spec'] {
  const rows = rowAxes(
    shown.map((load) => `${plainName(load.shutdown)}\n${dateWords(load.start)}`),
    ROW,
  );
  const words = shown.map(wordsOf);
  const frame = rowFrame(rows, words, 130, true);
  return frameSpec({
    ...texts,
    height: rows.height,
    across: AXIS.hoursWorkWithinWindow,
    ...frame,
    layers: [
      ...layersOf(shown, rows),
      ...rows.names,
      ...endWords(words, rows, frame, plotWidth(frame)),
      ...keyLayer(shown),
    ],
  });
}

function wordsOf(load: ShutdownLoad): { text: string; bold: boolean; rust: boolean } {
  if (load.doNotFit > 0)
    return { text: `+${hoursWords(hoursShort(load))} (${load.doNotFit})`, bold: true, rust: true };
  return { text: `${load.replacements} fit`, bold: false, rust: false };
}

function layersOf(shown: readonly ShutdownLoad[], rows: RowAxes): Layer[] {
  const highest = Math.max(1, ...shown.map((load) => Math.max(load.hoursNeeded, load.crewHours ?? 0)));
  const scale = { domain: [0, fine(highest * 1.03)], nice: false, zero: false };
  const ticks = roundTicks(highest, 4).filter((tick) => tick <= highest * 1.03);
  const values = shown.map((load, i) => ({
    zero: 0,
    planned: fine(load.hoursPlanned),
    needed: fine(Math.max(load.hoursNeeded, load.hoursPlanned)),
    crew: load.crewHours === null ? null : fine(load.crewHours),
    from: i + 0.18,
    to: i + 0.82,
    top: i + 0.05,
    foot: i + 0.95,
  }));
  const band = { y: rows.y('from'), y2: { field: 'to' } };
  const axis = {
    values: ticks,
    grid: true,
    labelExpr: tickText(),
    labelOverlap: true,
  };
  return [
    layer({ type: 'rule', opacity: 0 }, [{ zero: 0 }], {
      x: { field: 'zero', type: 'quantitative', scale, axis },
    }),
    tipped(
      layer({ type: 'rect', color: COLOUR.fill, opacity: 1 }, values, {
        x: onScale('zero', scale),
        x2: { field: 'planned' },
        ...band,
      }),
      shown.map(loadText),
    ),
    layer({ type: 'rect', color: COLOUR.rust, opacity: 1 }, values, {
      x: onScale('planned', scale),
      x2: { field: 'needed' },
      ...band,
    }),
    layer(
      { type: 'rule', color: COLOUR.ink, strokeWidth: 2.5, opacity: 1 },
      values.filter(({ crew }) => crew !== null),
      {
        x: onScale('crew', scale),
        y: rows.y('top'),
        y2: { field: 'foot' },
      },
    ),
  ];
}

/** What the signs mean, above the first row. */
function keyLayer(shown: readonly ShutdownLoad[]): Layer[] {
  if (shown.every(({ crewHours }) => crewHours === null)) return [];
  const text = (words: string, x: number, color: string): Layer =>
    layer({ type: 'text', align: 'left', baseline: 'middle', color, fontSize: 11 }, [{ label: words }], {
      x: { value: x },
      y: { value: -8 },
      text: { field: 'label', type: 'nominal' },
    });
  return [
    layer({ type: 'rule', color: COLOUR.ink, strokeWidth: 2.5, opacity: 1 }, [{}], {
      x: { value: 2 },
      y: { value: -14 },
      y2: { value: -3 },
    }),
    text(KEY.crewHours, 8, COLOUR.ink),
    layer({ type: 'rect', color: COLOUR.rust, opacity: 1 }, [{}], {
      x: { value: 76 },
      x2: { value: 86 },
      y: { value: -13 },
      y2: { value: -4 },
    }),
    text(KEY.doesNotFit, 91, COLOUR.rust),
  ];
}

function tableOf(loads: readonly ShutdownLoad[]): Chart['table'] {
  return {
    columns: [
      COLUMN.shutdown,
      COLUMN.start,
      COLUMN.end,
      COLUMN.replacements,
      COLUMN.hoursNeeded,
      COLUMN.crewHours,
      COLUMN.hoursPlanned,
      COLUMN.doNotFit,
      COLUMN.hoursShort,
      COLUMN.hoursAfterStartUp,
    ],
    rows: loads.map((load) => [
      load.shutdown,
      dateWords(load.start),
      dateWords(load.end),
      load.replacements,
      hoursText(load.hoursNeeded),
      load.crewHours === null ? 'no limit given' : hoursText(load.crewHours),
      hoursText(load.hoursPlanned),
      load.doNotFit,
      hoursText(hoursShort(load)),
      hoursText(load.hoursAfterStartUp),
    ]),
  };
}
