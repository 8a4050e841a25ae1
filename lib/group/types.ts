/** A group: lives of one material in one size (and one duty, where the history shows that duties differ). */
import type { Warning } from '../findings.js';
import type { WeibullModel } from '../life/model.js';
import type { LifeDraws, LifeSample } from '../life/sampleTypes.js';
import type { Day } from '../numeric/day.js';

export interface Group {
  /** 'EPDM DN 25' or 'EPDM DN 25, bioreactor'. */
  name: string;
  material: string;
  size: number;
  /** The duty, or null where the group covers every duty. */
  duty: string | null;
  /** Lives in the fit (rows, not weights). */
  lives: number;
  /** Leaks in the fit: whole ones plus the weights of unknown reasons. */
  failures: number;
  /** Recorded leaks younger than 60 days. */
  earlyLeaks: number;
  /** Indices into Fleet.positions of the positions that hold this group's diaphragm now or would be refitted with it. */
  positions: number[];
  sample: LifeSample;
  /** The planning model: posterior median of each parameter (or the likelihood's maximum at 5 or more leaks). */
  model: WeibullModel;
  bounds: { shape: [number, number]; scale: [number, number]; share: [number, number] };
  /** Two-sided level of the bounds, 0.9. */
  level: number;
  /** 'likelihood' or 'posterior'. */
  method: 'likelihood' | 'posterior';
  /** Largest age, days, up to which the data support a statement; null where there is none. */
  supportedAge: number | null;
  /** Share of what is known of the scale that came from other groups, 0 to 1. */
  borrowed: number;
  /**
   * By how much the log-likelihood is flattened because lives of one position are alike and because some reasons are
   * not known; 1 where neither matters.
   */
  inflation: number;
  /**
   * What the group would look like if no removal of unknown reason had been a leak, or every one (maximum likelihood, shape
   * held near 2 under 5 leaks; null where nothing leaked). Null where every reason is known.
   */
  unknownReasons: { none: WeibullModel | null; all: WeibullModel | null } | null;
  /** Joint posterior: draw d belongs together over all groups of a plan. */
  draws: LifeDraws;
  warnings: Warning[];
  /** The practised schedule, as read from the history. */
  today: PractisedSchedule;
  /** Openings for other work per position and year. */
  openingsPerYear: number;
}

/** What the plant does today, read from the ages of scheduled removals. */
export interface PractisedSchedule {
  /** Median age at scheduled removal, days; null = no schedule seen (run until it leaks). */
  days: number | null;
  scheduledRemovals: number;
  /** Tenth and ninetieth percentile of those ages. */
  range: [number, number] | null;
  /** Share of lives that got older than 1.1 times the practised age. */
  exceededShare: number;
}

/** Where every running diaphragm stands: one per position in service at `Site.dataUntil`. */
export interface RunningLife {
  position: number;
  /** Index into the groups of what is fitted now. */
  groupNow: number;
  /** Index into the groups of what will be fitted next. */
  groupNext: number;
  fitted: Day | null;
  /** Ages in days with chances that add up to 1: one entry where the fitting day is known (METHODS 1.6). */
  ages: { age: number; chance: number }[];
}

export interface GroupedFleet {
  groups: Group[];
  running: RunningLife[];
  /** Why groups were or were not split by duty, and how fitting faults were found; for the engineer. */
  notes: string[];
  /** Effective size of the posterior sample that the draws are taken from, smallest over parameters. */
  effectiveDraws: number;
  /** Expected number of leaks among the removals without a reason, which no record names. */
  leaksWithoutReason: number;
  warnings: Warning[];
}
