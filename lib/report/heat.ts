/** What equivalent hours are and what they rest on: a table of activation energies. */
import { amount, listed, range } from '../chart/words.js';
import type { WearEnergy, WearHeat } from '../group/wear/types.js';
import { dataTable, folded, type Html, html, prose } from './markup.js';
import { COLUMN } from './texts.js';

/** Nothing where positions.csv tells no temperatures. */
export function heatPart(heat: WearHeat | undefined): Html | null {
  if (heat === undefined) return null;
  const reference = `${amount(heat.referenceCelsius, 4)} °C`;
  const table = dataTable({
    caption: `Activation energies by which heat is turned into hours at ${reference}`,
    columns: [
      { title: COLUMN.material },
      { title: COLUMN.activationEnergy },
      { title: COLUMN.dataBehindIt },
      { title: COLUMN.sourceOfIt },
    ],
    rows: heat.energies.map((energy) => [
      prose(energy.material),
      html`<b>${amount(energy.kJPerMol)}</b>${energy.low === energy.high ? null : html` (${range(energy.low, energy.high)})`}`,
      energy.dataCelsius === null ? 'not known' : range(energy.dataCelsius[0], energy.dataCelsius[1]),
      prose(sourceWords(energy)),
    ]),
    cards: true,
  });
  return folded(
    html`<b>Heat as a clock: equivalent hours</b>`,
    html`<p>${prose(`Equivalent hours are weighed beside days, steam cycles, hot cleans and strokes: hours at ${reference} that age a diaphragm as much as the heat it had (${listed(heat.parts)}), by the law of Arrhenius. They are left out where they rise with another clock, and a clock is told only where it is the same over the range of the activation energy.`)}</p>
${table}`,
    true,
  );
}

function sourceWords({ from, source }: WearEnergy): string {
  if (from === 'lives') return `estimated from ${source}`;
  return from === 'site.json' && source !== from ? `site.json: ${source}` : source;
}
