// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Hostile input through the pages: what the page says, and that the books hold nothing of it.
import { existsSync, readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from './desk.mjs';

const query = (values) => '?' + new URLSearchParams(values);
const kScript = '<img src=x onerror=alert(1)><script>alert(2)</script>';
const kMap = readFileSync(fileURLToPath(new URL('../../examples/quarter/icp_map.toml', import.meta.url)), 'utf8');
const kElements = ['Na', 'Mg', 'Ca', 'K', 'Sr', 'B', 'SO4'];
const kMiB = 1024 * 1024;

/** Where the trail ends: it grows with each thing that is written. */
const mark = async (asking) => (await asking.get('/api/v1/trail?limit=1')).mark;

/** Nothing of the words became an element, and they stand on the page as they were typed. */
async function standsAsText(page, address, words) {
  await page.goto(address);
  await expect(page.locator('main').getByText(words).first(), address).toBeAttached();
  expect(await page.locator('img[src="x"], main script').count(), address).toBe(0);
}

test('a lot named by a script stands as text wherever it appears', async ({ works, at }) => {
  const [piet, mira, olga] = await Promise.all(['piet', 'mira', 'olga'].map((id) => works.ask(id)));
  const sheetOf = async (batch) => (await olga.get('/api/v1/view/batch/show' + query({ batch }))).result.batch;
  const supplier = (await olga.get('/api/v1/records?kind=supplier&limit=1')).rows[0]?.id ?? 'an invented supplier';
  const text = JSON.stringify({ format: 'brinewright/1', kind: 'lots', invented: true, lot: [{ material: 'sodium chloride', number: kScript, stock: '900 kg', supplier, use_by: '2030-12-31' }] });
  await piet.act('lot/receive', { text });
  await mira.act('lot/accept', { lot: kScript }, { why: kScript });
  const { answer: batch } = await olga.act('batch/plan', { recipe: 'Tarnlea raised', size: '250 kg', open_packages: true, chosen_lots: [{ material: 'sodium chloride', lot: kScript }] });
  expect((await sheetOf(batch)).additions.some((a) => a.lot === kScript)).toBe(true);
  const page = await at('olga'); // a script that speaks fails the day
  const address = kScript.split('/').map(encodeURIComponent).join('/');
  for (const where of [`/materials/lots/${address}`, '/materials', `/batches/${batch}`, `/batches/${batch}/sheet`, '/records/lot', '/trail', `/find${query({ text: kScript.slice(0, 12) })}`]) {
    await standsAsText(page, where, kScript);
  }
  await page.goto('/batches?plan=yes');
  await page.getByRole('dialog').getByLabel('Recipe version').selectOption('Tarnlea raised/1');
  await page.getByText('Choose lots yourself').click();
  await expect(page.getByRole('dialog').getByLabel('sodium chloride', { exact: true }).locator('option', { hasText: kScript })).toHaveCount(1);
  const labels = await page.request.get(`/api/v1/paper/batch-sheet${query({ batch })}`);
  expect(labels.headers()['content-type']).toContain('application/pdf');
});

/** Has the table that was chosen read by the text of a column map. */
async function readBy(page, map) {
  const text = page.getByLabel('The column map', { exact: true });
  await page.getByText('The map as a file').waitFor({ timeout: 60_000 });
  if (!(await text.isVisible())) await page.getByText('The map as a file').click();
  await expect(page.getByText(/^Reading the columns of/)).toHaveCount(0, { timeout: 60_000 });
  await text.fill(map);
  await page.getByRole('button', { name: 'Read the table by this text' }).click();
}

test('a formula in an imported table is refused by its cell, and nothing is written', async ({ works, at }) => {
  const page = await at('mira');
  const asking = await works.ask('mira');
  const { id: number } = (await asking.get('/api/v1/records' + query({ kind: 'batch', state: 'under test' }))).rows[0];
  const { portions } = (await asking.get('/api/v1/view/results/show' + query({ run: number }))).result;
  const portion = `${portions[0].sample}/${portions[0].number}`;
  const good = ['10780', '1284', '412', '399', '7.9', '4.5', '2712'];
  const table = (row) => [`Sample,Measured,${kElements.map((s) => `${s} line`).join(',')}`, `,,${kElements.map(() => 'mg/kg').join(',')}`, row, `QC-35,2026-11-20,10780,1284,412,,,,`].join('\n');
  const cells = (i, cell) => [portion, '2026-11-20', ...good].map((c, k) => (k === i ? cell : c)).join(',');
  await page.goto(`/tests/import${query({ batch: number })}`);
  await page.getByLabel('Method', { exact: true }).selectOption('M-01');
  const before = await mark(asking);
  for (const [at, cell] of [[2, '=1+1'], [3, '+SUM(A1:A9)'], [4, '-2+3'], [5, '@SUM(1)'], [0, '=HYPERLINK("http://x.invalid")'.replaceAll('"', '')]]) {
    await page.getByLabel('Table', { exact: true }).setInputFiles({ name: 'icp.csv', mimeType: 'text/csv', buffer: Buffer.from(table(cells(at, cell))) });
    await readBy(page, kMap);
    await page.getByRole('button', { name: 'Show what would be imported' }).click();
    await expect(page.getByText('cannot be imported').or(page.getByRole('alert')).first(), cell).toBeVisible();
    await expect(page.getByText(cell).first(), cell).toBeVisible(); // it is named as it stands
    await expect(page.getByRole('button', { name: /^Import/ }), cell).toHaveCount(0);
  }
  expect(await mark(asking)).toBe(before);
});

test('a formula that was typed cannot run in what is downloaded or copied', async ({ works, at }) => {
  const [mira, piet] = await Promise.all(['mira', 'piet'].map((id) => works.ask(id)));
  const supplier = 'an invented supplier';
  const formulas = ['=HYPERLINK("http://x.invalid","open")', '+1+cmd', '-1+cmd', '@SUM(A1)'];
  for (const [i, why] of formulas.entries()) {
    const text = JSON.stringify({ format: 'brinewright/1', kind: 'lots', invented: true, lot: [{ material: 'sodium chloride', number: `H26-${i}`, stock: '1 kg', supplier, use_by: '2030-12-31' }] });
    await piet.act('lot/receive', { text });
    await mira.act('lot/hold', { lot: `H26-${i}` }, { why });
  }
  const page = await at('quin', { permissions: ['clipboard-read', 'clipboard-write'] });
  await page.goto('/trail');
  await expect(page.getByText(formulas[3]).first()).toBeVisible(); // on the page as it was typed
  const coming = page.waitForEvent('download');
  await page.getByRole('button', { name: 'Download CSV' }).click();
  const file = readFileSync(await (await coming).path(), 'utf8');
  await page.getByRole('button', { name: 'Copy as table' }).click();
  await expect(page.getByText(/rows copied as a table/)).toBeAttached();
  const copied = await page.evaluate(() => navigator.clipboard.readText());
  expect(file).toContain(`"'=HYPERLINK(""http://x.invalid"",""open"")"`);
  for (const formula of formulas) expect(copied).toContain(`\t'${formula}\t`);
  for (const formula of formulas.slice(1)) expect(file).toContain(`,'${formula},`);
  const bare = /(^|[,\t\n"])[=@+-](?!\d+(\.\d+)?([,\t\n"]|$))/m;
  expect(file).not.toMatch(bare);
  expect(copied).not.toMatch(bare);
});

