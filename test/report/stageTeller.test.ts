import { describe, expect, it } from 'vitest';
import { readingWords, stageTeller } from '../../lib/report/stageTeller.js';

const STAGES = ['reading', 'fitting', 'writing'];

function told(isTTY: boolean | undefined, columns = 80): string[] {
  const lines: string[] = [];
  const screen = {
    columns,
    write: (text: string) => lines.push(text),
    ...(isTTY !== undefined && { isTTY }),
  };
  const stage = stageTeller(STAGES, screen, () => 0);
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

  it('tells how far it is where a stage takes two seconds or more, and each thing once', () => {
    const lines: string[] = [];
    let now = 100;
    const screen = { isTTY: true, columns: 80, write: (text: string) => lines.push(text.slice(26)) };
    const stage = stageTeller(STAGES, screen, () => now);
    stage.next();
    for (const [seconds, share] of [
      [1.9, 0.1],
      [2, 0.2],
      [2.1, 0.205],
      [3, 0.999],
      [3.1, 1],
    ] as const) {
      now = 100 + seconds;
      stage.detail(readingWords('lives.csv', share));
    }
    stage.next();
    stage.detail(readingWords('lives.csv', 0.5));
    expect(lines).toEqual([
      ' 1 of 3: reading',
      ' 1 of 3: reading lives.csv 20 %',
      ' 1 of 3: reading lives.csv 99 %',
      ' 1 of 3: checking lives.csv',
      ' 2 of 3: fitting',
    ]);
  });

  it('tells no shares where nobody looks', () => {
    const lines: string[] = [];
    let now = 0;
    const stage = stageTeller(STAGES, { write: (text: string) => lines.push(text) }, () => now);
    stage.next();
    now = 10;
    stage.detail(readingWords('lives.csv', 0.5));
    stage.end();
    expect(lines).toEqual([]);
  });
});
