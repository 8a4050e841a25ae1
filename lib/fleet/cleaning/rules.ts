/** The rules by which records are cleaned: what each looks for, what it does, and what is done in its place where the plant switches it off. */

export interface CleaningRule {
  /** Its name in site.json under "cleaning". */
  name: string;
  looksFor: string;
  does: string;
  /** What is done where it is switched off; null where it cannot be. */
  off: string | null;
  /** Codes of the problems that it finds. */
  codes: readonly string[];
  /** Days by which it may alter the length of a life; where it would alter more, the life is set aside. Null: it alters none. */
  mostDays: number | null;
}

/**
 * A removal up to a year after the extract is one that is planned, or known because the extract was cut back: on its day the diaphragm was
 * in place. A later one has its year mistyped, so when the life ended is not known.
 */
const YEAR_DAYS = 366;

export const CLEANING_RULES = [
  {
    name: 'overlaps',
    looksFor: 'two diaphragms in one position at once',
    does: 'the one that clashes with most others is set aside, both where they clash with each other only; up to 3 days between neighbours is asked about',
    off: 'both are used as they stand',
    codes: ['lives-overlap', 'lives-touch'],
    mostDays: null,
  },
  {
    name: 'gaps',
    looksFor:
      'more than 30 days between a removal and the next fitting, the position not idle: a life may be missing',
    does: 'asked about',
    off: 'not asked about',
    codes: ['gap-between-lives'],
    mostDays: null,
  },
  {
    name: 'removed_before_fitted',
    looksFor: 'a removal before its fitting',
    does: 'set aside; the days are not swapped',
    off: 'counts as a life of unknown age: an opening, and no age',
    codes: ['removed-before-fitted'],
    mostDays: null,
  },
  {
    name: 'future_dates',
    looksFor: 'days after the extract was made',
    does: 'a removal to come is left out, so that the life counts as still in place; one later than that, and everything else of such a day, is set aside',
    off: 'the life is set aside too',
    codes: [
      'fitted-after-data',
      'removed-after-data',
      'recorded-after-data',
      'reading-after-data',
      'order-after-data',
    ],
    mostDays: YEAR_DAYS,
  },
  {
    name: 'placeholder_dates',
    looksFor: 'days that programs write where there is none, such as 1900-01-01, 1970-01-01 and 9999-12-31',
    does: 'read as empty',
    off: 'read as days, and set aside by other rules',
    codes: ['date-placeholder'],
    mostDays: null,
  },
  {
    name: 'two_digit_years',
    looksFor: 'years of two digits',
    does: 'read as 1950 to 2049',
    off: 'not read: the row is set aside, or used without the day where it can be',
    codes: ['year-of-two-digits'],
    mostDays: null,
  },
  {
    name: 'repeated_rows',
    looksFor: 'rows that say the same, and several orders for one job',
    does: 'one is kept and the others are set aside; of orders what each adds is put together',
    off: 'each is taken for itself; lives that say the same then overlap',
    codes: [
      'life-duplicate',
      'row-in-two-files',
      'position-duplicate',
      'reading-twice',
      'order-repeated',
      'orders-merged',
      'orders-contradict',
      'order-in-lives',
    ],
    mostDays: 3,
  },
  {
    name: 'material_within_life',
    looksFor: 'an order in the time of a life that names another material than the one fitted',
    does: 'a replacement may be missing: the life counts as one of unknown age',
    off: 'the life is used as it stands',
    codes: ['material-within-life'],
    mostDays: null,
  },
  {
    name: 'sizes',
    looksFor: 'a life with another size than its position',
    does: 'asked about; the size of the life is used',
    off: 'not asked about',
    codes: ['size-differs'],
    mostDays: null,
  },
  {
    name: 'blank_words',
    looksFor: 'a dash, n/a, null or the like in place of a date, number or word',
    does: 'read as empty; an empty removal is a diaphragm in place',
    off: 'read as it stands: the row is set aside, or used without the cell where it can be',
    codes: ['blank-word'],
    mostDays: null,
  },
  {
    name: 'tags',
    looksFor:
      'a tag that differs from a known one in capitals, spaces, leading zeros, kind of dash or letters that do not print',
    does: 'joined where it can be one known position only',
    off: 'set aside unless written as in positions.csv',
    codes: ['tag-joined'],
    mostDays: null,
  },
  {
    name: 'out_of_service',
    looksFor: 'lives that go on after their position went out of service',
    does: 'a life ends with the service of its position; one fitted later, or found leaking later, is set aside',
    off: 'every life that ends later is set aside',
    codes: ['ended-with-service', 'life-out-of-service', 'retired-without-date'],
    mostDays: 31,
  },
  {
    name: 'missing_lives',
    looksFor: 'a position in service with no diaphragm in place',
    does: 'one is taken to have been fitted at the last removal, or to be of unknown age',
    off: 'none is built, and the position is not planned',
    codes: ['life-built'],
    mostDays: null,
  },
  {
    name: 'left_open',
    looksFor: 'a life without a removal that another followed, or with a reason and no day of removal',
    does: 'set aside: its end is on a day that is not on record',
    off: null,
    codes: ['life-left-open', 'two-running-lives', 'removal-date-missing'],
    mostDays: null,
  },
  {
    name: 'dates',
    looksFor: 'days that no calendar has, and dates written unlike the others of their column',
    does: 'read in the order that the others have, or set aside',
    off: null,
    codes: ['date-does-not-exist', 'date-implausible', 'date-format'],
    mostDays: null,
  },
] as const satisfies readonly CleaningRule[];

export type CleaningName = (typeof CLEANING_RULES)[number]['name'];

/** Names of the rules that can be switched off. */
export const SWITCHABLE: readonly string[] = CLEANING_RULES.filter(({ off }) => off !== null).map(
  ({ name }) => name,
);

/** Which rules the plant switched off, and its own limit of how much a mend may alter the length of a life. */
export interface Cleaning {
  off: ReadonlySet<string>;
  /** Days; null: the limit of each rule. */
  mostDays: number | null;
}

export const ALL_ON: Cleaning = { off: new Set(), mostDays: null };

export function isOn({ off }: Cleaning, rule: CleaningName): boolean {
  return !off.has(rule);
}

/** Whether a mend that alters a life by so many days is too much. */
export function isTooMuch({ mostDays }: Cleaning, rule: CleaningName, days: number): boolean {
  const limit = mostDays ?? CLEANING_RULES.find(({ name }) => name === rule)?.mostDays ?? null;
  return limit !== null && days > limit;
}

/** The table of the README. */
export function cleaningTableMarkdown(): string {
  const rows = CLEANING_RULES.map(
    ({ name, looksFor, does, off, mostDays }) =>
      `| \`${name}\` | ${looksFor} | ${does} | ${off ?? 'cannot be switched off'} | ${mostDays === null ? '' : `${mostDays} days`} |`,
  );
  const head = [
    '| rule | looks for | does | switched off | may alter a life by |',
    '| --- | --- | --- | --- | --- |',
  ];
  return `${[...head, ...rows].join('\n')}\n`;
}
