/** The look of the report page: screen, phone, dark and paper, in one style sheet. */
import { colourVariables } from '../render/svg.js';

const light = colourVariables.map(({ name, light: colour }) => `${name}:${colour}`).join(';');
const dark = colourVariables.map(({ name, dark: colour }) => `${name}:${colour}`).join(';');

export const STYLE = `:root{${light};color-scheme:light dark}
@media screen and (prefers-color-scheme:dark){:root{${dark}}}
*{box-sizing:border-box}
html{background:var(--paper);color:var(--ink);font:15px/1.5 Arial,"Liberation Sans",Helvetica,sans-serif;-webkit-text-size-adjust:100%}
body{margin:0 auto;max-width:1240px;padding:0 20px 48px;overflow-wrap:break-word}
bdi,.prose{overflow-wrap:anywhere}
td bdi:only-child,tbody th bdi:only-child{display:inline-block;min-width:8.5ch;max-width:100%}
td>.prose,td>.note{display:inline-block;min-width:14ch;max-width:100%}
h1,h2,h3{font-family:Georgia,"Liberation Serif",serif;line-height:1.2;font-weight:bold;margin:0}
h1{font-size:29px;margin:26px 0 6px}
h2{font-size:24px;margin:52px 0 12px;padding-top:14px;border-top:3px solid var(--ink)}
h3{font-size:18px;margin:30px 0 8px}
p{margin:0 0 10px;max-width:76ch}
ul{margin:0 0 12px;padding-left:20px;max-width:90ch}
li{margin:0 0 5px}
a{color:inherit;text-underline-offset:3px}
a:focus-visible,summary:focus-visible,.scroll:focus-visible,.picture:focus-visible{outline:2px solid var(--rust);outline-offset:2px}
.skip{position:absolute;left:-9999px}
.skip:focus{left:12px;top:8px;background:var(--paper);padding:6px 10px;z-index:2}
.aside{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%);white-space:nowrap}
.small,.finding{color:var(--text);font-size:13.5px}
.facts{color:var(--text);font-size:13.5px;margin:0 0 12px;max-width:none}
.prose{unicode-bidi:isolate}
.caution{border-left:4px solid var(--rust);background:var(--soft);padding:10px 14px;margin:14px 0;max-width:none;font-size:14px}
.answers{display:grid;grid-template-columns:repeat(auto-fit,minmax(230px,1fr));gap:16px;margin:18px 0 0}
.answers section{border:1px solid var(--rule);border-top:4px solid var(--ink);padding:10px 14px 6px}
.answers h2{border:0;margin:0 0 6px;padding:0;font-size:17px}
.answers p{font-size:14.5px}
.lead{font-size:18px;line-height:1.4;max-width:68ch}
.figures{display:grid;grid-template-columns:repeat(2,minmax(0,1fr));gap:26px 30px;margin:18px 0}
figure{margin:0;min-width:0}
figcaption strong{display:block;font-size:15px;line-height:1.3}
figcaption .finding{display:block;margin:2px 0 6px;line-height:1.4}
.picture{overflow-x:auto}
.hint,.paper{display:none}
.tick{display:inline-block;width:13px;height:13px;border:1.2px solid var(--rule)}
svg.chart{display:block;width:100%;height:auto;max-width:620px}
.scroll{overflow-x:auto;margin:6px 0 14px}
table{border-collapse:collapse;font-size:14px;line-height:1.4;width:100%}
caption{text-align:left;font-size:13.5px;color:var(--text);padding:0 0 5px}
th,td{text-align:left;vertical-align:top;padding:6px 12px 6px 0;border-bottom:1px solid var(--grid);font-weight:normal}
thead th{border-bottom:1.5px solid var(--rule);font-weight:bold;vertical-align:bottom;font-size:13px}
tbody th,tfoot th{font-weight:bold;min-width:15ch}
tfoot{display:table-row-group}
tbody th .small{font-weight:normal}
.number{text-align:right;white-space:nowrap;font-variant-numeric:tabular-nums}
thead .number{white-space:normal}
.why{color:var(--text);min-width:36ch}
.wide{min-width:16ch}
.day{white-space:nowrap}
.reason{min-width:40ch}
.compact th{min-width:9ch}
.hurry{display:inline-block;background:var(--soft);color:var(--rust);font-weight:bold;font-size:12.5px;padding:0 6px;margin-left:2px;border-left:3px solid var(--rust)}
.keys{display:grid;grid-template-columns:repeat(3,minmax(0,1fr));gap:10px 22px;margin:14px 0 8px}
.keys div{border-top:1px solid var(--rule);padding-top:6px}
.keys dt{font-size:13px;color:var(--text)}
.keys dd{margin:0;font-size:17px;font-weight:bold;line-height:1.3}
.keys dd span{display:block;font-size:13px;font-weight:normal;color:var(--text)}
details{margin:6px 0 12px}
summary{cursor:pointer;font-size:13.5px;color:var(--text);padding:3px 0;min-height:24px}
summary b{color:var(--ink)}
nav ul{list-style:none;padding:0;display:flex;flex-wrap:wrap;gap:6px 22px;margin:6px 0 0}
@media (min-width:1180px){.keys{grid-template-columns:repeat(6,minmax(0,1fr))}}
@media (max-width:860px){.figures,.answers{grid-template-columns:minmax(0,1fr)}}
@media (max-width:620px){
body{padding:0 14px 40px}
h1{font-size:24px}h2{font-size:21px}.lead{font-size:16.5px}
table.cards,table.cards tbody,table.cards tfoot,table.cards tr,table.cards td,table.cards tbody th,table.cards tfoot th{display:block;width:auto;text-align:left;white-space:normal}
table.cards caption{display:block}
table.cards .why,table.cards .reason,table.cards .wide{min-width:0}
svg.chart{min-width:440px}
.scroll,.picture{background:linear-gradient(to left,var(--paper) 40%,transparent) right/40px 100% no-repeat local,linear-gradient(to left,var(--rust),transparent) right/7px 100% no-repeat scroll}
.keys{grid-template-columns:repeat(2,minmax(0,1fr))}
table.cards thead{position:absolute;width:1px;height:1px;overflow:hidden;clip-path:inset(50%)}
table.cards tr{border-bottom:1.5px solid var(--rule);padding:8px 0}
table.cards td,table.cards tbody th,table.cards tfoot th{display:flow-root;border:0;min-width:0;padding:1px 0 1px 112px;min-height:21px}
table.cards [data-title]::before{content:attr(data-title);float:left;margin-left:-112px;width:106px;color:var(--text);font-weight:normal;font-size:12.5px}
}
@media screen and (max-width:468px){.hint{display:block;color:var(--rust);font-size:12.5px;font-weight:bold;margin:0 0 2px}}
@media print{
html{font-size:10.5pt;color-scheme:light}
body{max-width:none;padding:0}
h2{break-before:page;margin-top:0}
.answers h2,#stores h2{break-before:auto}
#stores h2{margin-top:22px}
h2,h3,caption,thead{break-after:avoid}
thead{break-inside:avoid}tbody tr:first-child{break-before:avoid}
nav,.skip,.picture+details,figure details{display:none}
figure,tr,.caution,.keys div,li{break-inside:avoid}
.figures{display:block}
.figures figure{margin:0 0 16px}
.answers{grid-template-columns:repeat(2,minmax(0,1fr))}
.paper{display:inline}
svg.chart{max-width:125mm;max-height:175mm;min-width:0}
.scroll,.picture{overflow:visible}
table{font-size:9pt}
th .small,td .small,.why{font-size:8.5pt}
th,td{padding:3px 8px 3px 0}
.compact{font-size:8pt;line-height:1.25}.compact th,.compact td{padding:1.5px 6px 1.5px 0}.compact th,.compact td bdi,.compact th bdi{min-width:0}
td details p{margin:0 0 4px}
details.print::details-content{content-visibility:visible;display:block;height:auto}
}
@page{margin:14mm}
`;
