/** A folder with planted faults, and how many rows and lives each keeps out, counted by hand. */

/** A tag that would be markup, move the cursor and turn the direction of what follows if it were let. */
export const HOSTILE = '<img src=x onerror=alert(1)>\u202e\u001b[31m';

export const FAULTY: ReadonlyMap<string, string> = new Map([
  [
    'positions.csv',
    [
      'position,line,size,duty,criticality',
      `${HOSTILE},A,25,,normal`,
      'V2,A,25,,normal',
      'V3,A,25,,normal',
      'V4,,25,,normal',
      'V5,A,25,,normal',
      'V5,A,25,,normal',
      '',
    ].join('\n'),
  ],
  [
    'lives.csv',
    [
      'position,material,fitted,removed,reason,finding',
      `${HOSTILE},EPDM,2020-01-10,2021-01-10,leak,torn`,
      `${HOSTILE},EPDM,2021-01-10,2022-01-10,<b>weg</b>,`,
      `${HOSTILE},EPDM,2022-01-10,,,`,
      'V2,EPDM,2020-01-10,2021-01-10,scheduled,sound',
      'V2,EPDM,2021-01-10,2022-01-10,,',
      'V2,EPDM,2022-01-10,,,',
      'V3,EPDM,,2021-01-10,scheduled,sound',
      'V3,EPDM,2021-01-10,2022-01-10,leak,torn',
      'V3,EPDM,2022-01-10,,,',
      'V4,EPDM,,2021-01-10,leak,',
      'W9,EPDM,2020-01-10,2021-01-10,leak,torn',
      'W8,EPDM,2020-01-10,2021-01-10,leak,torn',
      'W7,EPDM,2020-01-10,2021-01-10,leak,torn',
      'V5,,2020-01-10,2021-01-10,leak,torn',
      'V2,EPDM,2020-01-10,2021-01-10,scheduled,sound',
      '',
    ].join('\n'),
  ],
  [
    'site.json',
    JSON.stringify({
      name: `Plant ${HOSTILE}`,
      currency: 'EUR',
      records_from: '2019-01-01',
      data_until: '2024-06-30',
    }),
  ],
]);

/** Cause, rows, lives gained, lives made clearer. */
export const planted: readonly (readonly [
  code: string,
  counts: { rows: number; lives: number; clearer: number },
])[] = [
  ['fitting-day-unknown', { rows: 2, lives: 2, clearer: 0 }],
  ['position-unknown', { rows: 3, lives: 3, clearer: 0 }],
  ['material-missing', { rows: 1, lives: 1, clearer: 0 }],
  ['reason-unknown', { rows: 2, lives: 0, clearer: 2 }],
  ['life-duplicate', { rows: 1, lives: 0, clearer: 0 }],
  ['position-duplicate', { rows: 1, lives: 0, clearer: 0 }],
];
