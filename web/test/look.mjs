// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// How a page is looked at: its width, WCAG 2.2 AA as axe-core sees it, and a picture (build/pages_looks), which is no
// oracle.
import { createRequire } from 'node:module';
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
const folder = join(process.env.BW_LOOKS ?? '../build/pages_looks', 'pages');

/** The screens and themes of every look. */
export const sizes = { desk: { width: 1440, height: 900 }, tablet: { width: 1024, height: 768 }, phone: { width: 390, height: 844 } };
export const schemes = ['light', 'dark'];

/** What is wrong with the page in sight: too wide, or against WCAG 2.2 AA. Keeps a picture of it. */
export async function look(page, what, name, colorScheme) {
  mkdirSync(folder, { recursive: true });
  const faults = [];
  const wide = await page.evaluate(() => {
    const over = (element) => element.scrollWidth - element.clientWidth;
    return Math.max(over(document.documentElement), ...[...document.querySelectorAll('dialog[open]')].map(over));
  });
  if (wide > 1) faults.push(`${what}: ${wide} px wider than the ${name}`);
  await page.evaluate(source); // as the tests' own words: the policy of the pages bars added scripts
  const { violations } = await page.evaluate(async (runOnly) => window.axe.run(document, { runOnly }), tags);
  for (const v of violations) faults.push(`${what}: ${v.id}: ${v.help}: ${v.nodes.slice(0, 3).map((n) => n.target.join(' ')).join('; ')}`);
  const dialog = await page.locator('dialog[open]').count();
  await page.screenshot({ path: join(folder, `${name}-${colorScheme}${what.replaceAll(/[/?=&%: ]/g, '_')}.png`), fullPage: dialog === 0 });
  return faults;
}