test('a path in the name of an uploaded file is a name and nothing more', async ({ works, at }) => {
  const [mira, piet] = await Promise.all(['mira', 'piet'].map((id) => works.ask(id)));
  const { id: number } = (await mira.get('/api/v1/records' + query({ kind: 'batch', state: 'under test' }))).rows[0];
  const { portions } = (await mira.get('/api/v1/view/results/show' + query({ run: number }))).result;
  const path = '../../../tmp/brinewright-evil.csv';
  const table = [`Sample,Measured,${kElements.map((s) => `${s} line`).join(',')}`, `,,${kElements.map(() => 'mg/kg').join(',')}`, `${portions[0].sample}/${portions[0].number},2026-11-20,10780,1284,412,399,7.9,4.5,2712`, 'QC-35,2026-11-20,10780,1284,412,,,,'].join('\n');
  const { answer: run } = await mira.act('results/import', { file_name: path, base64: Buffer.from(table).toString('base64'), map: kMap, batch: number, method: 'M-01' });
  const page = await at('mira');
  await page.goto(`/tests/runs/${run}`);
  const link = page.getByRole('link', { name: path }); // as it was called
  const named = page.waitForEvent('download');
  await link.click();
  expect((await named).suggestedFilename()).toMatch(/^[^./\\][^/\\]*$/);
  expect(existsSync('/tmp/brinewright-evil.csv')).toBe(false);
  // A certificate of a lot is kept under such a name: it is downloaded under one that is none.
  const paper = { name: path, media_type: 'text/html', base64: Buffer.from(kScript).toString('base64') };
  const text = JSON.stringify({ format: 'brinewright/1', kind: 'lots', invented: true, lot: [{ material: 'sodium chloride', number: 'P26-1', stock: '1 kg', supplier: 'an invented supplier', use_by: '2030-12-31' }] });
  await piet.act('lot/receive', { text, certificates: [paper] });
  await page.goto('/materials/lots/P26-1');
  const coming = page.waitForEvent('download');
  await page.getByRole('link', { name: 'Download it' }).click();
  const download = await coming;
  expect(download.suggestedFilename()).toMatch(/^[^./\\][^/\\]*$/);
  const answer = await page.request.get(await page.getByRole('link', { name: 'Download it' }).getAttribute('href'));
  expect(answer.headers()['content-disposition']).toMatch(/^attachment; filename="[A-Za-z0-9._-]+"$/);
  expect(answer.headers()['x-content-type-options']).toBe('nosniff');
});

