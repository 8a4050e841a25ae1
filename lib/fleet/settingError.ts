/** What zod found wrong with site.json, in a sentence. */
import type * as z from 'zod';
import { InputError } from '../errors.js';
import { SITE_FILE } from './columnNames.js';

/** The first thing zod found, as a sentence about one setting. */
export function settingError(error: z.ZodError, raw: unknown, at: string[] = []): InputError {
  const issue = error.issues[0];
  const path = [...at, ...(issue?.path ?? []).map(String)];
  const value = shownValue(valueAt(raw, issue?.path ?? []));
  const setting = path.length === 0 ? 'The file' : `The setting "${path.join('.')}"`;
  const what = /^(must|needs|is) /.test(issue?.message ?? '')
    ? `${setting} ${issue?.message}.`
    : `${setting} cannot be used: ${issue?.message}.`;
  return new InputError(
    what,
    { file: SITE_FILE, ...(value === null ? {} : { value }) },
    'Correct it, or take it out.',
  );
}

function valueAt(raw: unknown, path: readonly PropertyKey[]): unknown {
  let value = raw;
  for (const key of path) {
    if (typeof value !== 'object' || value === null) return undefined;
    value = Object.getOwnPropertyDescriptor(value, key)?.value;
  }
  return value;
}

function shownValue(value: unknown): string | null {
  if (value === undefined) return null;
  const text = typeof value === 'string' ? value : JSON.stringify(value);
  return text.slice(0, 80);
}
