/** Cells with a temperature or the length of a hold: what cannot be meant is asked about and never converted. */
import { amount } from '../../numeric/words.js';
import { type CellReader, fault, numberCell } from '../cell.js';
import type { HeatColumn } from './heatGuide.js';

const ZERO_CELSIUS_KELVIN = 273.15;
/** Nothing runs through such valves that is colder. */
const COLDEST = -90;
/** Ten hours: no steam cycle or hot clean is held so long; minutes given in seconds are beyond it. */
const LONGEST_HOLD = 600;

/** Hotter than this the column is not meant in degrees C, and what it holds in words. */
const HOTTEST: Partial<Record<HeatColumn, readonly [celsius: number, what: string]>> = {
  steam_temperature_c: [200, 'steam for elastomers'],
  hot_clean_temperature_c: [135, 'a hot clean'],
  service_temperature_c: [150, 'what runs through valves with elastomers'],
};

const plain = numberCell();

/** Degrees C above absolute zero, and not so hot that it must be Fahrenheit or kelvin. */
export function temperatureCell(column: HeatColumn): CellReader<number> {
  const [hottest, what] = HOTTEST[column] ?? [Infinity, ''];
  return (raw) => {
    const cell = plain(raw);
    if (cell.value === null) return cell;
    const wrong = coldFault(cell.value) ?? hotFault(cell.value, hottest, what, column);
    return wrong === null ? cell : { value: null, fault: wrong };
  };
}

function coldFault(celsius: number) {
  if (celsius <= -ZERO_CELSIUS_KELVIN) {
    return fault(
      'temperature-absolute-zero',
      'Nothing is as cold: it is at or below absolute zero (-273.15 degrees C).',
      'Correct it, or leave the cell empty if it is not known.',
    );
  }
  return celsius >= COLDEST
    ? null
    : fault(
        'temperature-too-cold',
        'It is colder than such valves are used.',
        'Check the unit and correct it.',
      );
}

function hotFault(celsius: number, hottest: number, what: string, column: string) {
  if (celsius <= hottest) return null;
  const turned = ((celsius - 32) * 5) / 9;
  const given = `${amount(celsius, 4)} degrees C is hotter than ${what}.`;
  if (turned <= hottest) {
    return fault(
      'temperature-like-fahrenheit',
      `${given} In degrees Fahrenheit it would be ${amount(turned, 3)} degrees C.`,
      `If it is in Fahrenheit, say so in site.json: "formats": { "positions.csv": { "units": { "${column}": "degF" } } }, and look whether the other temperatures of the file are too.`,
    );
  }
  const kelvin = celsius - ZERO_CELSIUS_KELVIN;
  return fault(
    'temperature-too-hot',
    kelvin <= hottest ? `${given} In kelvin it would be ${amount(kelvin, 3)} degrees C.` : given,
    `Check the unit; it can be told in site.json under "formats", "units": "${column}" in degC, degF or K.`,
  );
}

/** Minutes above 0, up to ten hours. */
export const holdCell: CellReader<number> = numberCell({ least: 0, above: true, most: LONGEST_HOLD });
