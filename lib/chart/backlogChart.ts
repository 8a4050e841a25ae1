/** Positions past their interval, day by day along the shutdown plan: how the backlog goes, and which stop ends it. */
import type { BacklogAhead } from '../interval/backlogAhead.js';
import { dayFromText, textFromDay } from '../numeric/day.js';
import { countAxis, fine, roundTicks, scaleTo } from './axes.js';
import { framed, plotWidth } from './frame.js';
import { label, layer, onScale } from './marks.js';
import { AXIS, COLUMN, TITLE } from './texts.js';
import { COLOUR } from './theme.js';
import { thinned } from './thinned.js';
import { dateAxis } from './timeAxis.js';
import { tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { amount, count, dateWords, plainName } from './words.js';

const HEIGHT = 150;
const LEFT = 46;
const RIGHT = 24;
/** Steps that are drawn, and stops. */
const MOST_STEPS = 400;
const MOST_STOPS = 60;

export function backlogChart(backlog: BacklogAhead): Chart {
  const title = TITLE.positionsPastTheirInterval;
  const finding = findingOf(backlog);
  const each = backlog.stops.map(
    ({ name, day, replaced, after }) =>
      `${dateWords(dayText(backlog, day))}, ${plainName(name)}: ${amount(replaced, 9)} replaced, ${amount(after, 9)} past their interval after it`,
  );
  const shown = each.slice(0, MOST_STOPS);
  return {
    ...framed('backlog', {
      title,
      finding,
      description: `${finding}. If nothing leaks meanwhile.${shown.length === 0 ? '' : ` ${shown.join('; ')}.`}`,
      unit: AXIS.positionsPastInterval,
      height: HEIGHT,
      left: LEFT,
      right: RIGHT,
      bottom: 36,
      layers: layersOf(backlog),
    }),
    table: {
      columns: [COLUMN.start, COLUMN.shutdown, COLUMN.replacements, COLUMN.pastIntervalAfterIt],
      rows: [
        [dateWords(backlog.from), 'today', null, firstOf(backlog)],
        ...backlog.stops.map(({ name, day, replaced, after }) => [
          dateWords(dayText(backlog, day)),
          name,
          replaced,
          after,
        ]),
      ],
    },
    leftOut: null,
  };
}

const firstOf = ({ past }: BacklogAhead): number => past[0] ?? 0;

function dayText({ from }: BacklogAhead, day: number): string {
  return textFromDay((dayFromText(from) ?? 0) + day);
}

function findingOf(backlog: BacklogAhead): string {
  const { day, past, stops } = backlog;
  const today = firstOf(backlog);
  const now = `${count(today, 'position is', 'positions are')} past the proposed interval today`;
  if (stops.length === 0) return `${now}; no replacement is planned`;
  const gone = stops.find(({ after }) => after === 0);
  if (gone === undefined) {
    return `${now}; ${amount(stops[stops.length - 1]?.after ?? 0, 9)} still after the last shutdown planned`;
  }
  const later = Math.max(0, ...past.filter((_, i) => (day[i] ?? 0) > gone.day));
  const end = `none after ${plainName(gone.name)} (${dateWords(dayText(backlog, gone.day))})`;
  const then = `later at most ${amount(later, 9)}, between one shutdown and the next`;
  return `${now}, ${end}; ${later === 0 ? 'none falls behind later' : then}`;
}

function layersOf(backlog: BacklogAhead): Layer[] {
  const { from, day, past, stops } = backlog;
  const span = Math.max(30, backlog.span);
  const width = plotWidth({ left: LEFT, right: RIGHT });
  const ticks = roundTicks(Math.max(2, ...past), 4).filter(Number.isInteger);
  const scaleX = { domain: [0, fine(span)], nice: false, zero: false };
  const scaleY = scaleTo(ticks);
  const x = onScale('day', scaleX);
  const y = onScale('past', scaleY);
  const steps = thinned(
    day.map((each, i) => ({ day: each, past: past[i] ?? 0, zero: 0 })),
    MOST_STEPS,
  );
  const rows = [...steps, { day: span, past: past[past.length - 1] ?? 0, zero: 0 }];
  const shownStops = stops.slice(0, MOST_STOPS);
  return [
    layer({ type: 'rule', opacity: 0 }, [{ day: 0, past: 0 }], {
      x: { field: 'day', type: 'quantitative', scale: scaleX, axis: dateAxis(from, span, width) },
      y: { field: 'past', type: 'quantitative', scale: scaleY, axis: countAxis(ticks) },
    }),
    tipped(
      layer(
        { type: 'rule', color: COLOUR.fill, strokeDash: [3, 3], strokeWidth: 1, opacity: 1 },
        shownStops.map(({ day: at }) => ({ day: at })),
        { x },
      ),
      shownStops.map(
        ({ name, replaced, after }) =>
          `${plainName(name)}: ${count(replaced, 'replacement')}, ${amount(after, 9)} past their interval after it`,
      ),
    ),
    layer({ type: 'area', interpolate: 'step-after', color: COLOUR.fill, opacity: 1 }, rows, {
      x,
      y: onScale('zero', scaleY),
      y2: { field: 'past' },
    }),
    layer({ type: 'line', interpolate: 'step-after', color: COLOUR.rust, strokeWidth: 2, opacity: 1 }, rows, {
      x,
      y,
    }),
    ...todayLabel(backlog, x, y),
  ];
}

/** The count of today, right of where it first falls. */
function todayLabel(backlog: BacklogAhead, x: Record<string, unknown>, y: Record<string, unknown>): Layer[] {
  const today = firstOf(backlog);
  if (today === 0) return [];
  const fall = backlog.past.findIndex((each) => each < 0.6 * today);
  const day = fall < 0 ? 0 : (backlog.day[fall] ?? 0);
  const row = { day, past: today, label: `${amount(today, 9)} today` };
  return [label([row], { x, y }, { dx: 6, dy: 8, bold: true, color: COLOUR.rust })];
}
