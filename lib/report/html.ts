/** The report: one page that opens anywhere, with a part for each of its four readers. */
import { plainName } from '../chart/words.js';
import type { Plan } from '../planTypes.js';
import { chartSvg } from '../render/svg.js';
import { engineerPart } from './engineer.js';
import { type DrawChart, figures } from './figure.js';
import { answersPart, headerPart } from './header.js';
import { maintenancePart } from './maintenance.js';
import { managerPart } from './manager.js';
import { html } from './markup.js';
import { wholePage } from './page.js';
import { plannerPart } from './planner.js';
import { recordsPart } from './records.js';
import { STYLE } from './style.js';

/** The report of a plan as one HTML file without scripts and without anything from outside. Same plan, same bytes. */
export async function reportHtml(plan: Plan, draw: DrawChart = chartSvg): Promise<string> {
  const drawing = figures();
  const planner = plannerPart(plan, drawing);
  const maintenance = maintenancePart(plan, drawing);
  const manager = managerPart(plan, drawing);
  const engineer = engineerPart(plan, drawing);
  const body = html`<a class="skip" href="#stores">Skip to the order table</a>
${headerPart(plan)}<main>
${answersPart(plan)}${planner}${maintenance}${manager}${engineer}${recordsPart(plan)}</main>
<footer><p class="small">Made by weirwise ${plan.version} from data until ${plan.site.dataUntil}; seed ${plan.seed}; inputs ${plan.inputsHash}. ${plan.caution}</p></footer>
`;
  const page = wholePage({ title: `${plainName(plan.site.name)}: diaphragm plan`, style: STYLE, body });
  return drawing.fill(page, draw);
}
