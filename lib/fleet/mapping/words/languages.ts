/** The languages whose words are known. A new one is a file like the others and a line here. */
import { CZECH } from './czech.js';
import { DANISH } from './danish.js';
import { DUTCH } from './dutch.js';
import { ENGLISH } from './english.js';
import { FINNISH } from './finnish.js';
import { FRENCH } from './french.js';
import { GERMAN } from './german.js';
import { ITALIAN } from './italian.js';
import { POLISH } from './polish.js';
import { PORTUGUESE } from './portuguese.js';
import { SPANISH } from './spanish.js';
import { SWEDISH } from './swedish.js';
import type { LanguageWords } from './types.js';
import { UNIVERSAL } from './universal.js';

export const LANGUAGES: readonly LanguageWords[] = [
  UNIVERSAL,
  ENGLISH,
  GERMAN,
  FRENCH,
  SPANISH,
  ITALIAN,
  PORTUGUESE,
  DUTCH,
  POLISH,
  CZECH,
  SWEDISH,
  DANISH,
  FINNISH,
];
