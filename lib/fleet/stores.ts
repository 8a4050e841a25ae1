/** Local stores of site.json, which a central store fills up. */
import { InputError } from '../errors.js';
import { tidyText } from './cell.js';
import { SITE_FILE } from './columnNames.js';
import type { SiteFile } from './siteSchema.js';
import type { Store } from './types.js';

/** Taken where transport_days is not given. */
export const DEFAULT_TRANSPORT_DAYS = 1;

/**
 * Stores as given. What is assumed is added to `assumed`.
 * @throws InputError where two stores have one name or serve one line.
 */
export function readStores(given: NonNullable<SiteFile['stores']>, assumed: string[]): Store[] {
  const stores = given.map(
    ({ name, lines, transport_days: days }): Store => ({
      name: tidyText(name),
      lines: [...new Set(lines.map(tidyText))],
      transportDays: days ?? DEFAULT_TRANSPORT_DAYS,
    }),
  );
  refuseTwice(stores.map(({ name }) => name));
  refuseTwice(stores.flatMap(({ lines }) => lines));
  const silent = given.filter(({ transport_days: days }) => days === undefined);
  if (silent.length > 0) {
    const names = silent.map(({ name }) => tidyText(name)).join(', ');
    assumed.push(`No transport_days of ${names}: ${DEFAULT_TRANSPORT_DAYS} day from the central store.`);
  }
  return stores;
}

function refuseTwice(names: readonly string[]): void {
  const twice = names.find((name, i) => names.indexOf(name) !== i);
  if (twice === undefined) return;
  throw new InputError(
    `"${twice}" is named twice under stores.`,
    { file: SITE_FILE, column: 'stores' },
    'Give each store a name of its own, and each line to one store.',
  );
}
