/** The limits of site.json: a list with material and size, or one entry per material (and size inside it). */
import { tidyText } from './cell.js';
import { settingError } from './settingError.js';
import { limitSchema, type SiteFile } from './siteSchema.js';
import type { Limit } from './types.js';

/**
 * Limits in either form:
 * `[{ "material": "EPDM", "size": 25, "max_days": 730 }]`,
 * `{ "EPDM": { "max_days": 730 }, "FKM": { "25": { "max_days": 365 } } }`.
 */
export function readLimits(given: SiteFile['limits']): Limit[] {
  if (given === undefined) return [];
  if (Array.isArray(given)) return given.map((limit, i) => limitOf(limit, [String(i)]));
  return Object.entries(given).flatMap(([material, inner]) => limitsOfMaterial(material, inner));
}

function limitsOfMaterial(material: string, given: unknown): Limit[] {
  if (typeof given !== 'object' || given === null || Array.isArray(given)) {
    return [limitOf(given, [material])];
  }
  const entries = Object.entries(given);
  const bySize = entries.filter(([key]) => /^\d+(\.\d+)?$/.test(key));
  const whole = Object.fromEntries(entries.filter(([key]) => !/^\d+(\.\d+)?$/.test(key)));
  const limits = bySize.map(([size, inner]) =>
    limitOf({ ...(typeof inner === 'object' ? inner : { '': inner }), material, size: Number(size) }, [
      material,
      size,
    ]),
  );
  if (Object.keys(whole).length > 0 || limits.length === 0)
    limits.push(limitOf({ ...whole, material }, [material]));
  return limits;
}

function limitOf(given: unknown, at: string[]): Limit {
  const result = limitSchema.safeParse(given);
  if (!result.success) throw settingError(result.error, given, ['limits', ...at]);
  const { material, size, max_days, max_strokes, max_steam_cycles } = result.data;
  return {
    material: tidyText(material),
    size: size ?? null,
    maxDays: max_days ?? null,
    maxStrokes: max_strokes ?? null,
    maxSteamCycles: max_steam_cycles ?? null,
  };
}