test('a file that is too large is told of beside its field and is not sent', async ({ works, at }) => {
  const page = await at('mira');
  const asking = await works.ask('mira');
  const before = await mark(asking);
  const sent = [];
  page.on('request', (request) => request.method() === 'POST' && sent.push(request.url()));
  await page.goto('/tests/import');
  await page.getByLabel('Method', { exact: true }).selectOption('M-01');
  const field = page.getByLabel('Table', { exact: true });
  await field.setInputFiles({ name: 'year.csv', mimeType: 'text/csv', buffer: Buffer.alloc(21 * kMiB, 'x') });
  await expect(page.getByText('year.csv has 21 MiB, and 20 MiB at most can be sent: split it')).toBeVisible();
  await expect(field).toHaveAttribute('aria-invalid', 'true');
  await expect(field).toHaveAccessibleDescription(/20 MiB at most can be sent/);
  await expect(page.getByRole('button', { name: 'Show what would be imported' })).toBeDisabled();
  expect(sent).toEqual([]);
  // One that fits is taken by the server, also where it is more than 20 MiB on its way, and judged by what is in it.
  await field.setInputFiles({ name: 'most.csv', mimeType: 'text/csv', buffer: Buffer.alloc(16 * kMiB, `${'x'.repeat(60_000)}\n`) });
  await readBy(page, kMap);
  await page.getByRole('button', { name: 'Show what would be imported' }).click();
  await expect(page.getByText('cannot be imported').or(page.getByRole('alert')).first()).toBeVisible({ timeout: 60_000 });
  await expect(page.getByText(/are sent at once/)).toHaveCount(0);
  expect(sent.filter((address) => address.endsWith('/import/preview')).length).toBe(1);
  expect(await mark(asking)).toBe(before);
});

