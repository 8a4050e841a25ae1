/** site.json as read: the site's settings before the dates of the history are known, and the plant's own words. */
import { InputError } from '../errors.js';
import type { Day } from '../numeric/day.js';
import { fault, tidyText } from './cell.js';
import { SITE_FILE } from './columnNames.js';
import { textOf } from './csvText.js';
import { DAMAGE_FINDINGS } from './eventTable.js';
import { heatSchema } from './heat/heatSchema.js';
import { readHeatSettings } from './heat/heatSettings.js';
import { readLimits } from './limits.js';
import { type Mappings, readMappings } from './mappings.js';
import { noMoney, readMoney } from './money.js';
import type { RowBook } from './rowBook.js';
import { settingError } from './settingError.js';
import {
  cleaningSchema,
  type MoneyFile,
  moneySchema,
  type SiteFile,
  siteSchema,
  targetsSchema,
} from './siteSchema.js';
import { readStores } from './stores.js';
import { readTargets } from './targets.js';
import type { Money, Site } from './types.js';

/** The site but for the day of the extract, which may have to come from the history. */
export interface Settings {
  site: Omit<Site, 'dataUntil'>;
  dataUntil: Day | null;
  mappings: Mappings;
}

/**
 * Reads site.json, or says what is assumed where there is none.
 * @throws InputError naming the setting that cannot be used.
 */
export function readSettings(bytes: Uint8Array | undefined, book: RowBook): Settings {
  const file = readSite(bytes);
  leaveOutUnknown(file, book);
  const assumed: string[] = [];
  const site = {
    name: tidyText(file.name ?? '') || assume(assumed, 'The plant', 'No name: "The plant" is written.'),
    currency: file.currency ?? assume(assumed, 'EUR', 'No currency: amounts are labelled EUR.'),
    ...(file.locale === undefined ? {} : { locale: file.locale }),
    recordsFrom: file.records_from ?? assume(assumed, null, NO_RECORDS_FROM),
    event: file.event ?? assume(assumed, 'leak' as const, 'No event: lives end in a leak or a failed test.'),
    damageFindings: file.damage_findings ?? [...DAMAGE_FINDINGS],
    money: file.money === undefined ? noMoney() : moneyOf(file.money, assumed),
    limits: readLimits(file.limits),
    ...readHeatSettings(file.heat_dose),
    targets: readTargets(file.targets, assumed),
    ...(file.stores === undefined ? {} : { stores: readStores(file.stores, assumed) }),
    horizonMonths:
      file.horizon_months ?? assume(assumed, 24, 'No horizon_months: demand is given for 24 months.'),
    reviewDays:
      file.review_days ?? assume(assumed, 7, 'No review_days: stock is taken to be reviewed every 7 days.'),
    assumed,
  };
  checkDates(file);
  return { site, dataUntil: file.data_until ?? null, mappings: readMappings(file) };
}

/** Settings of money that stand for others where they are not given: no cost is left out in silence. */
function moneyOf(file: MoneyFile, assumed: string[]): Money {
  if (file.labour_per_hour !== undefined && file.instrument_labour_per_hour === undefined)
    assumed.push('No instrument_labour_per_hour: recalibration is priced at labour_per_hour.');
  const beside = (['investigation_cost', 'leak_parts_cost'] as const).filter(
    (name) => file[name] === undefined,
  );
  if (file.cleanup_cost !== undefined && beside.length > 0)
    assumed.push(`No ${beside.join(', no ')}: taken to be part of cleanup_cost, or nothing.`);
  if (file.discount_rate_per_year === undefined) assumed.push(NO_DISCOUNT_RATE);
  return readMoney(file);
}

const NO_RECORDS_FROM =
  'No records_from: every life in the history is taken to have been watched since it was fitted. If records began later, ' +
  'lives look longer than they are.';

const NO_DISCOUNT_RATE =
  'No discount_rate_per_year: money of later years counts as much as money of today (rate 0).';

function assume<T>(assumed: string[], value: T, text: string): T {
  assumed.push(text);
  return value;
}

/**
 * The settings as they stand in site.json, their shape checked; none where there is no such file.
 * @throws InputError naming the setting that cannot be used.
 */
export function readSite(bytes: Uint8Array | undefined): SiteFile {
  return bytes === undefined ? {} : parseSite(textOf(SITE_FILE, bytes));
}

/** The settings as JSON has them, for a file that `readSite` takes. */
export function rawSite(bytes: Uint8Array | undefined): Record<string, unknown> {
  return bytes === undefined
    ? {}
    : (JSON.parse(withoutRemarks(textOf(SITE_FILE, bytes))) as Record<string, unknown>);
}

function parseSite(text: string): SiteFile {
  const plain = withoutRemarks(text);
  let raw: unknown;
  try {
    raw = JSON.parse(plain);
  } catch (cause) {
    const reason = cause instanceof Error ? cause.message : String(cause);
    throw new InputError(
      `This is not JSON: ${reason}.`,
      { file: SITE_FILE },
      'Check commas, quotation marks and brackets.',
    );
  }
  if (depthOf(plain) > DEEPEST) {
    throw new InputError(
      'The settings are nested too deep to be read.',
      { file: SITE_FILE },
      'Keep to the settings of the documentation.',
    );
  }
  const result = siteSchema.safeParse(raw);
  if (result.success) return result.data;
  throw settingError(result.error, raw);
}

/** Remarks from two slashes to the end of the line, outside of texts, become spaces: places in the file stay what they are. */
function withoutRemarks(text: string): string {
  return text.replace(/"(?:[^"\\\n]|\\.)*"|\/\/[^\r\n]*/g, (piece) =>
    piece.startsWith('"') ? piece : ' '.repeat(piece.length),
  );
}

/** No setting stands in more brackets than this. */
const DEEPEST = 20;

/** Brackets within brackets of a JSON text, at most. */
function depthOf(text: string): number {
  let depth = 0;
  let deepest = 0;
  for (const mark of text.replace(/"(?:[^"\\]|\\.)*"/g, '').match(/[[\]{}]/g) ?? []) {
    depth += mark === '[' || mark === '{' ? 1 : -1;
    deepest = Math.max(deepest, depth);
  }
  return deepest;
}

function checkDates({ records_from: from, data_until: until }: SiteFile): void {
  if (from === null || from === undefined || until === null || until === undefined || from <= until) return;
  throw new InputError(
    'records_from is later than data_until: nothing would be on record.',
    { file: SITE_FILE, column: 'records_from' },
    'Give the day the records began and the day the extract was made.',
  );
}

/** A misspelt setting must not be lost in silence. */
function leaveOutUnknown(file: SiteFile, book: RowBook): void {
  const rooms: [string, object | undefined, string[]][] = [
    ['', file, Object.keys(siteSchema.shape)],
    ['money.', file.money, Object.keys(moneySchema.shape)],
    ['targets.', file.targets, Object.keys(targetsSchema.shape)],
    ['cleaning.', file.cleaning, Object.keys(cleaningSchema.shape)],
    ['heat_dose.', file.heat_dose, Object.keys(heatSchema.shape)],
  ];
  for (const [prefix, settings, known] of rooms) {
    for (const name of Object.keys(settings ?? {})) {
      if (!known.includes(name)) book.leaveOut(`${prefix}${name}`, null, UNKNOWN_SETTING);
    }
  }
}

const UNKNOWN_SETTING = fault(
  'setting-unknown',
  'There is no setting of this name; it is not used.',
  'Check its spelling against the list of settings.',
);
