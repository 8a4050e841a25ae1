/** Axes and small numbers shared by the charts. */
import { currentWriting, type Writing } from '../numeric/locale.js';

/** A number to four significant digits: finer than any pixel, and short in the file. */
export function fine(value: number): number {
  return value === 0 || !Number.isFinite(value) ? value : Number(value.toPrecision(5));
}

/** Expression that prints a tick as `amount` writes numbers: a space between thousands where no locale says else. */
export function tickText(): string {
  const writing = currentWriting();
  if (writing === null) return "replace(format(datum.value, ',~f'), /,/g, '\u00a0')";
  const parted = decimalText(partedText(writing));
  return `replace(${parted}, /[|]/g, ${quoted(writing.thousands)})`;
}

/** Thousands set apart by a bar; where the locale has groups of two above a thousand ("12,34,567"), as it has them. */
function partedText({ number }: Writing): string {
  const byTwos = /^\d{2}\D\d{2}\D\d{3}$/.test(number(1234567, 0));
  if (!byTwos) return "replace(format(datum.value, ',~f'), /,/g, '|')";
  return "replace(format(datum.value, '~f'), /\\B(?<![.]\\d*)(?=(\\d{2})*\\d{3}(?!\\d))/g, '|')";
}

/** An expression of a number's text, its decimal point as the locale writes it. */
export function decimalText(expression: string): string {
  const writing = currentWriting();
  return writing === null ? expression : `replace(${expression}, '.', ${quoted(writing.decimal)})`;
}

function quoted(mark: string): string {
  return `'${mark.replaceAll("'", "\\'")}'`;
}

/** Steps of 1, 2 or 5 times a power of ten from 0 to at least `highest`, about `wanted` of them. */
export function roundTicks(highest: number, wanted = 5): number[] {
  const step = roundStep(highest / wanted);
  const last = Math.max(1, Math.ceil(highest / step - 1e-9));
  return Array.from({ length: last + 1 }, (_, i) => Number((i * step).toPrecision(12)));
}

/** The same over a span that may be below 0: from the step at or below `low` to the one at or above `high`. */
export function spanTicks(low: number, high: number, wanted = 5): number[] {
  const step = roundStep((high - low) / wanted);
  const [first, last] = [Math.floor(low / step + 1e-9), Math.ceil(high / step - 1e-9)];
  const count = Math.max(1, last - first) + 1;
  return Array.from({ length: count }, (_, i) => Number(((first + i) * step).toPrecision(12)));
}

/** The next of 1, 2, 5, 10 ... that is not below `value`. */
export function roundStep(value: number): number {
  if (!(value > 0)) return 1;
  const power = 10 ** Math.floor(Math.log10(value));
  const factor = [1, 2, 5, 10].find((each) => each * power >= value * (1 - 1e-9)) ?? 10;
  return factor * power;
}

/** Ticks for whole months: every 1, 2, 3, 6, 12, 24 or 60, so that there are at most `most`. */
export function monthTicks(highest: number, most = 10): number[] {
  const step = [1, 2, 3, 6, 12, 24, 60, 120].find((each) => highest / each <= most) ?? 240;
  return Array.from({ length: Math.floor(highest / step + 1e-9) + 1 }, (_, i) => i * step);
}

/** Ticks 1, 2, 5 times a power of ten within [low, high], for a log axis. */
export function logTicks(low: number, high: number): number[] {
  const ticks: number[] = [];
  for (let power = Math.floor(Math.log10(low)); power <= Math.ceil(Math.log10(high)); power++) {
    for (const factor of [1, 2, 5]) {
      const tick = Number((factor * 10 ** power).toPrecision(6));
      if (tick >= low * (1 - 1e-9) && tick <= high * (1 + 1e-9)) ticks.push(tick);
    }
  }
  return ticks;
}

/** A linear y axis from 0 with grid lines, for the first layer; other layers repeat the scale without an axis. */
export function countAxis(ticks: readonly number[]): Record<string, unknown> {
  return { values: ticks, grid: true, ticks: false, domain: false, labelExpr: tickText() };
}

/** Domain from 0 to the last tick; the scale that every layer of a chart repeats. */
export function scaleTo(ticks: readonly number[]): Record<string, unknown> {
  return { domain: [0, ticks[ticks.length - 1] ?? 1], nice: false, zero: false };
}
