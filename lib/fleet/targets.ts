/** Service targets of site.json, with the defaults that stand where none is given. */
import type { SiteFile } from './siteSchema.js';
import { CRITICALITIES, type Criticality, type Targets } from './types.js';

/** Our choice: trade press asks for 0.95 to 0.97 and calls 0.90 risky. */
export const DEFAULT_SERVED: Readonly<Record<Criticality, number>> = {
  low: 0.9,
  normal: 0.95,
  high: 0.97,
  safety: 0.99,
};
export const DEFAULT_KIT_COMPLETE = 0.98;

/** Targets as given; a single share stands for every criticality. What is assumed is added to `assumed`. */
export function readTargets(given: SiteFile['targets'], assumed: string[]): Targets {
  const served = byCriticality(given?.served);
  const survival = byCriticality(given?.survival);
  const open = CRITICALITIES.filter((word) => served(word) === undefined);
  if (open.length > 0) {
    const shares = open.map((word) => `${word} ${DEFAULT_SERVED[word]}`).join(', ');
    assumed.push(`No target for unplanned demand met from the shelf: ${shares}.`);
  }
  if (given?.kit_complete === undefined) {
    assumed.push(`No kit_complete: a shutdown kit is complete with chance ${DEFAULT_KIT_COMPLETE}.`);
  }
  return {
    served: forEach((word) => served(word) ?? DEFAULT_SERVED[word]),
    kitComplete: given?.kit_complete ?? DEFAULT_KIT_COMPLETE,
    ...(given?.stock_budget === undefined ? {} : { stockBudget: given.stock_budget }),
    survival: forEach((word) => survival(word) ?? null),
  };
}

type Given = number | Partial<Record<Criticality, number>> | undefined;

function byCriticality(given: Given): (word: Criticality) => number | undefined {
  return (word) => (typeof given === 'number' ? given : given?.[word]);
}

function forEach<T>(of: (word: Criticality) => T): Record<Criticality, T> {
  return { low: of('low'), normal: of('normal'), high: of('high'), safety: of('safety') };
}
