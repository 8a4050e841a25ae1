/** Lists of names met in the files, each with one spelling and a number. */
import { type Cell, type CellReader, tidyText } from './cell.js';

export interface NameList {
  /** In the order of first appearance. */
  readonly names: string[];
  /** Number of a name, added at the end if new. Names that differ in capitals only are one name, first spelling kept. */
  add(name: string): number;
  /** The spelling kept for a name, or the name itself where it is new. */
  spelling(name: string): string;
}

export function nameList(): NameList {
  const names: string[] = [];
  const numbers = new Map<string, number>();
  return {
    names,
    add: (name) => {
      const key = name.toLowerCase();
      const known = numbers.get(key);
      if (known !== undefined) return known;
      numbers.set(key, names.length);
      names.push(name);
      return names.length - 1;
    },
    spelling: (name) => {
      const known = numbers.get(name.toLowerCase());
      return known === undefined ? name : (names[known] ?? name);
    },
  };
}

/** Reads names into a list, after the plant's own words are replaced; the value is the number. */
export function nameCell(
  list: NameList,
  mapped: ReadonlyMap<string, string> = new Map(),
): CellReader<number> {
  return (raw) => {
    const text = tidyText(raw);
    if (text === '') return { value: null, fault: null };
    const number = list.add(mapped.get(text.toLowerCase()) ?? text);
    return { value: number, fault: null, tidied: list.names[number] !== raw };
  };
}

/** Reads names without adding them to a list: the value is the spelling the list has, if it has the name. */
export function spellingCell(
  list: NameList,
  mapped: ReadonlyMap<string, string> = new Map(),
): CellReader<string> {
  return (raw): Cell<string> => {
    const text = tidyText(raw);
    if (text === '') return { value: null, fault: null };
    const value = list.spelling(mapped.get(text.toLowerCase()) ?? text);
    return { value, fault: null, tidied: value !== raw };
  };
}
