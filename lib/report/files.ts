/** The files of a plan, as texts. */
import { significant } from '../numeric/round.js';
import type { Plan } from '../planTypes.js';
import { changeSheetsHtml } from './changeSheets.js';
import { csvFiles } from './csv.js';
import type { DrawChart } from './figure.js';
import { reportHtml } from './html.js';
import { pickListsHtml } from './pickListPage.js';
import { pickLists } from './pickLists.js';

/** Digits kept of every number in plan.json, so that other machines write the same bytes. */
const DIGITS = 10;

/** plan.json of a plan: two-space indents, numbers to 10 significant digits. */
export function planJson(plan: Plan): string {
  const rounded = (_key: string, value: unknown): unknown =>
    typeof value === 'number' ? significant(value, DIGITS) : value;
  return `${JSON.stringify(plan, rounded, 2)}\n`;
}

/** Every file of a plan by name; `draw` draws the charts of the report, in this thread by default. */
export async function planFiles(plan: Plan, draw?: DrawChart): Promise<Map<string, string>> {
  // Threads may draw for the report while the tables are written here.
  const report = reportHtml(plan, draw);
  const lists = pickLists(plan);
  const [tables, json] = [csvFiles(plan, lists), planJson(plan)];
  const [sheets, picks] = [changeSheetsHtml(plan), pickListsHtml(plan, lists)];
  return new Map([
    ['report.html', await report],
    ['change-sheets.html', sheets],
    ['pick-lists.html', picks],
    ...Object.entries(tables),
    ['plan.json', json],
  ]);
}
