/** Third piece of the page's script: each picture as a file, with its title, finding and source. */

/** Always in the colours of white paper: what is taken away goes into slides and reports. */
export const PICTURES = String.raw`
const NS = 'http://www.w3.org/2000/svg';
const light = /** @type {CSSStyleRule | undefined} */ (document.styleSheets[0]?.cssRules[0]);
const source = document.querySelector('main')?.dataset.source ?? '';
// A text in lines of at most so many letters.
/** @param {string} text @param {number} most */
const linesOf = (text, most) => text.split(' ').reduce((lines, word) => {
  const line = lines[lines.length - 1] ?? '';
  if (line === '' || line.length + word.length < most) lines[Math.max(0, lines.length - 1)] = (line + ' ' + word).trim();
  else lines.push(word);
  return lines;
}, /** @type {string[]} */ ([]));
/** @param {Element} svg @param {string} title @param {string} finding */
const standing = (svg, title, finding) => {
  const copy = /** @type {SVGElement} */ (svg.cloneNode(true));
  const [, , width = 0, height = 0] = (svg.getAttribute('viewBox') ?? '').split(' ').map(Number);
  const above = [...linesOf(title, width / 8.2).map((words) => ({ words, size: 15, bold: true })),
    ...linesOf(finding, width / 6).map((words) => ({ words, size: 12, bold: false }))];
  const below = linesOf(source, width / 5.2).map((words) => ({ words, size: 10, bold: false }));
  const top = 8 + above.reduce((sum, line) => sum + line.size * 1.35, 0);
  const whole = top + height + 14 * below.length + 12;
  /** @param {string} tag @param {Record<string, string | number>} attributes */
  const part = (tag, attributes) => {
    const element = document.createElementNS(NS, tag);
    for (const [name, value] of Object.entries(attributes)) element.setAttribute(name, String(value));
    return element;
  };
  let y = -top;
  /** @param {{ words: string, size: number, bold: boolean }} line */
  const written = ({ words, size, bold }) => {
    y += size * 1.35;
    const text = part('text', { x: 4, y, 'font-size': size, 'font-weight': bold ? 'bold' : 'normal', fill: 'var(--ink)', 'font-family': 'Arial, Liberation Sans, Helvetica, sans-serif' });
    text.textContent = words;
    return text;
  };
  const heading = above.map(written);
  y = height;
  copy.append(...heading, ...below.map(written));
  const paper = part('rect', { x: 0, y: -top, width, height: whole, fill: 'var(--paper)' });
  copy.insertBefore(paper, copy.querySelector('g'));
  copy.setAttribute('viewBox', '0 ' + -top + ' ' + width + ' ' + whole);
  copy.setAttribute('height', String(whole));
  copy.setAttribute('width', String(width));
  const markup = new XMLSerializer().serializeToString(copy);
  return { width, height: whole, markup: markup.replace(/var\((--\w+)\)/g, (_, name) => light?.style.getPropertyValue(name).trim() ?? '') };
};
for (const figure of document.querySelectorAll('figure')) {
  const svg = figure.querySelector('svg.chart');
  if (svg === null) continue;
  const title = said(figure.querySelector('strong'));
  const picture = () => standing(svg, title, said(figure.querySelector('.finding')));
  const asSvg = () => save(title, '.svg', new Blob([picture().markup], { type: 'image/svg+xml' }));
  const asPng = () => {
    const { markup, width, height } = picture();
    const image = new Image();
    image.onload = () => {
      const canvas = make('canvas', { width: 2 * width, height: Math.round(2 * height) });
      canvas.getContext('2d')?.drawImage(image, 0, 0, canvas.width, canvas.height);
      canvas.toBlob((blob) => blob && save(title, '.png', blob));
    };
    image.src = 'data:image/svg+xml;charset=utf-8,' + encodeURIComponent(markup);
  };
  figure.querySelector('.picture')?.after(make('div', { className: 'tools' }, button('SVG', title, asSvg), button('PNG', title, asPng)));
}
`;
