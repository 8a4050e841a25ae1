/** Settings of site.json that name something the plant does not have. */
import { fault } from './cell.js';
import type { Mappings } from './mappings.js';
import type { NameList } from './names.js';
import type { RowBook } from './rowBook.js';
import type { Position, Site } from './types.js';

/** Asks about limits, lines and aliases that meet nothing, and spells the materials of limits as the lives do. */
export function askAboutSettings(
  site: Pick<Site, 'limits' | 'money' | 'heatDose'>,
  mappings: Mappings,
  materials: NameList,
  positions: readonly Position[],
  book: RowBook,
): void {
  for (const limit of site.limits) {
    limit.material = materials.spelling(limit.material);
    if (!materials.names.includes(limit.material)) book.ask(null, 'limits', limit.material, NO_SUCH_MATERIAL);
  }
  for (const energy of site.heatDose?.energies ?? []) {
    energy.material = materials.spelling(energy.material);
    if (!materials.names.includes(energy.material))
      book.ask(null, 'heat_dose', energy.material, NO_LIFE_OF_MATERIAL);
  }
  askAboutLines(site, positions, book);
  askAboutAliases(mappings, positions, book);
}

function askAboutLines({ money }: Pick<Site, 'money'>, positions: readonly Position[], book: RowBook): void {
  if (money.downtimePerHour === null) return;
  const lines = new Set(positions.map(({ line }) => line));
  for (const line of money.downtimePerHour.keys()) {
    if (line !== '' && !lines.has(line)) book.ask(null, 'money.downtime_per_hour', line, NO_SUCH_LINE);
  }
}

function askAboutAliases({ aliases }: Mappings, positions: readonly Position[], book: RowBook): void {
  if (aliases.size === 0) return;
  const tags = new Set(positions.map(({ position }) => position));
  for (const [theirs, ours] of aliases) {
    if (!tags.has(ours)) book.ask(null, `aliases.${theirs}`, ours, NO_SUCH_TAG);
  }
}

const NO_SUCH_MATERIAL = fault(
  'limit-material-unknown',
  'The limit names a material that no life has, so it holds nothing down.',
  'Check the spelling of the material.',
);
const NO_LIFE_OF_MATERIAL = fault(
  'energy-material-unknown',
  'The activation energy names a material that no life has, so it is not used.',
  'Check the spelling of the material.',
);
const NO_SUCH_LINE = fault(
  'line-unknown',
  'No position is on this line.',
  'Check the spelling against the lines of positions.csv.',
);
const NO_SUCH_TAG = fault(
  'alias-unknown',
  'The alias leads to a tag that positions.csv does not have.',
  'Write the old tag on the left and the tag of positions.csv on the right.',
);
