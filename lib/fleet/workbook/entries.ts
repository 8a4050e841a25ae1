/** The parts of a workbook file, unpacked within a limit. */
import { type Unzipped, unzipSync } from 'fflate';
import { InputError } from '../../errors.js';
import { megabytes } from '../csvText.js';

/** Parts that are read: the list of sheets, the texts, the formats and the sheets. */
const READ =
  /^xl\/(workbook\.xml|sharedStrings\.xml|styles\.xml|_rels\/workbook\.xml\.rels|worksheets\/[^/]+\.xml)$/;

/**
 * Bytes by the name of the part.
 * @throws InputError where the file is no workbook, or its parts hold more than `mostBytes` together
 */
export function workbookEntries(file: string, bytes: Uint8Array, mostBytes: number): Unzipped {
  let total = 0;
  let entries: Unzipped;
  try {
    entries = unzipSync(bytes, {
      filter: ({ name, originalSize }) => {
        if (!READ.test(name)) return false;
        total += originalSize;
        if (total > mostBytes) throw tooLarge(file, mostBytes);
        return true;
      },
    });
  } catch (cause) {
    if (cause instanceof InputError) throw cause;
    throw notAWorkbook(file);
  }
  if (entries['xl/workbook.xml'] === undefined) throw notAWorkbook(file);
  return entries;
}

function tooLarge(file: string, mostBytes: number): InputError {
  return new InputError(
    `The workbook unpacks to more than ${megabytes(mostBytes)} MB.`,
    { file },
    'Save the sheets as CSV, leave out columns that are not needed, or raise the limit.',
  );
}

function notAWorkbook(file: string): InputError {
  return new InputError(
    'The file is not a workbook that can be opened (XLSX), or it is protected by a password.',
    { file },
    'Open it in a spreadsheet program and save its tables as XLSX without a password, or as CSV.',
  );
}
