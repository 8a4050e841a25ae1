import type { LanguageWords } from './types.js';

/** Abbreviations and terms of standards that are the same in every language. */
export const UNIVERSAL: LanguageWords = {
  name: 'any language',
  tables: {},
  columns: {
    position: 'tag, tag no, tag nr, tag id, pos, KKS, AKS, P&ID, PID no, TPL',
    size: 'DN, ND, NW, DN (mm), NPS, Ø',
    material: 'elastomer, ISO 1629, mat',
    lot: 'lot, batch, LOT no',
    item: 'SKU, material no, mat no, mat nr, MATNR, P/N, PN, part no, ref, ~art, art no, art nr, artnr',
    order: 'WO, WO no, WO nr',
    quantity: 'qty, ~pcs',
    on_hand: 'on hand, stock',
    steam_cycles: 'SIP',
    hot_cleans: 'CIP',
    steam_cycles_per_week: 'SIP per week, SIP/week, SIP/w',
    hot_cleans_per_week: 'CIP per week, CIP/week, CIP/w',
    use_by: 'EXP, exp date, MHD',
    shelf_life_months: 'shelf life',
    min_order: 'MOQ',
    criticality: 'ABC, crit, GMP',
  },
  reason: { leak: 'leak', unknown: '?' },
  finding: { sound: 'ok, i.o., io', unknown: '?' },
  work: { tested: '~ok' },
  criticality: {},
  stop_for: {},
  units: { days: '~d', weeks: '~w, wk, wks', months: 'mo, mth', inch: '", in', thousand: 'x1000, x 1000, k' },
};
