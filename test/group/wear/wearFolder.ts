/** A small plant read as a fleet, whose diaphragms wear by days or by steam cycles; made without code of the library but its stream. */
import { fleetOf } from '../../../lib/fleet/read.js';
import type { Fleet } from '../../../lib/fleet/types.js';
import { textFromDay } from '../../../lib/numeric/day.js';
import { randomStream } from '../../../lib/numeric/random.js';
import { MONEY } from '../../plan/folders.js';

export interface WearPlant {
  seed: number;
  clock: 'days' | 'steam cycles' | 'equivalent hours';
  positions?: number;
  /** Spread of the log of steam cycles a week between positions. */
  rateSd?: number;
  /** Of steam, degrees C, one position after the other; none told by default. Held for half an hour. */
  celsius?: readonly number[];
  /** More settings of site.json. */
  site?: object;
}

const DATA_UNTIL = 20_454;
const WATCHED = 3000;
export const MEAN_PER_WEEK = 2.5;
export const SCALE_DAYS = 700;
const REPLACED_AT = 600;
/** By which steam of the plants that wear by equivalent hours ages, kJ/mol, and the temperature at which it does so once for once. */
export const PLANT_ENERGY = 85;
export const PLANT_MIDDLE_CELSIUS = 127.5;

/** Wear-out of shape 3 and a scale of 700 days at 2.5 steam cycles a week; counters read every half year, without a fault. */
export function wearPlant(options: WearPlant): Fleet {
  const { seed, clock, positions = 40, rateSd = 0.45, celsius = [] } = options;
  const random = randomStream(seed, 'wear plant');
  const tables = {
    positions: [
      `position,line,size,duty,criticality,accessories,steam_cycles_per_week,strokes_per_day${celsius.length === 0 ? '' : ',steam_temperature_c,steam_hold_minutes'}`,
    ],
    lives: ['position,material,size,fitted,removed,reason,finding'],
    readings: ['position,date,strokes,steam_cycles'],
  };
  const from = DATA_UNTIL - WATCHED;
  for (let p = 0; p < positions; p++) {
    const tag = `V-${String(p + 1).padStart(3, '0')}`;
    const perWeek = MEAN_PER_WEEK * Math.exp(rateSd * random.normal());
    const perDay = 20 * Math.exp(0.45 * random.normal());
    const steam = celsius[p % celsius.length];
    const heat = steam === undefined ? '' : `,${steam},30`;
    tables.positions.push(
      `${tag},A${p % 4},25,sterile,normal,0,${perWeek.toFixed(3)},${perDay.toFixed(3)}${heat}`,
    );
    for (let day = from; day <= DATA_UNTIL; day += 180) {
      const since = day - from;
      tables.readings.push(
        `${tag},${textFromDay(day)},${Math.round(perDay * since)},${Math.round((perWeek / 7) * since)}`,
      );
    }
    const ageing = clock === 'equivalent hours' && steam !== undefined ? plantFactor(steam) : 1;
    const scale = clock === 'days' ? SCALE_DAYS : (SCALE_DAYS * MEAN_PER_WEEK) / (perWeek * ageing);
    for (let fitted = from; ; ) {
      const life = Math.round(scale * (-Math.log(random.uniform())) ** (1 / 3));
      const planned = REPLACED_AT + random.below(200);
      const end = fitted + Math.max(1, Math.min(life, planned));
      const start = `${tag},EPDM,25,${textFromDay(fitted)}`;
      if (end > DATA_UNTIL) {
        tables.lives.push(`${start},,,`);
        break;
      }
      tables.lives.push(
        `${start},${textFromDay(end)},${life <= planned ? 'leak' : 'scheduled'},${life <= planned ? 'torn' : 'sound'}`,
      );
      fitted = end;
    }
  }
  const site = {
    name: 'Test plant',
    currency: 'EUR',
    records_from: textFromDay(from),
    data_until: textFromDay(DATA_UNTIL),
    event: 'leak',
    money: MONEY,
    ...options.site,
  };
  const encoder = new TextEncoder();
  const files = new Map<string, Uint8Array>(
    Object.entries(tables).map(
      ([name, rows]) => [`${name}.csv`, encoder.encode(`${rows.join('\n')}\n`)] as const,
    ),
  );
  files.set(
    'items.csv',
    encoder.encode('item,material,size,price,lead_time_days,on_hand\nE25,EPDM,25,30,20,10\n'),
  );
  files.set('site.json', encoder.encode(JSON.stringify(site)));
  return fleetOf({ files, hash: '', unread: [] });
}

/** Ageing at a temperature against the middle one, by the law of Arrhenius. */
export function plantFactor(celsius: number): number {
  const perKelvin = (degrees: number): number => PLANT_ENERGY / (0.00831446261815324 * (degrees + 273.15));
  return Math.exp(perKelvin(PLANT_MIDDLE_CELSIUS) - perKelvin(celsius));
}
