/** lives.csv: one row a diaphragm, read cell by cell. What the rows say together is checked afterwards. */

import { floatAt } from '../numeric/columns.js';
import { count } from '../numeric/words.js';
import {
  type Cell,
  type CellReader,
  dateCell,
  type Fault,
  fault,
  numberCell,
  remembered,
  wordCell,
} from './cell.js';
import { columnOf } from './columnReader.js';
import type { CsvRow, CsvTable } from './csvTable.js';
import { type DraftLives, draftLives, GONE, KEPT } from './draftLives.js';
import { type Mappings, wordsOf } from './mappings.js';
import { mended } from './mended.js';
import { type NameList, nameCell } from './names.js';
import { positionCell } from './positionCell.js';
import { SIZE_RULE } from './readPositions.js';
import { FINDINGS_AT_REMOVAL, type Position, REASONS } from './types.js';

export interface LifeNames {
  materials: NameList;
  lots: NameList;
  fitters: NameList;
}

const UNKNOWN_REASON = REASONS.indexOf('unknown');
const UNKNOWN_FINDING = FINDINGS_AT_REMOVAL.indexOf('unknown');

/** Reads the lives; a row whose position is known is in the draft even where it is set aside. */
export function readLives(
  table: CsvTable,
  positions: readonly Position[],
  mappings: Mappings,
  names: LifeNames,
  draft: DraftLives = draftLives(table.mostRows),
): DraftLives {
  const read = lifeReader(table, positions, mappings, names);
  let withoutReason = 0;
  table.forEach((row) => {
    if (read(draft, row)) withoutReason += 1;
  }, true);
  if (withoutReason > 0) table.book.ask(null, 'reason', null, noReason(withoutReason));
  for (const column of ['fitted', 'removed']) {
    if (!table.has(column)) table.book.ask(null, column, null, noColumn(column));
  }
  return draft;
}

function noReason(rows: number): Fault {
  return fault(
    'reason-missing',
    `${count(rows, 'removal has', 'removals have')} no reason that can be read and ${rows === 1 ? 'counts' : 'count'} as unknown.`,
    'Give the reason where it is still known; unknown ones widen every answer.',
  );
}

function noColumn(column: string): Fault {
  const means = column === 'fitted' ? 'no life has a known age' : 'every diaphragm is still in place';
  return fault(
    'column-missing',
    `The file has no such column, which means that ${means}.`,
    'Add the column.',
  );
}

/** Fills one row of the draft; returns whether it is a removal without a reason. */
function lifeReader(table: CsvTable, positions: readonly Position[], mappings: Mappings, names: LifeNames) {
  const { book } = table;
  const column = <T>(name: string, cell: CellReader<T>) => columnOf(table, name, remembered(cell));
  const optional = <T>(name: string, cell: CellReader<T>) => mended(table, name, column(name, cell));
  const position = column('position', positionCell(positions, mappings));
  const material = column('material', nameCell(names.materials, wordsOf(mappings, 'material')));
  const size = column('size', numberCell(SIZE_RULE));
  const fitted = column('fitted', dateCell);
  const removed = column('removed', dateCell);
  const reason = optional('reason', wordCell(REASONS, wordsOf(mappings, 'reason')));
  const finding = optional('finding', wordCell(FINDINGS_AT_REMOVAL, wordsOf(mappings, 'finding')));
  const lastTight = optional('last_tight', dateCell);
  const recorded = optional('recorded', dateCell);
  const lot = optional('lot', nameCell(names.lots));
  const fittedBy = optional('fitted_by', nameCell(names.fitters));

  return (draft: DraftLives, row: CsvRow): boolean => {
    const where = position(row);
    if (where.value === null) {
      book.setAside(row.row, 'position', table.text(row, table.place('position')), where.fault ?? NO_TAG);
      return false;
    }
    const ofMaterial = material(row);
    const ofSize = size(row);
    const ofFitted = fitted(row);
    const ofRemoved = removed(row);
    const reasonWord = reason(row);
    const findingWord = finding(row);
    const i = draft.length++;
    draft.position[i] = where.value;
    draft.material[i] = ofMaterial.value ?? -1;
    draft.size[i] = ofSize.value ?? positions[where.value]?.size ?? Number.NaN;
    draft.fitted[i] = ofFitted.value ?? Number.NaN;
    draft.removed[i] = ofRemoved.value ?? Number.NaN;
    draft.reason[i] = reasonWord === null ? UNKNOWN_REASON : REASONS.indexOf(reasonWord);
    draft.finding[i] = findingWord === null ? UNKNOWN_FINDING : FINDINGS_AT_REMOVAL.indexOf(findingWord);
    draft.lastTight[i] = lastTight(row) ?? Number.NaN;
    draft.recorded[i] = recorded(row) ?? Number.NaN;
    draft.lot[i] = lot(row) ?? -1;
    draft.fittedBy[i] = fittedBy(row) ?? -1;
    draft.row[i] = row.row;
    const isWhole = ofMaterial.value !== null && (ofSize.fault ?? ofFitted.fault ?? ofRemoved.fault) === null;
    const broken = isWhole
      ? null
      : firstBroken({ material: ofMaterial, size: ofSize, fitted: ofFitted, removed: ofRemoved });
    draft.state[i] = broken === null ? KEPT : GONE;
    if (broken !== null) {
      book.setAside(row.row, broken.column, table.text(row, table.place(broken.column)), broken.why);
    }
    return broken === null && reasonWord === null && !Number.isNaN(floatAt(draft.removed, i));
  };
}

const NO_TAG = fault(
  'position-missing',
  'The row names no position.',
  'Give the tag; it is not taken from the row above.',
);
const NO_MATERIAL = fault(
  'material-missing',
  'The material is missing.',
  'Give the material that was fitted.',
);

/** The first cell without which the row says nothing. */
function firstBroken(cells: {
  material: Cell<number>;
  size: Cell<number>;
  fitted: Cell<number>;
  removed: Cell<number>;
}): { column: string; why: Fault } | null {
  if (cells.material.value === null) return { column: 'material', why: NO_MATERIAL };
  for (const column of ['size', 'fitted', 'removed'] as const) {
    const why = cells[column].fault;
    if (why !== null) return { column, why };
  }
  return null;
}
