/** What site.json says of cleaning: `"cleaning": { "overlaps": false, "most_days": 90 }`. */
import type { SiteFile } from '../siteSchema.js';
import { ALL_ON, type Cleaning, SWITCHABLE } from './rules.js';

export function readCleaning(file: SiteFile['cleaning']): Cleaning {
  if (file === undefined) return ALL_ON;
  const { most_days: mostDays, ...rules } = file;
  const off = Object.entries(rules).filter(([name, on]) => on === false && SWITCHABLE.includes(name));
  return { off: new Set(off.map(([name]) => name)), mostDays: mostDays ?? null };
}
