/** How good the records of a folder are: data for the screen, the page and the table. Nothing is pooled or priced. */
import type { Findings } from '../../findings.js';
import { lifeRow } from '../../fleet/lifeRows.js';
import { type Mend, mends } from '../../fleet/quality/mends.js';
import { type FileScore, scoreFiles } from '../../fleet/quality/scoreFiles.js';
import type { FleetRecords } from '../../fleet/read.js';
import { type GroupSupport, groupSupport } from '../../group/groupSupport.js';
import { textFromDay } from '../../numeric/day.js';
import { inLocale } from '../../numeric/locale.js';
import { switchedOff } from '../../planTexts.js';
import { type ReasonToAsk, reasonsToAsk } from '../otherReadings.js';
import { firstThing } from './firstThing.js';

export interface RecordsCheck {
  name: string;
  locale: string | undefined;
  /** YYYY-MM-DD. */
  dataUntil: string;
  findings: Findings;
  files: FileScore[];
  /** Lives that reading kept, and those of them that enter the fits. */
  lives: number;
  livesInFits: number;
  groups: GroupSupport[];
  /** Every cause, that first which gains most. */
  mends: Mend[];
  /** Up to 20 removals whose reason tells most. */
  reasons: ReasonToAsk[];
  /** One sentence for each file that is missing, and for each setting that is. */
  switchedOff: string[];
  assumed: string[];
  /** What to do first, in a sentence or two. */
  first: string;
}

/** Scores, support, mends and questions of a folder as read. Pure. */
export function checkRecords(records: FleetRecords): RecordsCheck {
  return inLocale(records.fleet.site.locale, () => check(records));
}

function check(records: FleetRecords): RecordsCheck {
  const { fleet } = records;
  const { site, findings, lives } = fleet;
  const groups = groupSupport(fleet);
  const asked = groups.flatMap(({ group, unknown }) => (unknown === null ? [] : [{ group, unknown }]));
  let livesInFits = 0;
  for (let i = 0; i < lives.length; i++) {
    if (lifeRow(fleet, i, 'leak').kind !== 'set aside') livesInFits += 1;
  }
  const found = {
    name: site.name,
    locale: site.locale,
    dataUntil: textFromDay(site.dataUntil),
    findings,
    files: scoreFiles(records),
    lives: lives.length,
    livesInFits,
    groups,
    mends: mends(records),
    reasons: reasonsToAsk(asked.filter(({ unknown }) => unknown.parts)),
    switchedOff: switchedOff(fleet),
    assumed: site.assumed,
  };
  return { ...found, first: firstThing(found) };
}
