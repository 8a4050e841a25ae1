export { chartPage } from './page.js';
export { displayData, show } from './show.js';
export { chartSvg, type SvgOptions } from './svg.js';
export { showTable, type TableRow, tableData } from './table.js';
