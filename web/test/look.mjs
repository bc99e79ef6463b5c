// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// How a page is looked at: at three sizes and in both themes its width, WCAG 2.2 AA as axe-core sees it, and a picture
// (build/pages_looks), which is no oracle. A state is reached once, on the smallest screen, where reaching it is
// hardest; the looks at the others resize what stands there.
import { createRequire } from 'node:module';
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { record } from './figure.mjs';

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
/** The rules that read colours; every other one finds the same in both themes. */
const ofColours = ['color-contrast', 'link-in-text-block'];
const folder = join(process.env.BW_LOOKS ?? '../build/pages_looks', 'pages');
const kQuiet = 100; // ms without a question to the server
const kPatience = 20_000;

/** The screens, the smallest first, and the themes of every look. */
export const sizes = { phone: { width: 390, height: 844 }, tablet: { width: 1024, height: 768 }, desk: { width: 1440, height: 900 } };
const schemes = ['light', 'dark'];
export const first = { viewport: sizes.phone, colorScheme: 'light' };

const asked = new WeakMap();
/** Asked for ever, or of no consequence for what is drawn: life signs, and how far a computation is. */
const aside = new Set(['/api/v1/works', '/api/v1/call']);
/** Takes down what a page asks, from now on. */
export function listen(page) {
  const pending = new Set();
  asked.set(page, { pending, since: Date.now() });
  const over = (request) => {
    if (pending.delete(request)) asked.get(page).since = Date.now();
  };
  page.on('request', (request) => {
    if (!aside.has(new URL(request.url()).pathname)) pending.add(request);
  });
  page.on('requestfinished', over);
  page.on('requestfailed', over);
  page.on('framenavigated', (frame) => {
    if (frame === page.mainFrame()) pending.clear();
  });
}

/** Waits until what the page has asked for has come and is drawn. */
export async function settled(page) {
  const of = asked.get(page);
  const until = Date.now() + kPatience;
  while (Date.now() < until && (of.pending.size > 0 || Date.now() - of.since < kQuiet)) await page.waitForTimeout(20);
  await drawn(page);
}

async function drawn(page) {
  await page.evaluate(async () => {
    await document.fonts.ready;
    await new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)));
  });
}

/** How much wider than the screen the page in sight is, or a dialog on it. */
function tooWide(page) {
  return page.evaluate(() => {
    const over = (element) => element.scrollWidth - element.clientWidth;
    return Math.max(over(document.documentElement), ...[...document.querySelectorAll('dialog[open]')].map(over));
  });
}

async function violations(page, runOnly) {
  if (!(await page.evaluate(() => 'axe' in window))) await page.evaluate(source); // as the tests' own words: the policy of the pages bars added scripts
  const found = await page.evaluate(async (only) => (await window.axe.run(document, { runOnly: only, resultTypes: ['violations'] })).violations, runOnly);
  return found.map((v) => `${v.id}: ${v.help}: ${v.nodes.slice(0, 3).map((n) => n.target.join(' ')).join('; ')}`);
}

/** What is wrong with the page in sight, at every size and in both themes. Keeps a picture of each. The page is on the
 *  first size again afterwards. */
export async function look(page, what) {
  mkdirSync(folder, { recursive: true });
  const faults = [];
  const file = what.replaceAll(/[/?=&%: ]/g, '_');
  for (const [name, viewport] of Object.entries(sizes)) {
    await page.setViewportSize(viewport);
    for (const colorScheme of schemes) {
      await page.emulateMedia({ colorScheme });
      await drawn(page);
      if (colorScheme === schemes[0]) {
        const wide = await tooWide(page);
        if (wide > 1) faults.push(`${what}: ${wide} px wider than the ${name}`);
      }
      const rules = colorScheme === schemes[0] ? { type: 'tag', values: tags } : { type: 'rule', values: ofColours };
      faults.push(...(await violations(page, rules)).map((fault) => `${what} on a ${name}, ${colorScheme}: ${fault}`));
      const dialog = await page.locator('dialog[open]').count();
      await page.screenshot({ path: join(folder, `${name}-${colorScheme}${file}.png`), fullPage: dialog === 0 });
    }
  }
  await page.setViewportSize(first.viewport);
  await page.emulateMedia({ colorScheme: first.colorScheme });
  return faults;
}

const screens = Object.values(sizes).map(({ width, height }) => `${width}x${height}`).reverse().join(', ');
/** Notes what the looks found: at `count`, such as "12 pages". */
export function told(what, count, faults) {
  record({ claim: `violations of WCAG 2.2 AA, and pages wider than their screen: ${what}`, asked: `none by axe-core, at ${screens}, light and dark`,
    by: `looks, ${what}`, met: faults.length === 0, found: `${faults.length} in ${count} at ${Object.keys(sizes).length} sizes and in ${schemes.length} themes` });
}
