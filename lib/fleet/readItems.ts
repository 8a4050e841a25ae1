/** items.csv: what stores keeps, one material in one size a row. */
import { at, floatAt } from '../numeric/columns.js';
import { type Fault, fault, type NumberRule, numberCell, remembered, textCell } from './cell.js';
import { columnOf } from './columnReader.js';
import type { CsvRow, CsvTable } from './csvTable.js';
import { type Mappings, wordsOf } from './mappings.js';
import { mended } from './mended.js';
import { type NameList, spellingCell } from './names.js';
import { priceBreaksCell } from './priceBreaksCell.js';
import { SIZE_RULE } from './readPositions.js';
import type { RowBook } from './rowBook.js';
import type { Item, LifeTable, PriceBreak } from './types.js';

export interface ItemList {
  items: Item[];
  /** Data row of each part number. */
  rowOf: ReadonlyMap<string, number>;
}

/** Beyond these an amount, a time or a count is taken to be mistyped. */
const MOST_MONEY = 1e9;
const MOST_DAYS = 3650;
const MOST_MONTHS = 1200;
const MOST_PIECES = 1e6;

/** Reads the items; where two hold one material and size, the second is kept only as approved substitute of the other. */
export function readItems(table: CsvTable, mappings: Mappings, materials: NameList): ItemList {
  const read = itemReader(table, mappings, materials);
  const rowOf = new Map<string, number>();
  const found: { item: Item; row: number }[] = [];
  table.forEach((row) => {
    const item = read(row);
    if (item === null) return;
    const before = rowOf.get(item.item);
    if (before === undefined) {
      rowOf.set(item.item, row.row);
      found.push({ item, row: row.row });
    } else table.book.setAside(row.row, 'item', item.item, itemTwice(before));
  });
  askAboutSubstitutes(found, table.book);
  return { items: oneOfEach(found, table.book), rowOf };
}

function itemTwice(before: number): Fault {
  return fault('item-twice', `The part number is already in row ${before}.`, 'Keep one row per part number.');
}

function itemReader(table: CsvTable, mappings: Mappings, materials: NameList) {
  const { book } = table;
  const number = (column: string, rule: NumberRule) =>
    mended(table, column, columnOf(table, column, remembered(numberCell(rule))));
  const above = { least: 0, above: true };
  const part = columnOf(table, 'item', textCell);
  const material = columnOf(
    table,
    'material',
    remembered(spellingCell(materials, wordsOf(mappings, 'material'))),
  );
  const size = columnOf(table, 'size', remembered(numberCell(SIZE_RULE)));
  const price = number('price', { least: 0, most: MOST_MONEY });
  const breaks = priceBreaksColumn(table);
  const lead = number('lead_time_days', { ...above, most: MOST_DAYS });
  const leadSd = number('lead_time_sd_days', { least: 0, most: MOST_DAYS });
  const pack = number('pack', { least: 1, most: MOST_PIECES, whole: true });
  const minOrder = number('min_order', { least: 0, most: MOST_PIECES, whole: true });
  const shelf = number('shelf_life_months', { ...above, most: MOST_MONTHS });
  const left = number('shelf_life_left_at_receipt_months', { least: 0, most: MOST_MONTHS });
  const onHand = number('on_hand', { least: 0, most: MOST_PIECES, whole: true });
  const hurryDays = number('emergency_days', { least: 0, most: MOST_DAYS });
  const hurryCost = number('emergency_extra_cost', { least: 0, most: MOST_MONEY });
  const substitute = columnOf(table, 'approved_substitute', textCell);

  return (row: CsvRow): Item | null => {
    const item = part(row).value;
    const made = material(row).value;
    const dn = size(row);
    if (item === null) return aside(book, row, 'item', null, NO_ITEM);
    if (made === null) return aside(book, row, 'material', null, NO_MATERIAL);
    if (dn.value === null)
      return aside(book, row, 'size', table.text(row, table.place('size')), dn.fault ?? NO_SIZE);
    const each = price(row);
    const pieces = onHand(row);
    return {
      item,
      material: made,
      size: dn.value,
      price: each,
      priceBreaks: breaks(row, each),
      leadTimeDays: lead(row),
      leadTimeSdDays: leadSd(row),
      pack: pack(row) ?? 1,
      minOrder: Math.max(minOrder(row) ?? 1, 1),
      shelfLifeMonths: shelf(row),
      shelfLifeLeftAtReceiptMonths: left(row),
      onHand: pieces ?? 0,
      onHandKnown: pieces !== null,
      emergencyDays: hurryDays(row),
      emergencyExtraCost: hurryCost(row),
      approvedSubstitute: substitute(row).value,
    };
  };
}

