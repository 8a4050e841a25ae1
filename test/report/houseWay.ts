/** Numbers and dates in what a page or a print-out shows that are not written as a locale has them. */

export interface Locale {
  /** Marks of the locale, given here by hand and not asked of the library. */
  decimal: string;
  thousands: string;
  /** Digits between marks, from the second on: 3, or 2 where the count goes by lakhs. */
  group: 2 | 3;
  /** Dates that no reader of the locale writes. */
  dates: RegExp;
}

const MONTHS = 'January|February|March|April|May|June|July|August|September|October|November|December';
const SHORT = 'Jan|Feb|Mar|Apr|Jun|Jul|Aug|Sep|Oct|Nov|Dec';

/** From the common locale data repository, as printed by `new Intl.NumberFormat` and `DateTimeFormat`, looked at by eye. */
export const LOCALES: Readonly<Record<'de-DE' | 'en-IN', Locale>> = {
  // 1.234.567,8; 30. Sept. 2026; 7. März 2027
  'de-DE': {
    decimal: ',',
    thousands: '.',
    group: 3,
    dates: new RegExp(
      `\\d (?:${MONTHS}|${SHORT}) \\d{4}|\\b(?:March|May|June|July|October|December|Mar|Dec|Oct) \\d{4}`,
    ),
  },
  // 12,34,567.8; 30 Sept 2026
  'en-IN': { decimal: '.', thousands: ',', group: 2, dates: /\bSep \d{4}/ },
};

/** What is seen of a page, piece by piece: texts between marks of paragraphs and cells, and what is read aloud. */
export function seenTexts(page: string): string[] {
  const body = page.replace(/<(style|script)\b[\s\S]*?<\/\1>/g, '\n');
  const spoken = [...body.matchAll(/ (?:aria-label|data-title|title|alt)="([^"]*)"/g)].map(
    ([, text = '']) => text,
  );
  const joined = body.replace(/<\/?(?:b|bdi|a|em|strong|i|code)(?: [^>]*)?>/g, '');
  return [...joined.split(/<[^>]*>/), ...spoken].map(unescaped).filter((text) => /\d/.test(text));
}

function unescaped(text: string): string {
  const signs: Record<string, string> = {
    '&lt;': '<',
    '&gt;': '>',
    '&quot;': '"',
    '&#39;': "'",
    '&amp;': '&',
  };
  return text.replace(/&(?:lt|gt|quot|#39|amp);/g, (sign) => signs[sign] ?? sign);
}

/**
 * What stands as it is in every locale: cells of the plant's files, which somebody will look for there (in quotation
 * marks, after the number of their row, or given here), numbers of rows, how a file is to be written, and the version.
 */
function withoutFiles(text: string, cells: readonly string[]): string {
  const plain = text
    .replace(/"[^"]*"/g, '""')
    .replace(/\brows? \d+(?:(?:, | and )\d+)*(?:: [^)]*\))?/g, 'row')
    .replace(/for example (?:2024-03-31|1234\.5)/g, 'for example')
    .replace(/weirwise \d+\.\d+\.\d+|inputs [0-9a-f]{12,}/g, '');
  return cells.includes(plain.replace(/^.*: /, '')) ? '' : plain;
}

/** Each number and date that is not written as the locale has it, with what stands around it. */
export function houseWay(texts: readonly string[], locale: Locale, cells: readonly string[] = []): string[] {
  return texts.flatMap((text) => {
    const plain = withoutFiles(text, cells);
    const numbers = [...plain.matchAll(/(?<![\p{L}\d_/-])\d[\d.,’\u00a0]*\d(?![\p{L}\d_-])/gu)].filter(
      ([number]) => !isNumber(number, locale),
    );
    const dates = [...plain.matchAll(new RegExp(`\\d{4}-\\d{2}|${locale.dates.source}`, 'g'))];
    return [...numbers, ...dates].map((found) => {
      const at = found.index ?? 0;
      return `${found[0]} in "${plain.slice(Math.max(0, at - 40), at + 40)}"`;
    });
  });
}

function isNumber(text: string, { decimal, thousands, group }: Locale): boolean {
  const [mark, point] = [`[${thousands}]`, `[${decimal}]`];
  const middle = group === 2 ? `(?:${mark}\\d{2})*${mark}\\d{3}` : `(?:${mark}\\d{3})+`;
  const year = '(?:19|20)\\d{2}';
  return new RegExp(`^(?:0|${year}|[1-9]\\d{0,2}|[1-9]\\d{0,${group - 1}}${middle})(?:${point}\\d+)?$`).test(
    text,
  );
}
