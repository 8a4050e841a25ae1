/** The report: one page that opens anywhere, with a part for each of its four readers. */
import { dateWords, plainName } from '../chart/words.js';
import { inLocale } from '../numeric/locale.js';
import type { Plan } from '../planTypes.js';
import { chartSvg } from '../render/svg.js';
import { engineerPart } from './engineer.js';
import { type DrawChart, type Figures, figures } from './figure.js';
import { answersPart, headerPart } from './header.js';
import { LIVE_STYLE } from './liveStyle.js';
import { maintenancePart } from './maintenance.js';
import { managerPart } from './manager.js';
import { html } from './markup.js';
import { wholePage } from './page.js';
import { pageScript } from './pageScript.js';
import { plannerPart } from './planner.js';
import { recordsPart } from './records.js';
import { STYLE } from './style.js';

/** The report of a plan as one HTML file without anything from outside, whole without its one script. Same plan, same bytes. */
export async function reportHtml(plan: Plan, draw: DrawChart = chartSvg): Promise<string> {
  const drawing = figures();
  const page = inLocale(plan.site.locale, () => pageOf(plan, drawing));
  return drawing.fill(page, draw);
}

function pageOf(plan: Plan, drawing: Figures): string {
  const planner = plannerPart(plan, drawing);
  const maintenance = maintenancePart(plan, drawing);
  const manager = managerPart(plan, drawing);
  const engineer = engineerPart(plan, drawing);
  const body = html`<a class="skip" href="#stores">Skip to the order table</a>
${headerPart(plan)}<main data-source="${sourceLine(plan)}">
${answersPart(plan)}${planner}${maintenance}${manager}${engineer}${recordsPart(plan)}</main>
<footer><p class="small">Made by weirwise ${plan.version} from data until ${dateWords(plan.site.dataUntil)}; seed ${plan.seed}; inputs ${plan.inputsHash}. ${plan.caution}</p></footer>
`;
  const title = `${plainName(plan.site.name)}: diaphragm plan`;
  return wholePage({ title, style: `${STYLE}${LIVE_STYLE}`, body, script: pageScript() });
}

/** What a picture that leaves the page says of where it is from. */
function sourceLine({ site, version, inputsHash }: Plan): string {
  return `${plainName(site.name)}, data until ${dateWords(site.dataUntil)}, weirwise ${version}, inputs ${inputsHash.slice(0, 12)}`;
}