/** Lower prices of larger orders; without a price of one piece, or where they do not fall from it, none. */
function priceBreaksColumn(table: CsvTable): (row: CsvRow, price: number | null) => PriceBreak[] {
  const place = table.place('price_breaks');
  const read = mended(table, 'price_breaks', columnOf(table, 'price_breaks', remembered(priceBreaksCell)));
  return (row, price) => {
    const steps = read(row) ?? [];
    const first = steps[0];
    if (first === undefined || (price !== null && first.price < price)) return steps;
    table.book.mend(row.row, 'price_breaks', table.text(row, place), price === null ? NO_PRICE : NO_FALL);
    return [];
  };
}

const NO_PRICE = fault(
  'price-breaks-without-price',
  'There are price breaks and no price of a single piece; the breaks are not used.',
  'Give the price of a piece below the first break in the column price.',
);
const NO_FALL = fault(
  'price-breaks-do-not-fall',
  'The first break is not cheaper than the price of a single piece; the breaks are not used.',
  'Give lower prices for larger orders.',
);

const NO_ITEM = fault('item-missing', 'The row has no part number.', 'Give the part number.');
const NO_MATERIAL = fault('material-missing', 'The material is missing.', 'Give the material.');
const NO_SIZE = fault('size-missing', 'The size is missing.', 'Give the nominal diameter (DN) as a number.');

function aside(book: RowBook, row: CsvRow, column: string, value: string | null, why: Fault): null {
  book.setAside(row.row, column, value, why);
  return null;
}

interface Found {
  item: Item;
  row: number;
}

function askAboutSubstitutes(found: readonly Found[], book: RowBook): void {
  const parts = new Set(found.map(({ item }) => item.item));
  for (const { item, row } of found) {
    if (item.approvedSubstitute === null) continue;
    const itself = item.approvedSubstitute === item.item;
    if (!itself && parts.has(item.approvedSubstitute)) continue;
    book.mend(
      row,
      'approved_substitute',
      item.approvedSubstitute,
      itself ? OWN_SUBSTITUTE : UNKNOWN_SUBSTITUTE,
    );
    item.approvedSubstitute = null;
  }
}

const UNKNOWN_SUBSTITUTE = fault(
  'substitute-unknown',
  'The substitute is not an item of this file; the row is used without it.',
  'Add the substitute, or correct its part number.',
);

const OWN_SUBSTITUTE = fault(
  'substitute-itself',
  'The item is named as its own substitute; the row is used without one.',
  'Name another part number, or leave the cell empty.',
);

/** Main items first, then substitutes, so that the first match of a material and size is the main one. */
function oneOfEach(found: readonly Found[], book: RowBook): Item[] {
  const substitutes = new Set(found.map(({ item }) => item.approvedSubstitute));
  const main = found.filter(({ item }) => !substitutes.has(item.item) || item.approvedSubstitute !== null);
  const holder = new Map<string, Item>();
  const items: Item[] = [];
  const rest = new Set(found);
  for (const one of main) rest.delete(one);
  for (const { item, row } of [...main, ...rest]) {
    const key = `${item.size}/${item.material}`;
    const other = holder.get(key);
    const allowed = other === undefined || isSubstitute(other, item);
    if (allowed) items.push(item);
    else book.setAside(row, 'item', item.item, sameItem(other.item));
    if (other === undefined) holder.set(key, item);
  }
  return items;
}

function isSubstitute(one: Item, other: Item): boolean {
  return one.approvedSubstitute === other.item || other.approvedSubstitute === one.item;
}

function sameItem(other: string): Fault {
  return fault(
    'item-material-size-twice',
    `Item ${other} holds the same material in the same size, and its stock and orders are planned; this one is not.`,
    'Keep one of them, or name it as approved_substitute of the other.',
  );
}

/** Items that nothing in the plant uses, and diaphragms in use that no item holds. */
export function askAboutUse(
  { items, rowOf }: ItemList,
  lives: LifeTable,
  materials: readonly string[],
  next: ReadonlySet<string>,
  book: RowBook,
): void {
  const used = new Map<string, string>();
  for (let i = 0; i < lives.length; i++) {
    const key = `${floatAt(lives.size, i)}/${materials[at(lives.material, i)]}`;
    if (!used.has(key)) used.set(key, `${materials[at(lives.material, i)]} DN ${floatAt(lives.size, i)}`);
  }
  const held = new Set(items.map((item) => `${item.size}/${item.material}`));
  for (const item of items) {
    const key = `${item.size}/${item.material}`;
    if (!used.has(key) && !next.has(key))
      book.ask(rowOf.get(item.item) ?? null, 'material', item.material, NOT_IN_USE);
  }
  for (const [key, name] of used) {
    if (!held.has(key)) book.ask(null, 'material', name, NO_ITEM_FOR);
  }
}

const NOT_IN_USE = fault(
  'item-not-in-use',
  'No life and no position has this material in this size, so no demand is seen for it.',
  'Check the spelling of the material and the size.',
);
const NO_ITEM_FOR = fault(
  'material-without-item',
  'Diaphragms of this material and size are in the history and no item holds them; no order can be made out for them.',
  'Add the item, or check the spelling of the material and the size.',
);
