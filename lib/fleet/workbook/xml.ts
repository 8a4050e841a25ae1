/** Elements of an XML part, one after the other. */
import { SaxesParser } from 'saxes';
import { InputError } from '../../errors.js';

export interface XmlWatcher {
  /** Called at the start of an element, with its name without prefix. */
  open(name: string, attributes: Readonly<Record<string, string>>): void;
  close?(name: string): void;
  text?(text: string): void;
}

/** @throws InputError where the part is not XML */
export function readXml(
  file: string,
  part: string,
  bytes: Uint8Array | undefined,
  watcher: XmlWatcher,
): void {
  if (bytes === undefined) return;
  const parser = new SaxesParser();
  parser.on('error', (error) => {
    throw new InputError(
      `The part ${part} of the workbook cannot be read: ${error.message}.`,
      { file },
      'Open the workbook in a spreadsheet program and save it again.',
    );
  });
  parser.on('opentag', ({ name, attributes }) =>
    watcher.open(bare(name), attributes as Record<string, string>),
  );
  parser.on('closetag', ({ name }) => watcher.close?.(bare(name)));
  parser.on('text', (text) => watcher.text?.(text));
  parser.write(new TextDecoder().decode(bytes)).close();
}

function bare(name: string): string {
  return name.slice(name.indexOf(':') + 1);
}
