/** First piece of the page's script: making elements, reading a cell as text, saving a file. */

/**
 * Plain DOM, with its types in remarks that the page does not carry (`pageScript` takes them out); a test compiles and
 * lints it. What comes from the plant's files is read and written as text only, never as markup.
 */
export const BASICS = String.raw`
/** @template {keyof HTMLElementTagNameMap} K @param {K} tag @param {Record<string, unknown>} props @param {(Node | string)[]} inside */
const make = (tag, props, ...inside) => {
  const element = document.createElement(tag);
  Object.assign(element, props);
  element.append(...inside);
  return element;
};
/** @param {string} words @param {string} about @param {() => void} act */
const button = (words, about, act) => {
  const made = make('button', { type: 'button', textContent: words, onclick: act });
  if (about !== '') made.setAttribute('aria-label', words + ': ' + about);
  return made;
};
// Text of a node, parts that stand below each other kept apart; what is for paper only is left out.
/** @param {Node} node @returns {string} */
const textOf = (node) => {
  if (node instanceof Text) return node.data;
  if (node instanceof HTMLElement && node.className === 'paper') return '';
  const inside = [...node.childNodes].map(textOf).join('');
  return /^(BR|DIV|P|LI|DETAILS|SUMMARY)$/.test(node.nodeName) ? ' ' + inside + ' ' : inside;
};
/** @param {Node | null | undefined} node */
const said = (node) => (node ? textOf(node).replace(/\s+/g, ' ').trim() : '');
/** @param {string} title @param {string} ending @param {Blob} blob */
const save = (title, ending, blob) => {
  const name = title.toLowerCase().replace(/[^a-z0-9]+/g, '-').replace(/^-|-$/g, '').slice(0, 60);
  const link = make('a', { href: URL.createObjectURL(blob), download: (name || 'weirwise') + ending });
  link.click();
  setTimeout(() => URL.revokeObjectURL(link.href), 9e3);
};
`;
