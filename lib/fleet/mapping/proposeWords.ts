/** Which words in the cells are which words of ours, and which tags are the same but for how they are written. */
import { tidyText } from '../cell.js';
import { matchesOf, VALUE_WORDS, type ValueColumn, valueEntries } from './dictionary.js';
import { plainWord } from './plainWord.js';
import type { Profile } from './profile.js';
import { type AliasProposal, isWritten, surenessOf, type WordProposal } from './types.js';

/** Words that are asked about one by one. */
const MOST_WORDS = 300;

/**
 * Words of a column (`texts`, with how many rows have each) that are not ours already, the most frequent first. `given` are those that site.json has, in small letters; words of
 * `language` are believed before those of others.
 * @param isShared whether the texts are those of the work that was done, too: what is a word for work is then none for a reason
 */
export function proposeWords(
  column: ValueColumn,
  texts: ReadonlyMap<string, number>,
  given: ReadonlyMap<string, string>,
  language: string | null,
  isShared = false,
): WordProposal[] {
  const spellings = new Map<string, { text: string; rows: number }>();
  for (const [text, rows] of texts) {
    const key = text.toLowerCase();
    const known = spellings.get(key);
    if (known === undefined) spellings.set(key, { text, rows });
    else known.rows += rows;
  }
  const ours: readonly string[] = VALUE_WORDS[column];
  return [...spellings]
    .filter(([key]) => !given.has(key) && !ours.includes(key) && !ours.includes(key.replace(/[ -]/g, '_')))
    .sort(([, a], [, b]) => b.rows - a.rows)
    .slice(0, MOST_WORDS)
    .map(([, { text, rows }]) => textProposal(column, text, rows, language, isShared));
}

/** What stands between the parts of a text that says several things. */
const PARTS = /[,;:.()+&\n]+| [-–/] | (?:und|and|et|e|y|en|och|og|ja|i|a) /u;
/** A part of a text is believed from here on. */
const BELIEVED = 0.7;
/** A part that may be other work is not passed over from here on. */
const DOUBTED = 0.45;
/** So much less sure than a text that says one thing. */
const OF_A_PART = 0.85;

/** A text as a whole; where that says nothing, the parts of it that do, if they say the same. */
function textProposal(
  column: ValueColumn,
  text: string,
  rows: number,
  language: string | null,
  isShared: boolean,
): WordProposal {
  const isWorkFirst = isShared && column !== 'work';
  const found = wordProposal(column, text, rows, language);
  const whole: WordProposal = isWorkFirst ? { ...found, sureness: 'guess', why: WORK_ALONE } : found;
  const parts = text
    .split(PARTS)
    .map((part) => part.trim())
    .filter((part) => part.length > 1);
  if (isWritten(whole) || (parts.length < 2 && !isWorkFirst)) return whole;
  // What a part says of another column says nothing of this one.
  const each = parts
    .filter((part) => !saysElse(column, part, language, isWorkFirst))
    .map((part) => wordProposal(column, part, rows, language));
  const said = each.filter(({ ours, confidence }) => ours !== null && confidence >= BELIEVED);
  const [first] = said;
  if (first === undefined || each.some(({ theirs }) => denies(theirs))) return whole;
  const open = each.filter((one) => !said.includes(one));
  const isUnclear =
    column === 'work' ? open.some(({ confidence }) => confidence >= DOUBTED) : open.length > 0;
  if (isUnclear || said.some(({ ours }) => ours !== first.ours)) return whole;
  const confidence = OF_A_PART * first.confidence;
  return {
    ...first,
    theirs: text,
    confidence,
    sureness: surenessOf(confidence),
    why: `it says "${first.theirs}": ${first.why}`,
  };
}

/** Columns whose words stand in one text with those of the others. */
const BESIDE: readonly ValueColumn[] = ['work', 'reason', 'finding'];

/** A text of an order says first of all what was done. */
const WORK_ALONE = 'it says what was done, and perhaps not why';

/** Whether a part of a text is plainly a word of another column, and less of one of this. */
function saysElse(column: ValueColumn, part: string, language: string | null, isWorkFirst: boolean): boolean {
  const sure = (one: ValueColumn): number => {
    const { ours, confidence } = wordProposal(one, part, 1, language);
    return ours === null ? 0 : confidence;
  };
  if (isWorkFirst && sure('work') >= BELIEVED) return true;
  const own = sure(column);
  return BESIDE.some((other) => other !== column && sure(other) >= BELIEVED && sure(other) > own);
}

