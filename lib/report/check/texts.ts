/** Fixed words of the page of a check, for translators: headings, captions, titles of columns, sentences without a number. */

export const CHECK_HEADING = {
  files: 'Files',
  supports: 'What the data can and cannot support',
  mends: 'What would help most',
  reasons: 'Reasons to ask for first',
  rules: 'What the cleaning rules found',
  settings: 'What is missing, and what that switches off',
} as const;

export const CHECK_CAPTION = {
  files: 'Score of each file, 0 to 100, and what it is made of',
  groups: 'Groups of the plan: leaks on record and what they allow',
  mends: 'Mends by the lives that they would bring into the fits',
  reasons: 'Removals without a reason, those first whose reason tells most',
} as const;

export const CHECK_COLUMN = {
  file: 'File',
  score: 'Score',
  rows: 'Rows',
  used: 'Used',
  setAside: 'Set aside',
  madeOf: 'Made of',
  group: 'Group',
  positions: 'Positions',
  lives: 'Lives',
  wearLeaks: 'Wear-out leaks',
  supports: 'What they support',
  cause: 'Cause',
  livesGained: 'Lives gained, at most',
  livesClearer: 'Lives made clearer',
  whatToDo: 'What to do',
  position: 'Position',
  removed: 'Removed',
  ageDays: 'Age, days',
  whyItMatters: 'Why it matters',
} as const;

export const CHECK_SENTENCE = {
  score:
    'A score is the mean of four parts: rows used (weight 50), columns there that are needed or useful (20), cells filled of those that matter (20), and rows at which no cleaning rule found anything (10). The weights are our judgement, not a standard.',
  supports:
    'Leaks of unknown reason count by their chance. Counts and thresholds are those of the plan, before groups lend each other anything. The test of a fit counts early leaks too.',
  mends:
    'A row of the history is one life at most, and a life may stand under two causes: the numbers do not add up to lives.',
  noMends: 'Nothing keeps a row or a life out.',
  noReasons: 'No reason that is missing would move a group by more than 5 %.',
  noRules: 'No rule found anything.',
  nothingMissing: 'Every file and setting that a plan can use is there.',
} as const;
