/** Names and words in the form in which they are compared: small letters without accents, parts separated by one space. */

export interface PlainWord {
  /** The parts, for example 'date', 'in'. */
  tokens: string[];
  /** All parts in one, without spaces. */
  joined: string;
  /** The same with ae, oe and ue as a, o and u: how plants write umlauts where they have no letters for them. */
  folded: string;
  /** `folded` without a word for "number" at its end: batch of Batchnr. */
  stem: string;
  /** The parts that say something, without "of" and the like. */
  telling: string[];
  /** All parts, and the telling ones, in the order of the alphabet. */
  sorted: string;
  sortedTelling: string;
  /** One bit for each Latin letter of `folded`. */
  letters: number;
}

/** Parts that say nothing of their own, in the languages of the words. */
const FILLERS = new Set(
  (
    'a am an auf bei beim by da das de dei del della dem den der des det di die do du el en for from het i il im in la le les lo ' +
    'na no nr num number numero o of on op os per po pr pro the til till to u ve van vid vom von w z za zum zur'
  ).split(' '),
);

/** Letters that have no accent to take off. */
const LETTERS: readonly [RegExp, string][] = [
  [/ß/g, 'ss'],
  [/æ/g, 'ae'],
  [/œ/g, 'oe'],
  [/ø/g, 'o'],
  [/ł/g, 'l'],
  [/đ|ð/g, 'd'],
  [/ı/g, 'i'],
];

export function plainWord(text: string): PlainWord {
  const parted = text.slice(0, MOST_LETTERS).replace(/(\p{Ll})(\p{Lu})/gu, '$1 $2');
  let plain = parted.normalize('NFKD').replace(/\p{M}/gu, '').toLowerCase();
  for (const [letter, instead] of LETTERS) plain = plain.replace(letter, instead);
  const tokens = plain.split(/[^\p{L}\p{N}]+/u).filter((token) => token !== '');
  const joined = tokens.join('') || text.trim().toLowerCase();
  const folded = joined.replace(/([aou])e/g, '$1');
  const telling = tokens.filter((token) => !FILLERS.has(token));
  return {
    tokens,
    joined,
    folded,
    stem: folded.replace(NUMBER_WORD, '$1'),
    telling,
    sorted: [...tokens].sort().join(' '),
    sortedTelling: [...telling].sort().join(' '),
    letters: lettersOf(folded),
  };
}

function lettersOf(text: string): number {
  let letters = 0;
  for (let i = 0; i < text.length; i++) {
    const code = text.charCodeAt(i) - 97;
    if (code >= 0 && code < 26) letters |= 1 << code;
  }
  return letters;
}

const NUMBER_WORD = /^(.{3,}?)(nummer|numer|numero|number|nro|nr|no)$/;

/** A name longer than this is a text, and only its beginning is compared. */
const MOST_LETTERS = 120;