function wordProposal(
  column: ValueColumn,
  text: string,
  rows: number,
  language: string | null,
): WordProposal {
  const matches = [...matchesOf(text, valueEntries(column), language).values()].sort(
    (a, b) => b.score - a.score,
  );
  const [best, second] = matches;
  if (best === undefined || best.score < 0.4) {
    return {
      column,
      theirs: text,
      ours: null,
      rows,
      confidence: 0,
      sureness: 'guess',
      why: 'no word that is known is like it',
    };
  }
  const close = second !== undefined && best.score - second.score < 0.05;
  const failed = column === 'work' && best.ours === 'tested' && saysFailed(text, best.score);
  const other = column === 'work' && best.score < 0.98 && saysOther(text, best.word);
  const denied = denies(text) && best.score < (denies(best.word) ? 0.85 : 0.9);
  const confidence = 0.96 * (close || denied || failed || other ? Math.min(best.score, 0.5) : best.score);
  const of = best.language === 'any language' ? 'a usual word' : best.language;
  const like = best.score >= 0.98 ? `${of} for it` : `it is like "${best.word}", ${of} for it`;
  const doubt = close
    ? `, but as like "${second.word}", which is ${second.ours}`
    : denied
      ? ', but it may deny it'
      : failed
        ? ', but it may be a test that was failed'
        : other
          ? ', but not quite: it may be other work, or work on another part'
          : '';
  return {
    column,
    theirs: text,
    ours: best.ours,
    rows,
    confidence,
    sureness: surenessOf(confidence),
    why: `${like}${doubt}`,
  };
}

/** An order that found a valve leaking is none that found it tight, however like the two are. */
function saysFailed(text: string, score: number): boolean {
  const failed = matchesOf(text, valueEntries('reason'));
  return ['failed_test', 'leak'].some((reason) => (failed.get(reason)?.score ?? 0) >= score - 0.1);
}

/**
 * Who replaced a positioner or a gasket has not replaced the diaphragm, and what was taken down was not put up: a text much longer or
 * shorter than the word it is like, or a word of its own that may mean several things, is asked.
 */
function saysOther(text: string, word: string): boolean {
  const { joined } = plainWord(text);
  const ratio = joined.length / plainWord(word).joined.length;
  const own = valueEntries('work').some(({ plain }) => plain.joined === joined);
  return own || ratio > MUCH_LONGER || ratio < 1 / MUCH_LONGER;
}
const MUCH_LONGER = 1.15;

const DENIALS = new Set(
  'no not non none without nicht kein keine keinen ohne un pas sans sin senza sem nao niet geen zonder nie bez brak ne neni ej inte icke utan ikke uden ei eika ilman'.split(
    ' ',
  ),
);

function denies(text: string): boolean {
  return plainWord(text).tokens.some((token) => DENIALS.has(token));
}

/** Tags that are asked about at most. */
const MOST_ALIASES = 500;

/** Tags of other tables that no position has, where exactly one position differs from it in spaces, marks and capitals alone. */
export function proposeAliases(
  positions: readonly Profile[],
  others: readonly Profile[],
  given: ReadonlySet<string>,
): AliasProposal[] {
  const tags = new Set(positions.flatMap(({ texts }) => [...texts.keys()]));
  const known = new Set([...tags].map((tag) => tag.toLowerCase()));
  const bare = new Map<string, string | null>();
  for (const tag of tags) {
    const key = plainWord(tag).joined;
    bare.set(key, bare.has(key) ? null : tag);
  }
  const found = new Map<string, AliasProposal>();
  for (const profile of others) {
    for (const text of profile.texts.keys()) {
      const theirs = tidyText(text);
      if (known.has(theirs.toLowerCase()) || given.has(theirs) || found.size >= MOST_ALIASES) continue;
      const ours = bare.get(plainWord(theirs).joined) ?? null;
      if (ours !== null) found.set(theirs, { theirs, ours, why: 'only marks, spaces or capitals differ' });
    }
  }
  return [...found.values()];
}
