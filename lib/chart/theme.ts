/** The look shared by all charts: sizes, fonts, greys and one accent. Colours are those of white paper. */

/** Width of every chart, axes and margins included, px. */
export const CHART_WIDTH = 520;

export const FONT = 'Arial, "Liberation Sans", Helvetica, sans-serif';
export const TITLE_SIZE = 15;
export const FINDING_SIZE = 12;
export const TICK_SIZE = 11;
export const LABEL_SIZE = 11.5;

/** Roles of colour. The report swaps each for a variable, so that dark mode and print need no second picture. */
export const COLOUR = {
  paper: '#ffffff',
  ink: '#1d2329',
  text: '#4d565d',
  rule: '#8d969c',
  fill: '#c9ced2',
  band: '#dfe3e6',
  grid: '#e4e7e9',
  rust: '#96371b',
  soft: '#f3e3dc',
  navy: '#17324d',
} as const;

export type ColourRole = keyof typeof COLOUR;

/** The same roles on dark paper. */
export const DARK: Record<ColourRole, string> = {
  paper: '#15191c',
  ink: '#e8e6e1',
  text: '#b9c0c4',
  rule: '#7b858b',
  fill: '#4a5359',
  band: '#2c3338',
  grid: '#262c30',
  rust: '#e5825f',
  soft: '#4a2c22',
  navy: '#8fb3d9',
};

/** Vega-Lite configuration: no frame, quiet axes, no legend. */
export const CONFIG = {
  background: null,
  font: FONT,
  view: { stroke: null },
  legend: { disable: true },
  title: {
    anchor: 'start',
    color: COLOUR.ink,
    fontSize: TITLE_SIZE,
    fontWeight: 'bold',
    subtitleColor: COLOUR.text,
    subtitleFontSize: FINDING_SIZE,
    subtitlePadding: 5,
    lineHeight: 19,
    subtitleLineHeight: 16,
  },
  axis: {
    domainColor: COLOUR.rule,
    tickColor: COLOUR.rule,
    tickOpacity: 1,
    tickSize: 4,
    gridColor: COLOUR.grid,
    labelColor: COLOUR.text,
    labelFontSize: TICK_SIZE,
    labelPadding: 4,
    titleColor: COLOUR.text,
    titleFontSize: LABEL_SIZE,
    titleFontWeight: 'normal',
  },
  text: { font: FONT, fontSize: LABEL_SIZE, color: COLOUR.ink },
};
