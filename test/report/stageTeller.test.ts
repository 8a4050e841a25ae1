import { describe, expect, it } from 'vitest';
import { stageTeller } from '../../lib/report/stageTeller.js';

const STAGES = ['reading', 'fitting', 'writing'];

function told(isTTY: boolean | undefined, columns = 80): string[] {
  const lines: string[] = [];
  const screen = {
    columns,
    write: (text: string) => lines.push(text),
    ...(isTTY !== undefined && { isTTY }),
  };
  const stage = stageTeller(STAGES, screen);
  for (let i = 0; i < STAGES.length + 1; i++) stage.next();
  stage.end();
  return lines;
}

describe('what the command is at', () => {
  it('is told stage by stage on a terminal, and the line is gone at the end', () => {
    const lines = told(true);
    expect(lines).toEqual([
      `\r\u001b[K[${' '.repeat(20)}] 1 of 3: reading`,
      `\r\u001b[K[${'='.repeat(7)}${' '.repeat(13)}] 2 of 3: fitting`,
      `\r\u001b[K[${'='.repeat(13)}${' '.repeat(7)}] 3 of 3: writing`,
      '\r\u001b[K',
    ]);
  });

  it('never runs over the width of the screen', () => {
    for (const line of told(true, 30)) expect(line.replace('\r\u001b[K', '').length).toBeLessThan(30);
  });

  it('is silent where nobody looks', () => {
    expect(told(false)).toEqual([]);
    expect(told(undefined)).toEqual([]);
  });
});
