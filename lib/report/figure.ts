/** A chart in the page: heading and finding as text, the picture, and its numbers folded below. */
import type { Chart } from '../chart/types.js';
import { chartSvg } from '../render/svg.js';
import { dataTable, folded, type Html, html, name, prose, trusted } from './markup.js';

/** Gives every picture of a page ids of its own. */
export interface Figures {
  draw(chart: Chart): Promise<Html>;
  all(charts: readonly Chart[]): Promise<Html[]>;
}

const MOST_ROWS = 60;

export function figures(): Figures {
  let drawn = 0;
  const draw = async (chart: Chart): Promise<Html> => {
    drawn += 1;
    const svg = await chartSvg(chart, { idPrefix: `c${drawn}`, heading: false, variables: true });
    return figure(chart, svg);
  };
  return {
    draw,
    all: async (charts) => {
      const list: Html[] = [];
      for (const chart of charts) list.push(await draw(chart));
      return list;
    },
  };
}

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
