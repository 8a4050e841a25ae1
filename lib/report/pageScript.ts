/** The one script of the report page, as text: nothing of it is needed to read the page. */
import { BASICS } from './script/basics.js';
import { PICTURES } from './script/pictures.js';
import { READERS } from './script/readers.js';
import { LONG_TABLE, PAGE_ROWS, TABLES } from './script/tables.js';
import { SCRIPT_TEXTS } from './texts.js';

/** The script as written, types in remarks and all: what a test compiles. */
export function scriptSource(): string {
  // A text cannot end the script early, whatever a translator writes.
  const texts = JSON.stringify(SCRIPT_TEXTS).replaceAll('<', '\\u003c');
  return `(() => {
const TEXT = ${texts};
const LONG = ${LONG_TABLE};
const PAGE = ${PAGE_ROWS};
${BASICS}${TABLES}${PICTURES}${READERS}})();
`;
}

/** The script as the page carries it: without remarks and indents. */
export function pageScript(): string {
  return scriptSource()
    .replace(/^ *(?:\/\/.*|\/\*\*.*\*\/ *)\n/gm, '')
    .replace(/\/\*\*.*?\*\/ ?/g, '')
    .replace(/^ +/gm, '')
    .replace(/\n\n+/g, '\n');
}
