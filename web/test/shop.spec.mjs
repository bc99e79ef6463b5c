// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// On the shop floor: a likely wrong unit is asked about, a missing departure is asked for, the sheet on screen says what the
// paper says, and nothing is cut.
import { expect, test } from './desk.mjs';

const query = (values) => '?' + new URLSearchParams(values);
const shownOf = async (asking, batch) => (await asking.get('/api/v1/view/batch/show' + query({ batch }))).result;

test('a wrong unit is asked about, and a departure that is missing comes before the blending', async ({ works, at }) => {
  const page = await at('olga', { viewport: { width: 1024, height: 768 } });
  const asking = await works.ask('olga');
  const number = (await asking.get('/api/v1/records?kind=batch&state=weighing')).rows[0].id;
  const { batch: sheet } = await shownOf(asking, number);
  const open = sheet.additions.filter((a) => a.step >= 7);
  await page.goto(`/batches/${number}/weigh`);
  for (const addition of open) {
    const last = addition === open.at(-1);
    await expect(page.getByText(`Step ${addition.step} of ${sheet.additions.length}`)).toBeVisible();
    await expect(page.locator('p.target')).toContainText(`${addition.unit} ±`);
    const lot = page.getByLabel(/Lot on the bag/);
    await lot.fill(addition.lot);
    await lot.press('Enter');
    const net = page.getByLabel(`Net mass as the scale shows it, in ${addition.unit}`);
    if (addition.step === 7) {
      const small = String(Number(addition.target) / 1000);
      await net.fill(small);
      await page.getByRole('button', { name: /^Record/ }).click();
      const asks = page.getByRole('dialog', { name: 'Is this mass right?' });
      await expect(asks.getByText(/is about a thousandth of the .* wanted now/)).toBeVisible();
      await asks.getByRole('button', { name: 'Back to the scale' }).click();
      expect((await shownOf(asking, number)).weighings.filter((w) => w.step === 7)).toEqual([]);
      const refused = await asking.act('batch/weigh', { batch: number, weighings: [{ step: 7, lot: addition.lot, net: `${small} ${addition.unit}` }] }, { wanted: 400 });
      expect(refused.field).toContain('confirmed');
    }
    const times = last ? 1.03 : 1;
    await net.fill((Number(addition.target) * times).toFixed(addition.places));
    await page.getByRole('button', { name: /^Record/ }).click();
    if (last) await page.getByRole('button', { name: /as it is$/ }).click();
  }
  const raise = page.getByRole('link', { name: `Raise a departure about step ${open.at(-1).step}` });
  await expect(raise).toBeVisible();
  const blend = page.getByRole('button', { name: `Say that batch ${number} is blended` });
  await expect(blend).toHaveCount(0);
  await page.goto(`/batches/${number}`);
  await expect(page.getByText('A departure is missing')).toBeVisible();
  await expect(blend).toHaveCount(0);
  await raise.click();
  const dialog = page.getByRole('dialog', { name: `Raise a departure of batch ${number}` });
  await expect(dialog.getByLabel('Addition')).toHaveValue(String(open.at(-1).step));
  await dialog.getByRole('button', { name: 'Raise it' }).click();
  await expect(dialog).toBeHidden();
  await expect(blend).toBeVisible();
  const voice = await page.locator('.voice').boundingBox();
  for (const button of await page.locator('button:visible, a:visible, input:visible').all()) {
    const box = await button.boundingBox();
    const covers = voice && box && voice.width > 0 && voice.x < box.x + box.width && box.x < voice.x + voice.width && voice.y < box.y + box.height && box.y < voice.y + voice.height;
    expect(covers, await button.textContent()).toBeFalsy();
  }
});

test('the batch sheet on screen says what the paper says', async ({ works, at }) => {
  const page = await at('olga');
  const asking = await works.ask('olga');
  const number = (await asking.get('/api/v1/records?kind=batch&state=weighing')).rows[0].id;
  const line = (await shownOf(asking, number)).batch.additions.find((one) => one.step === 7);
  await asking.act('batch/weigh', { batch: number, weighings: [{ step: 7, lot: line.lot, net: `${line.target} ${line.unit}`, by_hand: true }] });
  const { paper, batch } = (await asking.get('/api/v1/view/batch/sheet' + query({ batch: number }))).result;
  await page.goto(`/batches/${number}/sheet`);
  for (const sentence of [...paper.before_start, ...paper.sampling]) await expect(page.getByText(sentence, { exact: true })).toBeVisible();
  expect(paper.safety.pictograms.length).toBeGreaterThan(0);
  for (const sign of paper.safety.pictograms) await expect(page.getByText(sign.name)).toBeVisible();
  const signs = page.locator('.signs img');
  await expect(signs).toHaveCount(paper.safety.pictograms.length);
  expect(await signs.first().evaluate((image) => image.naturalWidth)).toBeGreaterThan(0);
  await expect(page.getByText(/^typed by hand, /)).toHaveCount(1);
  await expect(page.getByText(/^read from the scale, /).first()).toBeVisible();
  for (const line of batch.additions) await expect(page.locator('.mass').nth(line.step - 1)).toContainText(line.unit);
});

for (const width of [1440, 1024]) {
  test(`nothing is cut at ${width}`, async ({ works, at }) => {
    const page = await at('quin', { viewport: { width, height: width === 1440 ? 900 : 768 } });
    const asking = await works.ask('quin');
    const one = async (kind, state) => (await asking.get('/api/v1/records' + query({ kind, ...(state ? { state } : {}) }))).rows[0].id;
    const version = await one('recipe', 'in use');
    const places = {
      [`/batches/${await one('batch', 'weighing')}`]: 'Additions and what was weighed',
      [`/tests/runs/${encodeURIComponent(await one('run'))}`]: 'Results',
      [`/recipes/scoops?recipe=${encodeURIComponent(version)}`]: 'By constituent, most scattered first',
      [`/recipes/workbench?target=${encodeURIComponent(`recipe:${version}:target`)}`]: 'Whole answer after',
    };
    for (const [address, shows] of Object.entries(places)) {
      await page.goto(address);
      await expect(page.getByText(shows, { exact: true }).first()).toBeVisible();
      await page.waitForTimeout(400);
      const wide = await page.evaluate(() => [document.documentElement, ...document.querySelectorAll('.scroll')].filter((box) => box.scrollWidth > box.clientWidth + 1).map((box) => `${box.getAttribute('aria-label') ?? 'page'}: ${box.scrollWidth} in ${box.clientWidth}`));
      expect(wide, address).toEqual([]);
    }
  });
}
