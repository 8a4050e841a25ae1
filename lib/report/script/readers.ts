/** Last piece of the page's script: one reader's part at a time, or all of them, by the address of the page. */

/** Links to a part show that part alone, also from outside; without one, and by the link that it adds, all are shown. */
export const READERS = `
const parts = [...document.querySelectorAll('main > section')];
const list = document.querySelector('nav ul');
list?.prepend(make('li', {}, make('a', { href: '#all', textContent: TEXT.all })));
const choose = () => {
  const id = location.hash.slice(1);
  const target = id === '' ? null : document.getElementById(id);
  const own = parts.find((part) => target !== null && part.contains(target));
  for (const part of parts) part.classList.toggle('away', own !== undefined && part !== own);
  for (const link of document.querySelectorAll('nav a')) {
    const here = link.getAttribute('href') === '#' + (own?.id ?? 'all');
    if (here) link.setAttribute('aria-current', 'true');
    else link.removeAttribute('aria-current');
  }
  if (own !== undefined) target?.scrollIntoView();
};
addEventListener('hashchange', choose);
choose();
`;
