// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Every page at three sizes and in both themes: no violation of WCAG 2.2 AA that axe-core sees, and a picture to be
// looked at (build/pages_looks), which is no oracle.
import { expect, test } from './desk.mjs';
import { first, listen, look, settled, told } from './look.mjs';

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

const kParts = 3; // so that no worker waits long for another

for (let part = 0; part < kParts; part += 1) {
  test(`every page, part ${part + 1} of ${kParts}`, async ({ works, at }) => {
    test.setTimeout(240_000);
    const page = await at('nell', first);
    listen(page);
    const faults = [];
    const mine = (await addresses(works)).filter((_, i) => i % kParts === part);
    for (const address of mine) {
      await page.goto(address);
      await page.locator('main h1').first().waitFor();
      await settled(page);
      faults.push(...(await look(page, address)));
    }
    told(`every page, part ${part + 1} of ${kParts}`, `${mine.length} pages`, faults);
    expect(faults).toEqual([]);
  });
}

test('what comes on demand', async ({ works, at }) => {
  test.setTimeout(240_000);
  const page = await at('nell', first);
  listen(page);
  const faults = [];
  await page.goto('/recipes/workbench?target=example:raised_omega.toml');
  await page.getByText('whole answer').first().waitFor();
  await page.getByRole('button', { name: 'Draw the curves' }).click();
  await page.getByRole('table', { name: 'Points of the curves' }).waitFor();
  await page.getByRole('button', { name: 'Solve for these lots' }).click();
  await page.getByRole('table', { name: 'Materials by the catalogue and by lot' }).waitFor();
  await settled(page);
  faults.push(...(await look(page, '/bench at work')));
  await page.keyboard.press('F1');
  await page.getByRole('dialog', { name: /^Help/ }).waitFor();
  await settled(page);
  faults.push(...(await look(page, '/help')));
  await page.keyboard.press('Escape');
  await page.goto('/recipes/scoops?recipe=Tarnlea%20raised/1');
  await page.getByLabel('Draws', { exact: true }).fill('5000');
  await page.getByRole('button', { name: 'Draw the budget' }).click();
  await page.getByRole('heading', { name: 'The way to the promise' }).waitFor();
  for (const twin of await page.locator('figure summary').all()) await twin.click();
  await page.getByRole('table', { name: 'Which step brings how much of the variance' }).first().waitFor();
  faults.push(...(await look(page, '/scoops with their budget')));
  const batch = (await (await works.ask('nell')).get('/api/v1/records?kind=batch&state=weighing')).rows[0].id;
  await page.goto(`/batches/${batch}/sheet`);
  await page.evaluate(() => navigator.serviceWorker.ready);
  await page.locator('main ol > li').first().waitFor();
  await works.away();
  await page.reload();
  await page.getByText(/not connected/).waitFor();
  faults.push(...(await look(page, '/sheet while the server is away')));
  told('what comes on demand', '4 states', faults);
  expect(faults).toEqual([]);
});
