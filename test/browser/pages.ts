/** Opening pages in headless Chromium, for the tests of this folder. CHROMIUM names another program than /usr/bin/chromium. */
import { existsSync, readFileSync, writeFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { join } from 'node:path';
import { pathToFileURL } from 'node:url';
import { type Browser, chromium, type Page } from 'playwright-core';

export const program = process.env.CHROMIUM ?? '/usr/bin/chromium';
export const present = existsSync(program);
/** WEIRWISE_REQUIRE_BROWSER=1 makes it a failure where there is no Chromium. */
export const required = process.env.WEIRWISE_REQUIRE_BROWSER === '1';
const axe = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');

export function launch(): Promise<Browser> {
  return chromium.launch({ executablePath: program, args: ['--no-sandbox'] });
}

interface View {
  width?: number;
  dark?: boolean;
  /** False opens the page as where scripts are switched off. */
  scripts?: boolean;
  /** "#stores" */
  hash?: string;
}

/** Opens a page from a file and keeps every error and every request but the one for the file itself. */
export async function openPage(
  browser: Browser,
  folder: string,
  html: string,
  { width = 1024, dark = false, scripts = true, hash = '' }: View = {},
): Promise<{ page: Page; troubles: string[] }> {
  const file = join(folder, 'page.html');
  writeFileSync(file, html);
  const address = pathToFileURL(file).href;
  const page = await browser.newPage({
    viewport: { width, height: 800 },
    colorScheme: dark ? 'dark' : 'light',
    javaScriptEnabled: scripts,
    acceptDownloads: true,
  });
  const troubles: string[] = [];
  page.on('console', (message) => troubles.push(`console ${message.type()}: ${message.text()}`));
  page.on('pageerror', (error) => troubles.push(`error: ${error.message}`));
  page.on('dialog', (dialog) => {
    troubles.push(`dialog: ${dialog.message()}`);
    void dialog.dismiss();
  });
  page.on('request', (request) => {
    // Pictures and files that the page makes of itself ask for nothing.
    const own = [address, `${address}${hash}`].includes(request.url()) || /^(data|blob):/.test(request.url());
    if (!own) troubles.push(`request: ${request.url().slice(0, 80)}`);
  });
  await page.goto(`${address}${hash}`);
  return { page, troubles };
}

interface Violation {
  id: string;
  nodes: { html: string }[];
}

/** What axe finds outside the pictures, which it cannot judge. The policy of the page lets no other script in, so axe is run past it by the browser itself. */
export async function violations(page: Page): Promise<string[]> {
  await page.evaluate(axe);
  const found = (await page.evaluate(
    "axe.run({ exclude: [['svg.chart > g']] }).then((result) => result.violations)",
  )) as Violation[];
  return found.map(({ id, nodes }) => `${id}: ${nodes[0]?.html.slice(0, 120)}`);
}

export async function sidewaysScroll(page: Page): Promise<number> {
  return page.evaluate('document.documentElement.scrollWidth - window.innerWidth') as Promise<number>;
}
