/**
 * The look of what the page's script adds: tools of tables and pictures, the choice of a reader's part. Heads of columns are plain text
 * on paper, because Chromium does not repeat a head that holds buttons on the next sheet.
 */
export const LIVE_STYLE = `nav{position:sticky;top:0;z-index:1;background:var(--paper);border-bottom:1px solid var(--grid);padding:5px 0}
nav a{display:inline-block;padding:4px 0}
nav a[aria-current]{font-weight:bold;text-decoration-color:var(--rust);text-decoration-thickness:2px}
main>section,main [id]{scroll-margin-top:50px}
.away{display:none}
.tools{display:flex;flex-wrap:wrap;align-items:center;gap:6px 14px;margin:6px 0 2px;font-size:13px;color:var(--text);scroll-margin-top:56px}
.tools[hidden],tr[hidden],tfoot[hidden]{display:none!important}
.scroll+.tools{margin:0 0 16px}
.tools>button:first-child:last-child{margin-left:auto}
.tools.short{position:relative;z-index:1;margin:0 0 -30px;pointer-events:none}
.tools.short+p{padding-right:146px}
.short>button{pointer-events:auto}
.short+.scroll{margin-top:0}
.short+.scroll caption{padding-right:64px;padding-top:6px}
.tools .state+button{margin-left:auto}
.tools button{font:inherit;color:var(--text);background:none;border:1px solid var(--rule);padding:2px 9px;min-height:26px;cursor:pointer}
.tools button:hover:enabled{color:var(--ink);border-color:var(--ink)}
.tools button:disabled{opacity:.5;cursor:default}
.tools input,.tools select{font:inherit;color:var(--ink);background:var(--paper);border:1px solid var(--rule);padding:3px 7px;min-height:28px}
.tools input{width:15em;max-width:60vw}
.tools .state{font-variant-numeric:tabular-nums}
.tools :focus-visible,thead button:focus-visible{outline:2px solid var(--rust);outline-offset:2px}
figure>.tools{float:right;margin:4px 0 0}
figure details>.tools,figure .scroll{clear:both}
.sorter{display:none}
thead button{font:inherit;color:inherit;background:none;border:0;padding:2px 0;text-align:inherit;cursor:pointer;text-decoration:underline dotted var(--rule);text-underline-offset:3px}
th[aria-sort=ascending] button::after{content:" ▲";color:var(--rust)}
th[aria-sort=descending] button::after{content:" ▼";color:var(--rust)}
@media screen{.off{display:none!important}}
@media (max-width:620px){nav{position:static}.tools.short{margin:6px 0 0}.short+.scroll caption{padding:0 0 5px}table.cards.live thead{display:none}.cards-tools .sorter{display:inline}}
@media print{nav,.tools{display:none}.tools.part{display:block}.tools.part>:not(.state){display:none}thead button{display:contents}th[aria-sort] button::after{content:none!important}}
`;
