/** The text of a file from its bytes, or a clear refusal: nothing is read that is not UTF-8 text. */
import { InputError } from '../errors.js';

const SAVE = 'Save it as CSV, comma-separated, UTF-8.';

/** @throws InputError where the file is empty, is not text, or is text in another encoding. */
export function textOf(file: string, bytes: Uint8Array): string {
  if (bytes.length === 0) throw refuse(file, 'The file is empty.', fill(file));
  const utf16 = (bytes[0] === 0xff && bytes[1] === 0xfe) || (bytes[0] === 0xfe && bytes[1] === 0xff);
  if (utf16) throw refuse(file, 'The file is written in UTF-16.', SAVE);
  if (bytes[0] === 0x50 && bytes[1] === 0x4b) {
    throw refuse(file, 'The file is a workbook or an archive under another name, not a text.', SAVE);
  }
  if (bytes.includes(0)) throw refuse(file, 'The file is not a text.', SAVE);
  const text = decoded(file, bytes);
  if (text.trim() === '') throw refuse(file, 'The file is empty.', fill(file));
  return text;
}

function fill(file: string): string {
  return file.endsWith('.csv')
    ? 'Save the table again, with its header row.'
    : 'Write the settings into it, {} for none, or take the file away.';
}

/** The decoder takes a byte-order mark off. */
function decoded(file: string, bytes: Uint8Array): string {
  try {
    return new TextDecoder('utf-8', { fatal: true }).decode(bytes);
  } catch {
    const line = new TextDecoder().decode(bytes).split('\ufffd', 1)[0]?.split('\n').length ?? 1;
    throw refuse(
      file,
      `The file is not written in UTF-8: line ${line} holds a letter that cannot be read.`,
      SAVE,
    );
  }
}

function refuse(file: string, what: string, todo: string): InputError {
  return new InputError(what, { file }, todo);
}
