/** Fixed words of the report pages, for translators: headings, titles of columns, buttons, sentences without a number. */

/** Words of the page's script: the tools of tables, and the link that shows all parts. `#` is a number of rows. */
export const SCRIPT_TEXTS = {
  search: 'Search',
  sortBy: 'Sort by',
  given: 'order of the page',
  rows: 'rows',
  to: 'to',
  of: 'of',
  back: 'Previous',
  next: 'Next',
  showAll: 'Show all #',
  inPages: 'Show in pages',
  all: 'All parts',
} as const;
