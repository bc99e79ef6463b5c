// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// The pictures of the tutorials: pages of the invented works as a reader finds them. Made anew by tools/page_pictures;
// without BW_PICTURES nothing is drawn.
import { join } from 'node:path';
import { expect, test } from './desk.mjs';

const folder = process.env.BW_PICTURES;
const settled = 700; // ms: what a page asked for has come

/** The screen above, or the page from an element on, as a picture of the tutorial. */
async function picture(page, name, from, above = 20) {
  if (from) await from.evaluate((element, px) => window.scrollBy(0, element.getBoundingClientRect().top - px), above);
  await page.waitForTimeout(settled);
  await page.screenshot({ path: join(folder, `page_${name}.png`), animations: 'disabled', caret: 'hide' });
}

test.skip(!folder, 'pictures are drawn by tools/page_pictures');
const screen = { viewport: { width: 1360, height: 830 }, deviceScaleFactor: 0.75, colorScheme: 'light' }; // a desk's screen, for a page of text

test('pictures of the tutorial', async ({ at }) => {
  test.setTimeout(120_000);
  const page = await at('nell', screen);
  await page.goto('/');
  await page.locator('main h1').first().waitFor();
  await picture(page, 'today');

  await page.goto('/recipes/workbench?target=example:raised_omega.toml');
  await page.getByText('whole answer').first().waitFor();
  await page.getByText('solving', { exact: true }).waitFor({ state: 'hidden' });
  await picture(page, 'workbench');
  await page.getByRole('button', { name: 'Solve for these lots' }).click();
  const lots = page.getByRole('table', { name: 'Materials by the catalogue and by lot' });
  await lots.waitFor();
  await picture(page, 'lots', lots, 240); // the answer's strip stays on top

  await page.goto('/recipes/vat?recipe=Tarnlea%20raised/1');
  await page.locator('figure svg').first().waitFor();
  await picture(page, 'vat', page.getByRole('heading', { name: 'Verdict' }));
});

test('pictures of the tutorial of the books', async ({ at, works }) => {
  test.setTimeout(120_000);
  const asking = await works.ask('mira');
  const one = async (kind, state = '') => (await asking.get(`/api/v1/records?kind=${kind}&state=${encodeURIComponent(state)}&limit=1`)).rows[0].id;
  const operator = await at('olga', screen);
  await operator.goto(`/batches/${await one('batch', 'weighing')}/weigh`);
  await operator.locator('main h1').first().waitFor();
  await picture(operator, 'weighing');

  const quality = await at('quin', screen);
  await quality.goto(`/release/${await one('batch', 'ready')}`);
  await quality.locator('main h1').first().waitFor();
  await picture(quality, 'release');
  await quality.goto(`/trace/${await one('certificate')}?element=Ca`);
  await quality.locator('main h1').first().waitFor();
  await picture(quality, 'trace');
  expect(quality.url()).toContain('/trace/');
});
