/** Names of months in the languages that the runtime knows, as the Unicode CLDR has them (through Intl, ECMA-402). */

/** Languages tried, by their BCP 47 tags. */
const LANGUAGES = [
  ...['en', 'de', 'fr', 'es', 'it', 'pt', 'nl', 'da', 'sv', 'nb', 'fi'],
  ...['pl', 'cs', 'sk', 'sl', 'hr', 'hu', 'ro', 'tr', 'et', 'lv', 'lt'],
];

let known: ReadonlyMap<string, number> | null = null;

/** The month from 1 that a word names in some language; null where it names none or two. */
export function monthOfWord(word: string): number | null {
  known ??= allNames();
  return known.get(plain(word)) ?? null;
}

function allNames(): ReadonlyMap<string, number> {
  const names = new Map<string, number>();
  const twice = new Set<string>();
  for (const language of LANGUAGES) {
    for (const name of namesOf(language)) {
      const before = names.get(name.word);
      if (before !== undefined && before !== name.month) twice.add(name.word);
      names.set(name.word, name.month);
    }
  }
  // A word that is one month in this language and another in that ('srpen' and 'srpanj' are not, 'listopad' is) tells nothing.
  for (const word of twice) names.delete(word);
  return names;
}

/** Names standing alone and beside a day (some languages bend them), long and short. */
function namesOf(language: string): { word: string; month: number }[] {
  return (['long', 'short'] as const).flatMap((month) => {
    const alone = new Intl.DateTimeFormat(language, { month, timeZone: 'UTC' });
    const beside = new Intl.DateTimeFormat(language, { month, day: 'numeric', timeZone: 'UTC' });
    return Array.from({ length: 12 }, (_, i) => {
      const middle = Date.UTC(2024, i, 15);
      const bent = beside.formatToParts(middle).find(({ type }) => type === 'month')?.value ?? '';
      return [alone.format(middle), bent].map((text) => ({ word: plain(text), month: i + 1 }));
    }).flat();
  });
}

/** Small letters without marks on them and without a full stop. */
function plain(text: string): string {
  return text
    .normalize('NFD')
    .replace(/[\u0300-\u036f.]/g, '')
    .toLowerCase();
}
