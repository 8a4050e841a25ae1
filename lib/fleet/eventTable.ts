/**
 * What a removal means for the event that is counted (METHODS 1.3), as data. Event 'leak' asks when a diaphragm
 * leaks; event 'damage' when it is damaged, which is seen only once the valve is opened.
 */
import { FINDINGS_AT_REMOVAL, type FindingAtRemoval, REASONS, type Reason, type Site } from './types.js';

/**
 * - `failed at removal`: the event was seen on the day of removal.
 * - `failed by removal`: it happened at an unknown age up to removal.
 * - `right-censored`: it had not happened at removal.
 * - `condition`: taken out because it looked or tested bad; fitted both ways, as leak and as censored (METHODS 1.4).
 * - `unknown reason`: may be anything (METHODS 3.4).
 * - `set aside`: the row says nothing about the event.
 */
export type EventMeaning =
  | 'failed at removal'
  | 'failed by removal'
  | 'right-censored'
  | 'condition'
  | 'unknown reason'
  | 'set aside';

export interface LifeEvent {
  meaning: EventMeaning;
  /** A creased diaphragm was fitted wrongly: the row points to the fitting-fault mode. */
  fittingFault: boolean;
}

/** Findings that count as damage unless the site names its own. */
export const DAMAGE_FINDINGS: readonly FindingAtRemoval[] = ['cracked', 'torn', 'swollen', 'hardened'];

/** Event 'leak': the reason decides, whatever the finding. */
const LEAK_BY_REASON: Readonly<Record<Reason, EventMeaning>> = {
  leak: 'failed at removal',
  failed_test: 'failed at removal',
  condition: 'condition',
  scheduled: 'right-censored',
  opened: 'right-censored',
  retired: 'right-censored',
  unknown: 'unknown reason',
};

/**
 * What a completed life means for the event. `damageFindings` is used by event 'damage' only. Event 'damage': a leak
 * (or failed test) failed at removal; otherwise the finding decides, and where it is not known the row is set aside.
 */
export function lifeEvent(
  reason: Reason,
  finding: FindingAtRemoval,
  event: Site['event'],
  damageFindings: readonly FindingAtRemoval[] = DAMAGE_FINDINGS,
): LifeEvent {
  const fittingFault = finding === 'creased';
  const meaning = event === 'leak' ? LEAK_BY_REASON[reason] : damageMeaning(reason, finding, damageFindings);
  return { meaning, fittingFault };
}

function damageMeaning(
  reason: Reason,
  finding: FindingAtRemoval,
  damageFindings: readonly FindingAtRemoval[],
): EventMeaning {
  if (isLeak(reason)) return 'failed at removal';
  if (finding === 'unknown') return 'set aside';
  return damageFindings.includes(finding) ? 'failed by removal' : 'right-censored';
}

/** Whether a reason is a leak: one seen, or a failed test. */
export function isLeak(reason: Reason): boolean {
  return LEAK_BY_REASON[reason] === 'failed at removal';
}

/** The whole table as Markdown, one row per reason and finding, for the documentation. */
export function eventTableMarkdown(damageFindings: readonly FindingAtRemoval[] = DAMAGE_FINDINGS): string {
  const rows = REASONS.flatMap((reason) =>
    FINDINGS_AT_REMOVAL.map((finding) => tableRow(reason, finding, damageFindings)),
  );
  const head = ['| reason | finding | event leak | event damage |', '| --- | --- | --- | --- |'];
  return `${[...head, ...rows].join('\n')}\n`;
}

function tableRow(
  reason: Reason,
  finding: FindingAtRemoval,
  damageFindings: readonly FindingAtRemoval[],
): string {
  const leak = meaningText(lifeEvent(reason, finding, 'leak'));
  const damage = meaningText(lifeEvent(reason, finding, 'damage', damageFindings));
  return `| ${reason} | ${finding} | ${leak} | ${damage} |`;
}

const TEXTS: Readonly<Record<EventMeaning, string>> = {
  'failed at removal': 'failed at removal',
  'failed by removal': 'failed in (0, removal]',
  'right-censored': 'right-censored',
  condition: 'fitted both ways',
  'unknown reason': 'may be anything',
  'set aside': 'set aside',
};

function meaningText({ meaning, fittingFault }: LifeEvent): string {
  return fittingFault ? `${TEXTS[meaning]}; points to a fitting fault` : TEXTS[meaning];
}
