/** How good the records of a folder are: data, files and the text for the screen. */
export { checkFiles } from './checkFiles.js';
export { checkRecords, type RecordsCheck } from './checkRecords.js';
export { checkText } from './checkText.js';
