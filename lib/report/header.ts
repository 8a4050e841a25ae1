/** Top of the page: what this is, what it rests on, the caution, and an answer for each reader. */

import { amount, count, dateWords, hoursWords } from '../chart/words.js';
import { type AdviceKind, countDirections } from '../interval/adviceKind.js';
import type { Plan } from '../planTypes.js';
import { orderRows } from './csv.js';
import { nextWindow, shortAnswer } from './maintenance.js';
import { changedText } from './manager.js';
import { type Html, html, name, prose, unbroken } from './markup.js';
import { savingSentence } from './saving.js';
import { HEADING, SENTENCE } from './texts.js';

export function headerPart(plan: Plan): Html {
  const { site, findings } = plan;
  const records = site.recordsFrom === null ? '' : `Records from ${dateWords(site.recordsFrom)}. `;
  const event =
    site.event === 'damage'
      ? 'A life ends when it leaks; damage is shown apart and not priced'
      : 'A life ends when it leaks';
  return html`<header>
<h1>${name(site.name)}: diaphragm plan</h1>
<p class="facts">Data until <b>${dateWords(site.dataUntil)}</b>. ${records}${count(findings.rowsIn, 'row')} read, ${amount(findings.rowsUsed, 9)} used. ${event}. weirwise ${plan.version}, seed ${plan.seed}, inputs ${plan.inputsHash.slice(0, 12)}.</p>
</header>
<nav aria-label="Readers"><ul><li><a href="#stores">Stores planner</a></li><li><a href="#maintenance">Maintenance</a></li><li><a href="#manager">Manager</a></li><li><a href="#engineer">Engineer</a></li><li><a href="#records">What was found in the records</a></li></ul></nav>
`;
}

/** One box for each reader. */
export function answersPart(plan: Plan): Html {
  return html`<div class="answers">
<section><h2>${HEADING.storesWhatToOrder}</h2>${storesAnswer(plan)}<p><a href="#stores">Order table</a></p></section>
<section><h2>${HEADING.maintenanceWhatFits}</h2>${maintenanceAnswer(plan)}<p><a href="#maintenance">Next shutdown and task list</a></p></section>
<section><h2>${HEADING.managerWhatChanges}</h2>${managerAnswer(plan)}<p><a href="#manager">Cost and saving</a></p></section>
<section><h2>${HEADING.engineerHowSure}</h2>${engineerAnswer(plan)}<p><a href="#engineer">Lives and intervals</a></p></section>
</div>
<p class="caution"><b>Before you act.</b> ${plan.caution}</p>
`;
}

function storesAnswer({ stock, site }: Plan): Html {
  if (stock.length === 0) return html`<p>${SENTENCE.noStockListForOrders}</p>`;
  const orders = orderRows(stock);
  const first = orders[0];
  if (first === undefined) return html`<p><b>Nothing to order</b> within the months planned.</p>`;
  const now = orders.filter(({ order }) => order.orderBy <= site.dataUntil).length;
  const hurried = orders.filter(({ order }) => order.expedite).length;
  const hurry = hurried === 0 ? '' : ` ${count(hurried, 'order')} cannot wait for the usual lead time.`;
  const late = stock.flatMap(({ chase }) => (chase === null ? [] : [chase]));
  const short = late.filter(({ needed }) => needed !== null).length;
  const chase =
    late.length === 0
      ? null
      : html` <b>Chase ${count(late.length, 'overdue order')}</b>${short === 0 ? '.' : ': a shutdown is short without.'}`;
  const warned = stock.filter(({ warnings }) => warnings.length > 0).length;
  const mind = warned === 0 ? '' : ` ${count(warned, 'item has', 'items have')} a warning.`;
  const when = first.order.orderBy <= site.dataUntil ? 'now' : `by ${dateWords(first.order.orderBy)}`;
  return html`<p><b>${now === 0 ? SENTENCE.nothingToOrderToday : `${count(now, 'order')} now`}</b>${now === 0 ? ` ${count(orders.length, 'order')} later.` : `, ${amount(orders.length - now, 9)} later.`} First: ${amount(first.order.quantity, 9)} × ${name(first.item.item)} <b>${when}</b>, due ${dateWords(first.order.dueBy)}.${hurry}${chase}${mind}</p>`;
}

function maintenanceAnswer(plan: Plan): Html {
  const next = nextWindow(plan);
  if (next === null) return html`<p><b>Nothing to replace</b> within the time planned.</p>`;
  const { load } = next;
  const crew = load.crewHours === null ? '' : ` of ${hoursWords(load.crewHours)}`;
  return html`<p>${name(load.shutdown)}, ${dateWords(load.start)}: <b>${count(load.replacements, 'replacement')}</b>, ${hoursWords(load.hoursPlanned)}${crew}.${shortAnswer(next)}</p>`;
}

function managerAnswer(plan: Plan): Html {
  return html`<p>${changedText(plan)} ${unbroken(savingSentence(plan.cost, plan.site.currency))}</p>`;
}

function engineerAnswer({ groups, intervals, backlog }: Plan): Html {
  if (groups.length === 0) return html`<p>${SENTENCE.noGroupLivesCouldBeFormed}</p>`;
  const few = groups.filter(({ failures }) => failures < 5).length;
  const kept = keptWords(countDirections(intervals));
  // Parts of a group by use rest on the same lives.
  const whole = [...new Map(groups.map((each) => [each.use?.of ?? each.group, each])).values()];
  const leaks = whole.reduce((all, { failures }) => all + failures, 0);
  const lives = whole.reduce((all, group) => all + group.lives, 0);
  const gone = backlog.goneAfter === null ? '' : `, none after ${backlog.goneAfter}`;
  const overdue =
    backlog.overdueNow === 0
      ? ''
      : `${count(backlog.overdueNow, 'position')} past the interval today${gone}.`;
  return html`<p><b>${count(Math.round(leaks), 'leak')}</b> in ${count(lives, 'life', 'lives')}, ${count(groups.length, 'group')}. ${few} with under 5 leaks. ${unbroken(kept)} ${prose(overdue)}</p>`;
}

/** Kept for want of records is one thing, kept because there is next to nothing to gain another. */
function keptWords({ near, keep, unpriced }: Record<AdviceKind, number>): string {
  const parts = [
    [near, 'because it is within 2 % of the least cost already'],
    [keep, 'for want of records'],
    [unpriced, 'for want of prices'],
  ] as const;
  const given = parts.filter(([number]) => number > 0);
  const [first] = given;
  if (first === undefined) return '';
  const words = given.map(([number, why], i) => `${i === 0 ? count(number, 'group') : number} ${why}`);
  return `Today’s interval is kept in ${words.join(', in ')}.`;
}
