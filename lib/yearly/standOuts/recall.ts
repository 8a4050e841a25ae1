/** A lot that stands out: where it is fitted now, what happens if it is left, and what replacing it takes. */
import { itemFor } from '../../cost/itemFor.js';
import { meanOf } from '../../cost/spread.js';
import { replacementWork } from '../../cost/tasks.js';
import type { Fleet } from '../../fleet/types.js';
import type { StandOut } from '../../group/standOut/types.js';
import type { GroupedFleet } from '../../group/types.js';
import { floatAt, itemAt } from '../../numeric/columns.js';
import { poissonBinomial } from '../../numeric/convolve.js';
import { type FittedPiece, type HazardsOf, hazardAhead, isEarlyOnly } from './expectations.js';
import { rangedCount } from './ratioDraws.js';
import type { LeaksIfLeft, LotRecall } from './types.js';

const DAYS_PER_MONTH = 30.4375;
const HORIZONS = [3, 6, 12] as const;

/**
 * `ratios` are draws of how many times as often as its groups' laws it leaks. A piece of age a that is left leaks within d days
 * with chance 1 - exp(-ratio [H(a + d) - H(a)]), the ratio before 60 days only where early leaks alone are too many; what comes of the pieces is Poisson-binomial within a draw (Hong 2013), averaged
 * over the draws. Pieces of unknown age are listed and to be replaced, and not among the leaks.
 */
export function lotRecall(
  fleet: Fleet,
  { groups }: GroupedFleet,
  one: StandOut,
  pieces: readonly FittedPiece[],
  ratios: Float64Array,
  hazards: HazardsOf,
): LotRecall {
  const { positions, site } = fleet;
  const work = pieces.map(({ position }) => replacementWork(site.money, itemAt(positions, position)));
  const priceOf = ({ group }: FittedPiece): number => {
    const { material, size } = itemAt(groups, group);
    return itemFor(fleet, material, size)?.price ?? 0;
  };
  const total = (values: readonly number[]): number => values.reduce((all, each) => all + each, 0);
  return {
    fitted: pieces
      .map(({ position, age }) => {
        const { position: tag, line } = itemAt(positions, position);
        return { position: tag, line, age };
      })
      .sort(byLine),
    ifLeft: HORIZONS.map((months) =>
      leaksIfLeft(pieces, months, { ratios, hazards, earlyOnly: isEarlyOnly(one) }),
    ),
    replacing: {
      pieces: pieces.length,
      parts: total(pieces.map(priceOf)),
      fitterHours: total(work.map(({ fitterHours }) => meanOf(fitterHours))),
      instrumentHours: total(work.map(({ instrumentHours }) => meanOf(instrumentHours))),
    },
    onShelf: one.kind === 'lot' ? onShelf(fleet, one) : 0,
  };
}

function byLine(a: LotRecall['fitted'][number], b: LotRecall['fitted'][number]): number {
  if (a.line !== b.line) return a.line < b.line ? -1 : 1;
  return a.position < b.position ? -1 : a.position > b.position ? 1 : 0;
}

function leaksIfLeft(
  pieces: readonly FittedPiece[],
  months: number,
  { ratios, hazards, earlyOnly }: { ratios: Float64Array; hazards: HazardsOf; earlyOnly: boolean },
): LeaksIfLeft {
  const ahead = pieces.flatMap(({ group, age }) =>
    age === null ? [] : [hazardAhead(hazards(group), age, months * DAYS_PER_MONTH, earlyOnly)],
  );
  const chances = new Float64Array(ahead.length + 1);
  let usually = 0;
  for (let d = 0; d < ratios.length; d++) {
    const chanceOf = (times: number): number[] =>
      // A law may have fewer draws than there are ratios; then they come again.
      ahead.map(({ raised, usual }) => {
        const at = d % raised.length;
        return -Math.expm1(-times * floatAt(raised, at) - floatAt(usual, at));
      });
    const law = poissonBinomial(chanceOf(floatAt(ratios, d)));
    for (let k = 0; k < law.length; k++) chances[k] = floatAt(chances, k) + floatAt(law, k) / ratios.length;
    usually += chanceOf(1).reduce((all, chance) => all + chance, 0) / ratios.length;
  }
  return { months, leaks: rangedCount(chances), usual: usually };
}

/** Pieces on the shelf with the lot's name, of an item with its material and size. */
function onShelf(fleet: Fleet, { name, lives }: StandOut): number {
  const life = lives[0];
  if (life === undefined) return 0;
  const material = itemAt(fleet.materials, fleet.lives.material[life] as number);
  const size = floatAt(fleet.lives.size, life);
  const items = new Set(
    fleet.items.filter((item) => item.material === material && item.size === size).map(({ item }) => item),
  );
  return fleet.lots
    .filter((lot) => lot.lot === name && items.has(lot.item))
    .reduce((total, { quantity }) => total + quantity, 0);
}
