// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Every page at three sizes and in both themes: no violation of WCAG 2.2 AA that axe-core sees, and a picture to be
// looked at (build/pages_looks), which is no oracle.
import { createRequire } from 'node:module';
import { mkdirSync, readFileSync } from 'node:fs';
import { join } from 'node:path';
import { expect, test } from './desk.mjs';

const source = readFileSync(createRequire(import.meta.url).resolve('axe-core/axe.min.js'), 'utf8');
const tags = ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa'];
const folder = join(process.env.BW_LOOKS ?? '../build/pages_looks', 'pages');

/** Addresses of one of each page, with who looks at it. */
async function addresses(works) {
  const asking = await works.ask('mira');
  const one = async (kind, state = '') => (await asking.get(`/api/v1/records?kind=${kind}&state=${encodeURIComponent(state)}&limit=1`)).rows[0].id;
  return [
    '/', '/waters', '/materials', '/recipes', '/batches', '/tests', '/release', '/trail', '/find?text=B26',
    '/tests/enter', '/tests/import', '/tests/trend?analyte=Ca&method=M-01&recipe=Tarnlea%20raised', '/nowhere',
    `/batches/${await one('batch', 'planned')}`, `/batches/${await one('batch', 'released')}`, `/batches/${await one('batch', 'weighing')}/weigh`,
    `/batches/${await one('batch', 'released')}/sheet`, `/tests/runs/${await one('run', 'read')}`, `/tests/samples/${await one('sample')}`,
    '/tests/titration', '/tests/homogeneity', '/trail/verify', '/people', `/trace/${await one('certificate')}`, `/trace/${await one('certificate')}?element=Ca`,
    `/release/${await one('batch', 'ready')}`, `/release/${await one('batch', 'on hold')}`, `/records/lot/${await one('lot')}`, '/records/method',
    ...(process.env.BW_MORE_PAGES ?? '/recipes/workbench /recipes/vat /recipes/vat?part=mix /recipes/bag /recipes/scoops /recipes/instruments').split(' ').filter(Boolean),
  ];
}

/** What is wrong with the page in sight: too wide, or against WCAG 2.2 AA. Keeps a picture of it. */
async function look(page, what, name, colorScheme) {
  const faults = [];
  const wide = await page.evaluate(() => document.documentElement.scrollWidth - document.documentElement.clientWidth);
  if (wide > 1) faults.push(`${what}: ${wide} px wider than the ${name}`);
  await page.evaluate(source); // as the tests' own words: the policy of the pages bars added scripts
  const { violations } = await page.evaluate(async (runOnly) => window.axe.run(document, { runOnly }), tags);
  for (const v of violations) faults.push(`${what}: ${v.id}: ${v.help}: ${v.nodes.slice(0, 3).map((n) => n.target.join(' ')).join('; ')}`);
  await page.screenshot({ path: join(folder, `${name}-${colorScheme}${what.replaceAll(/[/?=&% ]/g, '_')}.png`), fullPage: true });
  return faults;
}

for (const colorScheme of ['light', 'dark']) {
  for (const [name, viewport] of Object.entries({ desk: { width: 1440, height: 900 }, tablet: { width: 1024, height: 768 }, phone: { width: 390, height: 844 } })) {
    test(`every page on a ${name}, ${colorScheme}`, async ({ works, at }) => {
      test.setTimeout(240_000);
      mkdirSync(folder, { recursive: true });
      const page = await at('nell', { viewport, colorScheme });
      const faults = [];
      for (const address of await addresses(works)) {
        await page.goto(address);
        await page.locator('main h1').first().waitFor();
        await page.waitForTimeout(700); // what the page asked for has come; it asks for life signs for ever
        faults.push(...(await look(page, address, name, colorScheme)));
      }
      expect(faults).toEqual([]);
    });

    test(`what comes on demand on a ${name}, ${colorScheme}`, async ({ works, at }) => {
      test.setTimeout(240_000);
      mkdirSync(folder, { recursive: true });
      const page = await at('nell', { viewport, colorScheme });
      const faults = [];
      await page.goto('/recipes/workbench?target=example:raised_omega.toml');
      await page.getByText('whole answer').first().waitFor();
      await page.getByRole('button', { name: 'Draw the curves' }).click();
      await page.getByRole('table', { name: 'Points of the curves' }).waitFor();
      await page.getByRole('button', { name: 'Solve for these lots' }).click();
      await page.getByRole('table', { name: 'Materials by the catalogue and by lot' }).waitFor();
      faults.push(...(await look(page, '/bench at work', name, colorScheme)));
      await page.keyboard.press('F1');
      await page.getByRole('dialog', { name: /^Help/ }).waitFor();
      faults.push(...(await look(page, '/help', name, colorScheme)));
      await page.keyboard.press('Escape');
      await page.goto('/recipes/scoops?recipe=Tarnlea%20raised/1');
      await page.getByLabel('Draws', { exact: true }).fill('5000');
      await page.getByRole('button', { name: 'Draw the budget' }).click();
      await page.getByRole('heading', { name: 'The way to the promise' }).waitFor();
      for (const twin of await page.locator('figure summary').all()) await twin.click();
      await page.getByRole('table', { name: 'Which step brings how much of the variance' }).first().waitFor();
      faults.push(...(await look(page, '/scoops with their budget', name, colorScheme)));
      const batch = (await (await works.ask('nell')).get('/api/v1/records?kind=batch&state=weighing')).rows[0].id;
      await page.goto(`/batches/${batch}/sheet`);
      await page.evaluate(() => navigator.serviceWorker.ready);
      await page.locator('main ol > li').first().waitFor();
      await works.away();
      await page.reload();
      await page.getByText(/not connected/).waitFor();
      faults.push(...(await look(page, '/sheet while the server is away', name, colorScheme)));
      expect(faults).toEqual([]);
    });
  }
}
