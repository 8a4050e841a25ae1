/** What site.json says of cleaning: `"cleaning": { "overlaps": false, "most_days": 90 }`. */
import type { SiteFile } from '../siteSchema.js';
import { ALL_ON, type Cleaning } from './rules.js';

export function readCleaning(file: SiteFile['cleaning']): Cleaning {
  if (file === undefined) return ALL_ON;
  const { most_days: mostDays, ...rules } = file;
  const off = Object.entries(rules).filter(([, on]) => on === false);
  return { off: new Set(off.map(([name]) => name)), mostDays: mostDays ?? null };
}
