/** What the fit of a group says, in words and as a table: its own data and what is planned on, named apart. */

import type { GroupResult } from '../group/resultTypes.js';
import { at } from '../numeric/columns.js';
import { COLUMN } from './texts.js';
import type { Cell, Chart } from './types.js';
import { amount, count, fixed, percent, range } from './words.js';

/** A shape that stays below this speaks against wear-out. */
const NO_WEAR_OUT = 1.2;

export function fitFinding(group: GroupResult): string {
  const { b10, planned, method } = group;
  const lives = count(group.lives, 'life', 'lives');
  const leaks = count(Math.round(group.failures), 'leak');
  const own = `10 % leaked by ${range(b10[0], b10[2], days)} days by these alone, `;
  const alone = method === 'likelihood' ? own : 'too few to stand alone, ';
  const plannedOn = `planned on ${range(planned.b10.low, planned.b10.high, days)} days`;
  const unit = method === 'likelihood' ? '' : ' for 10 % leaked';
  return `${lives}, ${leaks}; ${alone}${plannedOn}${unit} (${percent(group.level)} bounds)`;
}

export function fitDescription(group: GroupResult): string {
  const support =
    group.supportedAge === null
      ? 'The records support no statement about age.'
      : `The records support statements up to ${days(group.supportedAge)} days.`;
  return `${fitFinding(group)}. ${ownText(group)}${plannedText(group)}${faultText(group)}${support}`;
}

function ownText({ method, model, bounds }: GroupResult): string {
  if (method !== 'likelihood') return '';
  return (
    `Own data: shape (beta) ${one(model.shape)}, ${range(...bounds.shape, one)}; scale (eta), the age by which ${amount(63.2)} % would ` +
    `have leaked by wear, ${days(model.scale)} days, ${range(...bounds.scale, days)}. `
  );
}

function plannedText(group: GroupResult): string {
  const { shape, scale } = group.planned;
  return (
    `Planned on, own data and groups alike: shape ${one(shape.median)}, ${range(shape.low, shape.high, one)} (${wearWords(group)}); ` +
    `scale ${days(scale.median)} days, ${range(scale.low, scale.high, days)}; ${borrowedWords(group)}. `
  );
}

/** Where what is known beyond the group's own lives comes from. */
function borrowedWords({ borrowed, materialWearLeaks }: GroupResult): string {
  return materialWearLeaks < 1
    ? 'assumed, for want of wear-out leaks'
    : `${percent(borrowed)} of it borrowed`;
}

function faultText({ model, bounds }: GroupResult): string {
  if (model.fault === undefined || model.fault.share <= 0) return '';
  const share = (value: number): string => `${amount(value * 100, 2)} %`;
  return `Faulty fittings that leak early: ${share(model.fault.share)} (${range(...bounds.share, share)}). `;
}

/** What is planned on says of wear-out; nothing that no leak has shown. */
export function wearWords({ planned: { shape }, materialWearLeaks }: GroupResult): string {
  if (materialWearLeaks < 1) return 'wear-out assumed: no leak has shown it';
  if (shape.low > 1) return 'wearing out';
  return shape.high < NO_WEAR_OUT ? 'no wear-out seen' : 'may or may not wear out';
}

/** An age to two digits. */
export const days = (value: number): string => amount(value, 2);
/** A shape. */
export const one = (value: number): string => fixed(value, 1);

export function fitTable(group: GroupResult): Chart['table'] {
  const level = percent(group.level);
  const rows = group.fitted.age
    .map((age, i): { age: number; cells: Cell[] } => ({
      age,
      cells: [
        amount(age, 2),
        group.method === 'likelihood' ? shareCell(at(group.fitted.failed, i)) : 'too few leaks',
        shareCell(at(group.fitted.planned.median, i)),
        shareCell(at(group.fitted.planned.low, i)),
        shareCell(at(group.fitted.planned.high, i)),
      ],
    }))
    .filter((_, i) => i % 4 === 3)
    .map(({ cells }) => cells);
  return {
    columns: [
      COLUMN.ageDays,
      COLUMN.shareLeakedItsOwnData,
      COLUMN.plannedOn,
      `Low (${level})`,
      `High (${level})`,
    ],
    rows,
  };
}

function shareCell(share: number): string {
  return share < 0.0005 ? `under ${amount(0.05)} %` : `${amount(share * 100, 2)} %`;
}