test('words without end are refused in a sentence, and do not wait in the outbox', async ({ works, at }) => {
  const page = await at('olga');
  const asking = await works.ask('olga');
  const { id: number } = (await asking.get('/api/v1/records?kind=batch&state=weighing')).rows[0];
  const before = await mark(asking);
  await page.goto(`/batches/${number}`);
  await page.getByRole('button', { name: 'Raise a departure' }).click();
  const dialog = page.getByRole('dialog');
  const words = dialog.getByLabel('What differed');
  for (const size of [2 * kMiB, 8 * kMiB]) {
    await words.evaluate((box, length) => {
      box.value = 'x'.repeat(length);
      box.dispatchEvent(new Event('input', { bubbles: true }));
    }, size);
    const answer = page.waitForResponse(/act\/departure\/raise/);
    await dialog.getByRole('button', { name: 'Raise it' }).click();
    expect((await answer).status()).toBe(413);
    await expect(dialog.getByText('more than 1 MiB are sent at once: send less, or split it')).toBeVisible();
  }
  await expect(page.getByText(/not saved yet/)).toHaveCount(0);
  await expect(words).toHaveValue(/^x{100}/); // what was typed stands
  expect(await mark(asking)).toBe(before);
});

test('a forged session sees the sign-in alone, and writes nothing', async ({ works, at }) => {
  const asking = await works.ask('quin');
  const number = (await asking.get('/api/v1/records?kind=batch&state=weighing')).rows[0].id;
  const page = await at('olga');
  await page.goto(`/batches/${number}`);
  await page.getByRole('button', { name: 'Raise a departure' }).click();
  const dialog = page.getByRole('dialog').first();
  await dialog.getByLabel('What differed').fill('written under a forged session');
  const before = await mark(asking);
  const context = page.context();
  const [own] = await context.cookies();
  expect(own.httpOnly && own.sameSite === 'Strict').toBe(true);
  await context.addCookies([{ ...own, value: 'f'.repeat(own.value.length) }]);
  await dialog.getByRole('button', { name: 'Raise it' }).click();
  await expect(page.getByLabel('Password')).toBeVisible(); // asked for, over what was typed
  expect(await mark(asking)).toBe(before);
  await page.goto(`/batches/${number}`);
  await expect(page.getByRole('button', { name: 'Sign in' })).toBeVisible();
  await expect(page.getByText(number)).toHaveCount(0);
  for (const path of ['/api/v1/records?kind=batch', `/api/v1/view/batch/show?batch=${number}`, `/api/v1/paper/batch-sheet?batch=${number}`]) expect((await page.request.get(path)).status(), path).toBe(401);
  expect(await mark(asking)).toBe(before);
});

test('without its form token an order is refused in a sentence, and writes nothing', async ({ works, at }) => {
  const page = await at('olga');
  const asking = await works.ask('quin');
  const number = (await asking.get('/api/v1/records?kind=batch&state=weighing')).rows[0].id;
  await page.goto(`/batches/${number}`);
  await page.getByRole('button', { name: 'Raise a departure' }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByLabel('What differed').fill('written without a form token');
  const before = await mark(asking);
  await page.route('**/api/v1/act/**', (route) => {
    const { 'form-token': _, ...headers } = route.request().headers();
    return route.continue({ headers });
  });
  await dialog.getByRole('button', { name: 'Raise it' }).click();
  await expect(dialog.getByText('the form token is missing or not that of this session: load the page again')).toBeVisible();
  await expect(dialog.getByLabel('What differed')).toHaveValue('written without a form token');
  expect(await mark(asking)).toBe(before);
  await page.unroute('**/api/v1/act/**');
  await dialog.getByRole('button', { name: 'Raise it' }).click(); // with it, it is written
  await expect.poll(() => mark(asking)).not.toBe(before);
});
