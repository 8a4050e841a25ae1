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
  /** One bit for each Latin letter of `folded`. */
  letters: number;
}

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
  return { tokens, joined, folded, stem: folded.replace(NUMBER_WORD, '$1'), letters: lettersOf(folded) };
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
