/** How many times as long diaphragms last at more of something: dot and range on a log axis. */
import { ratioText } from '../group/wear/effectWords.js';
import type { WearEffect, WearEffects } from '../group/wear/types.js';
import { decimalText, fine, logTicks } from './axes.js';
import { frameSpec, plotWidth } from './frame.js';
import { circles, diamonds, layer, onScale } from './marks.js';
import { endWords, type RowAxes, rowAxes, rowFrame } from './rows.js';
import { AXIS, TITLE } from './texts.js';
import { COLOUR } from './theme.js';
import { ofRow, tipped } from './tips.js';
import type { Chart, Layer } from './types.js';
import { count, listed, plainName } from './words.js';

const MOST_ROWS = 18;
const ROW = 30;
/** Ranges are drawn so far; their words say how far they reach. */
const [LEAST, MOST] = [0.1, 10];

interface Row {
  material: string;
  effect: WearEffect;
}

export function lifeByUse(effects: readonly WearEffects[]): Chart {
  const rows = rowsOf(effects);
  const shown = rows.slice(0, MOST_ROWS);
  const title = TITLE.lifeAtMoreUseBeside;
  const finding = findingOf(rows);
  const told = shown.map(({ material, effect }) => `${material}, ${effect.text}`);
  const description = `${finding}.${told.length === 0 ? '' : ` ${told.join('. ')}.`}`;
  return {
    name: 'life-by-use',
    title,
    finding,
    description,
    spec: specOf(shown, { title, finding, description }),
    table: {
      columns: ['Material', 'Compared', 'Times the life', 'Low', 'High'],
      rows: rows.map(({ material, effect: { compared, ratio } }) => [
        material,
        plainName(compared),
        ratioText(ratio.estimate),
        ratioText(ratio.low),
        ratioText(ratio.high),
      ]),
    },
    leftOut:
      rows.length > shown.length
        ? `The picture shows ${shown.length} of ${rows.length} comparisons; all are in the table.`
        : null,
  };
}

/** Use first, then size, then duties. */
function rowsOf(effects: readonly WearEffects[]): Row[] {
  const rank = ({ covariate }: WearEffect): number =>
    covariate === 'duty' ? 2 : covariate === 'size' ? 1 : 0;
  return effects
    .flatMap((each) => each.effects.map((effect) => ({ material: plainName(each.material), effect })))
    .sort((a, b) => rank(a.effect) - rank(b.effect));
}

function findingOf(rows: readonly Row[]): string {
  if (rows.length === 0) return 'Leaks are too few to say how life goes with use';
  const use = rows.filter(({ effect }) => effect.covariate !== 'duty' && effect.covariate !== 'size');
  const clear = use.filter(({ effect }) => effect.clear);
  if (clear.length === 0) {
    return use.length === 0
      ? `${count(rows.length, 'comparison')} of sizes and duties; none of use`
      : 'No counter clearly lengthens or shortens life within a duty: every range of use holds 1';
  }
  const words = clear
    .slice(0, 3)
    .map(
      ({ material, effect }) =>
        `${material} ${ratioText(effect.ratio.estimate)} times at ${plainName(effect.compared)}`,
    );
  return `Clear effects of use: ${listed(words)}${clear.length > 3 ? `, and ${clear.length - 3} more` : ''}`;
}

function specOf(
  rows: readonly Row[],
  texts: { title: string; finding: string; description: string },
): Chart['spec'] {
  const axes = rowAxes(
    rows.map(({ material, effect }) => `${plainName(effect.compared)}\n${material}`),
    ROW,
  );
  const words = rows.map(({ effect: { ratio, clear } }) => ({
    text: `${ratioText(ratio.estimate)} (${ratioText(ratio.low)} to ${ratioText(ratio.high)})`,
    bold: clear,
    rust: clear,
  }));
  const frame = rowFrame(axes, words, 135, true);
  return frameSpec({
    ...texts,
    height: axes.height,
    across: AXIS.timesLifeLogScale1,
    ...frame,
    layers: [...layersOf(rows, axes), ...axes.names, ...endWords(words, axes, frame, plotWidth(frame))],
  });
}

function layersOf(rows: readonly Row[], axes: RowAxes): Layer[] {
  const ends = rows.flatMap(({ effect: { ratio } }) => [ratio.low, ratio.high]);
  const low = Math.max(LEAST, Math.min(0.5, ...ends)) / 1.1;
  const high = Math.min(MOST, Math.max(2, ...ends)) * 1.1;
  const scale = { type: 'log', domain: [fine(low), fine(high)], nice: false };
  const held = (value: number): number => fine(Math.max(low, Math.min(high, value)));
  const values = rows.map(({ effect: { ratio, clear } }, i) => ({
    ratio: held(ratio.estimate),
    low: held(ratio.low),
    high: held(ratio.high),
    row: i + 0.5,
    clear,
  }));
  const [x, y] = [onScale('ratio', scale), axes.y('row')];
  const tips = ofRow(rows.map(({ material, effect }) => `${material}, ${effect.text}`));
  return [
    layer({ type: 'rule', opacity: 0 }, [{ ratio: 1 }], {
      x: {
        field: 'ratio',
        type: 'quantitative',
        scale,
        axis: {
          values: logTicks(low, high),
          grid: true,
          labelExpr: decimalText("format(datum.value, '~g')"),
        },
      },
    }),
    layer({ type: 'rule', color: COLOUR.rule, strokeDash: [3, 3], opacity: 1 }, [{ ratio: 1 }], { x }),
    layer({ type: 'rule', color: COLOUR.navy, strokeWidth: 2, opacity: 1 }, values, {
      x: onScale('low', scale),
      x2: { field: 'high' },
      y,
    }),
    tipped(
      circles(
        values.filter(({ clear }) => !clear),
        { x, y },
      ),
      tips,
    ),
    tipped(
      diamonds(
        values.filter(({ clear }) => clear),
        { x, y },
      ),
      tips,
    ),
  ];
}
