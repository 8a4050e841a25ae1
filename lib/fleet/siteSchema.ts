/** The shape of site.json, checked by zod. Everything may be left out. */
import * as z from 'zod';
import { dayFromText } from '../numeric/day.js';
import { isLocale } from '../numeric/locale.js';
import { SWITCHABLE } from './cleaning/rules.js';
import { heatSchema } from './heat/heatSchema.js';
import { CRITICALITIES, FINDINGS_AT_REMOVAL, type FindingAtRemoval } from './types.js';

const date = z
  .string()
  .refine((text) => dayFromText(text) !== null, 'must be a date that exists, written YYYY-MM-DD')
  .transform((text) => dayFromText(text) as number);

const amount = z
  .number('must be a number')
  .min(0, 'must not be negative')
  .max(1e9, 'is too large to be meant; at most 1e9 is read');
const shareOfOne = amount.max(1, 'is a share and must be at most 1 (write 0.25 for 25 %)');

/** A number, or low, likely and high in rising order. */
function spreadOf(one: z.ZodNumber) {
  const range = z
    .strictObject({ low: one, likely: one, high: one })
    .refine(({ low, likely, high }) => low <= likely && likely <= high, 'needs low <= likely <= high');
  return z
    .union([one, range], 'must be a number of 0 or more, or { "low": , "likely": , "high": }')
    .optional();
}

const anyText = z.string('must be a text');
/** Objects keyed by the plant's own names are taken apart later, entry by entry. */
const byName = z.custom<Record<string, unknown>>(
  (value) => typeof value === 'object' && value !== null && !Array.isArray(value),
  'must be an object { "name": ... }',
);

export const moneySchema = z.looseObject({
  labour_per_hour: spreadOf(amount),
  instrument_labour_per_hour: spreadOf(amount),
  fitting_hours: spreadOf(amount),
  retighten_hours: spreadOf(amount),
  recalibration_hours_per_accessory: spreadOf(amount),
  resterilise_cost: spreadOf(amount),
  planned_stop_hours: spreadOf(amount),
  downtime_per_hour: z.union([amount, byName], 'must be a number, or one per line').optional(),
  leak_downtime_hours: spreadOf(amount),
  lost_batch_probability: spreadOf(shareOfOne),
  batch_value: spreadOf(amount),
  cleanup_cost: spreadOf(amount),
  investigation_cost: spreadOf(amount),
  leak_parts_cost: spreadOf(amount),
  holding_rate_per_year: spreadOf(shareOfOne),
  order_cost: spreadOf(amount),
  discount_rate_per_year: spreadOf(shareOfOne),
});

/** One amount of money that may be a range: for downtime by line. */
export const amountSchema = spreadOf(amount);

const limitNumber = z.number('must be a number').positive('must be above 0').nullish();

export const limitSchema = z.strictObject({
  material: anyText,
  size: z.number('must be a number').positive('must be above 0').nullish(),
  max_days: limitNumber,
  max_strokes: limitNumber,
  max_steam_cycles: limitNumber,
});

const chance = z.number('must be a number').gt(0, 'must be above 0').lt(1, 'must be below 1');
const byCriticality = z.partialRecord(z.enum(CRITICALITIES), chance);

/** Stores that are filled up from a central one. */
export const storeSchema = z.strictObject({
  name: anyText.min(1, 'must not be empty'),
  lines: z.array(anyText, 'must be a list of lines').min(1, 'must name at least one line'),
  transport_days: amount.max(365, 'must be at most 365').optional(),
});

export const targetsSchema = z.looseObject({
  served: z
    .union([chance, byCriticality], 'must be a share between 0 and 1, or one per criticality')
    .optional(),
  kit_complete: chance.optional(),
  stock_budget: amount.optional(),
  survival: z
    .union([chance, byCriticality], 'must be a share between 0 and 1, or one per criticality')
    .optional(),
});

/** Names of the marks between cells. */
export const SEPARATOR_NAMES = { comma: ',', semicolon: ';', tab: '\t', bar: '|' } as const;

/** How a file is written. */
export const formatSchema = z.strictObject(
  {
    separator: z
      .enum(['comma', 'semicolon', 'tab', 'bar'], 'must be comma, semicolon, tab or bar')
      .transform((name) => SEPARATOR_NAMES[name])
      .optional(),
    decimal: z.enum(['.', ','], 'must be "." or ","').optional(),
    dates: z
      .enum(['day first', 'month first', 'year first'], 'must be day first, month first or year first')
      .optional(),
    encoding: anyText.optional(),
    units: z.record(anyText, anyText, 'must be an object { "size": "inch" }').optional(),
  },
  'must be an object { "separator": , "decimal": , "dates": , "encoding": , "units": }',
);

/** Cleaning rules that can be switched off, and how much a mend may alter the length of a life. */
export const cleaningSchema = z.looseObject({
  ...(Object.fromEntries(
    SWITCHABLE.map((name) => [name, z.boolean('must be true or false').optional()]),
  ) as Record<string, z.ZodOptional<z.ZodBoolean>>),
  most_days: amount.max(36_525, 'must be at most 36525').optional(),
});

/** Findings that can be damage: sound and unknown cannot. */
const damageWords = FINDINGS_AT_REMOVAL.filter((word) => word !== 'sound' && word !== 'unknown');

export const siteSchema = z.looseObject(
  {
    name: anyText.optional(),
    currency: z
      .string('must be a text')
      .regex(/^[A-Za-z]{3}$/, 'must be the three letters of ISO 4217, for example EUR')
      .transform((text) => text.toUpperCase())
      .optional(),
    locale: z
      .string('must be a text')
      .refine(isLocale, 'must be a locale, a language with a country, for example en-GB, de-DE or fr-FR')
      .optional(),
    records_from: date.nullish(),
    data_until: date.nullish(),
    event: z.enum(['leak', 'damage'], 'must be leak or damage').optional(),
    damage_findings: z
      .array(
        z.enum(damageWords as [FindingAtRemoval, ...FindingAtRemoval[]]),
        `must list words of ${damageWords.join(', ')}`,
      )
      .optional(),
    money: moneySchema.optional(),
    limits: z
      .union([z.array(limitSchema), byName], 'must be a list of limits, or one per material')
      .optional(),
    targets: targetsSchema.optional(),
    stores: z.array(storeSchema, 'must be a list of stores').max(200, 'must be at most 200').optional(),
    horizon_months: z
      .int('must be a whole number')
      .min(1, 'must be 1 or more')
      .max(240, 'must be at most 240')
      .optional(),
    review_days: z
      .int('must be a whole number')
      .min(1, 'must be 1 or more')
      .max(366, 'must be at most 366')
      .optional(),
    formats: z.record(anyText, formatSchema, 'must be an object { "lives.csv": { ... } }').optional(),
    files: byName.optional(),
    columns: byName.optional(),
    values: byName.optional(),
    aliases: byName.optional(),
    cleaning: cleaningSchema.optional(),
    heat_dose: heatSchema.optional(),
  },
  'must hold settings in curly brackets: { "name": ... }',
);

export type SiteFile = z.output<typeof siteSchema>;
export type MoneyFile = z.output<typeof moneySchema>;
export type SpreadFile = z.output<typeof amountSchema>;
