/** A chart in the page: heading and finding as text, the picture, and its numbers folded below. */
import type { Chart } from '../chart/types.js';
import { itemAt } from '../numeric/columns.js';
import type { SvgOptions } from '../render/svg.js';
import { dataTable, folded, type Html, html, name, prose, trusted } from './markup.js';

/** Draws one chart; `chartSvg` where nothing else is given. */
export type DrawChart = (chart: Chart, options: SvgOptions) => Promise<string>;

/** The pictures of a page: each has its place and its ids when it is asked for, and all are drawn together at the end. */
export interface Figures {
  draw(chart: Chart): Html;
  all(charts: readonly Chart[]): Html[];
  /** The page with the pictures in their places. */
  fill(page: string, draw: DrawChart): Promise<string>;
}

/** How a picture in the page is drawn: headings are text of the page, colours follow its light and dark. */
export const PICTURE: SvgOptions = { heading: false, variables: true };

const MOST_ROWS = 60;

export function figures(): Figures {
  const asked: Chart[] = [];
  const draw = (chart: Chart): Html => {
    asked.push(chart);
    return figure(chart, placeOf(asked.length));
  };
  return {
    draw,
    all: (charts) => charts.map(draw),
    fill: async (page, drawChart) => {
      const pictures = await Promise.all(
        asked.map((chart, i) => drawChart(chart, { ...PICTURE, idPrefix: `c${i + 1}` })),
      );
      return page.replace(PLACE, (_, number: string) => itemAt(pictures, Number(number) - 1));
    },
  };
}

/** Where picture n goes. A name that a user typed cannot look like this, as its angle brackets are escaped. */
function placeOf(number: number): string {
  return `<!--picture ${number}-->`;
}

const PLACE = /<!--picture (\d+)-->/g;

function figure(chart: Chart, svg: string): Html {
  return html`<figure><figcaption><strong>${prose(chart.title)}</strong><span class="finding">${prose(chart.finding)}</span></figcaption>
<span class="hint" aria-hidden="true">Slide the picture sideways to see all of it →</span><div class="picture" tabindex="0" role="group" aria-label="${`Picture: ${chart.title}`}">${trusted(svg)}</div>
${chart.leftOut === null ? null : html`<p class="small">${chart.leftOut}</p>`}${numbers(chart)}</figure>
`;
}

function numbers({ title, table }: Chart): Html {
  const shown = table.rows.slice(0, MOST_ROWS);
  const caption = `Numbers: ${title}${shown.length < table.rows.length ? ` (first ${MOST_ROWS} of ${table.rows.length})` : ''}`;
  const rows = shown.map((row) => row.map((cell) => (typeof cell === 'string' ? name(cell) : cell)));
  const columns = table.columns.map((column, i) => ({ title: column, number: i > 0 }));
  return folded(
    html`Numbers<span class="aside">: ${title}</span>`,
    dataTable({ caption, columns, rows, quiet: true }),
  );
}
