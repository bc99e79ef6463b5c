// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What is read once more before it is written: a table and its map, a sample and its plan, a version and the one before.
import { expect, test } from './desk.mjs';
import { look } from './look.mjs';

const query = (values) => '?' + new URLSearchParams(values);

test('an import is of the map as it stands: the last keystroke counts, and a preview lapses', async ({ works, at }) => {
  const mira = await works.ask('mira');
  const tested = (await mira.get('/api/v1/records?kind=test_portion&limit=500')).rows.find((row) => !row.body.set_aside);
  const page = await at('mira');
  await page.goto('/tests/import');
  await page.getByLabel('Method').selectOption('M-01');
  // A row of units and days below heads of which one is understood, with decimal commas and the method's check sample.
  const rows = ['Vial;Day;Ca317.9', ';;mg/kg', `${tested.id};27.11.2026;436,1`, 'QC-35;27.11.2026;412,9', 'spare;27.11.2026;1,0'];
  await page.getByLabel('Table', { exact: true }).setInputFiles({ name: 'table.csv', mimeType: 'text/csv', buffer: Buffer.from(rows.join('\n') + '\n') });
  await expect(page.getByLabel('Analyte of column Ca317.9')).toHaveValue('Ca');
  await expect(page.getByLabel('Units stand in row')).toHaveValue('2');
  await expect(page.getByText('row 2: units')).toBeVisible();
  await expect(page.getByLabel('comma, 12,5')).toBeChecked();
  await expect(page.getByLabel('Check samples')).toHaveValue('QC-35');
  await page.getByLabel('What column Day is').selectOption('day');
  await expect(page.getByLabel('How the days are written')).toHaveValue('DD.MM.YYYY');
  // The last keystroke, and at once the button: the answer to the edit comes late and is still waited for.
  await page.route('**/api/v1/import/map', async (route) => {
    await new Promise((done) => setTimeout(done, 800));
    await route.continue();
  });
  const asked = page.waitForRequest('**/api/v1/import/preview');
  await page.getByLabel('Unit of column Ca317.9').fill('mg/L');
  await page.getByRole('button', { name: 'Show what would be imported' }).click();
  expect((await asked).postDataJSON().map).toContain('unit = "mg/L"');
  await page.unroute('**/api/v1/import/map');
  await expect(page.getByText(/Row 2 of column 'Ca317.9' says mg\/kg, and the map mg\/L/)).toBeVisible();
  await page.getByLabel('Unit of column Ca317.9').fill('');
  await page.getByRole('button', { name: 'Show what would be imported' }).click();
  // A name of the table is a check sample.
  await page.getByRole('button', { name: 'spare is a check sample' }).click();
  await expect(page.getByLabel('Check samples')).toHaveValue('QC-35, spare');
  const button = page.getByRole('button', { name: /^Import 1 result and \d readings? of (a )?check samples? as one run$/ });
  await expect(button).toBeEnabled();
  expect(await look(page, '/tests/import', 'desk', 'light')).toEqual([]);
  // Whatever it was made of changes: it is said, and nothing can be imported by it.
  await page.getByLabel('Batch').fill('B26');
  await expect(page.getByText('This preview has lapsed:')).toBeVisible();
  await expect(button).toBeDisabled();
  await page.getByLabel('Batch').fill('');
  await expect(button).toBeEnabled();
  await page.getByText('point, 12.5').last().click();
  await expect(page.getByText('This preview has lapsed:')).toBeVisible();
  await expect(button).toBeDisabled();
});

test('an ordinary export is read in one go, whatever its layout, its names and its decimal sign', async ({ works, at }) => {
  const mira = await works.ask('mira');
  const tested = (await mira.get('/api/v1/records?kind=test_portion&limit=500')).rows.filter((row) => !row.body.set_aside);
  const [one, two] = tested.filter((row) => row.body.sample === tested.at(-1).body.sample).map((row) => row.id);
  const page = await at('mira');
  const show = page.getByRole('button', { name: 'Show what would be imported' });
  const take = async (rows) => {
    await page.goto('/tests/import');
    await page.getByLabel('Table', { exact: true }).setInputFiles({ name: 'table.csv', mimeType: 'text/csv', buffer: Buffer.from(rows.join('\n') + '\n') });
    await page.getByLabel('Method').selectOption('M-01');
  };
  const wide = [`${one},439.1,1295.5,10800`, `${two},439.3,1294.2,10790`, 'QC-35,412.3,1284.5,10750'];
  const comma = (row) => row.replaceAll(',', ';').replaceAll('.', ',');
  const tables = [
    [/Proposed by its heads/, 6, ['Sample,Ca (mg/kg),Mg (mg/kg),Na (mg/kg)', ...wide]],
    [/Proposed by its heads/, 6, ['Probe;Calcium mg/kg;Magnesium mg/kg;Natrium mg/kg', ...wide.map(comma)]],
    [/Proposed by its heads/, 2, ['Sample;Element;Result;Unit', ...[`${one},Ca,439.1`, `${two},Calcium,439.3`, 'QC-35,Ca,412.3', 'QC-35,Mg,1284.5', 'QC-35,Na,10750'].map((row) => `${comma(row)};mg/kg`)]],
    [/Proposed by the map of run R26-.*, whose table had these heads/, 14, ['Sample,Measured,Na line,Mg line,Ca line,K line,Sr line,B line,SO4 line', ',,mg/kg,mg/kg,mg/kg,mg/kg,mg/kg,mg/kg,mg/kg', ...[one, two].map((portion) => `${portion},2026-11-27,10800,1295.5,439.1,404.1,8.08,4.54,2764.3`), 'QC-35,2026-11-27,10750,1284.5,412.3,,,,']],
  ];
  for (const [from, results, rows] of tables) {
    await take(rows);
    await expect(page.getByText(from)).toBeVisible();
    await show.click();
    await expect(page.getByText('can be imported', { exact: true })).toBeVisible();
    await expect(page.getByRole('button', { name: `Import ${results} results and 3 readings of check samples as one run` })).toBeEnabled();
  }
});

test('what is lacking of a table is said in the words of the page, and fields act while they are typed in', async ({ works, at }) => {
  const mira = await works.ask('mira');
  const tested = (await mira.get('/api/v1/records?kind=test_portion&limit=500')).rows.find((row) => !row.body.set_aside);
  const page = await at('mira');
  await page.goto('/tests/import');
  const show = page.getByRole('button', { name: 'Show what would be imported' });
  const lacks = page.getByText('The table cannot be read by this yet:');
  await expect(page.getByText('Choose the table')).toBeVisible();
  const rows = ['Vial,Channel 1', `${tested.id},439.1`];
  await page.getByLabel('Table', { exact: true }).setInputFiles({ name: 'table.csv', mimeType: 'text/csv', buffer: Buffer.from(rows.join('\n') + '\n') });
  await expect(page.getByText('Choose the method')).toBeVisible();
  await page.getByLabel('Method').selectOption('M-01');
  await expect(page.getByText('No head names an analyte')).toBeVisible();
  await expect(page.getByLabel('What column Vial is')).toHaveValue('sample');
  await expect(lacks).toContainText('no column holds readings yet');
  await expect(show).toBeDisabled();
  await page.getByLabel('What column Channel 1 is').selectOption('readings of one analyte');
  await expect(lacks).toContainText('column B (Channel 1): write of which analyte its readings are, such as Ca');
  const analyte = page.getByLabel('Analyte of column Channel 1');
  await analyte.pressSequentially('calc', { delay: 60 });
  await expect(lacks).toContainText("'calc' is no element or constituent");
  await analyte.pressSequentially('ium', { delay: 60 });
  await expect(lacks).toHaveCount(0); // while the field still has the focus
  await expect(show).toBeEnabled();
  await expect(analyte).toHaveValue('calcium');
  await page.getByLabel('Unit of column Channel 1').pressSequentially('mg/k', { delay: 60 });
  await expect(lacks).toContainText('column B (Channel 1)');
  await page.getByLabel('Unit of column Channel 1').pressSequentially('g', { delay: 60 });
  await expect(lacks).toHaveCount(0);
  await expect(analyte).toHaveValue('Ca'); // as it was understood, once it is left
  await show.click();
  await expect(page.getByText('cannot be imported')).toBeVisible(); // the method's check sample is missing
  expect(await page.locator('main').innerText()).not.toMatch(/other_analytes|decimal_sign|analyte = /);
});

test('the mixing sheet is read whole before it is signed', async ({ works, at }) => {
  const asking = await works.ask('quin');
  const released = (await asking.get('/api/v1/records?kind=batch&state=released')).rows[0].id;
  const draft = (await asking.get('/api/v1/view/mixing-sheet/draft' + query({ batch: released, use_by: '2030-12-31' }))).result;
  const page = await at('quin');
  await page.goto(`/release/${released}`);
  await page.locator('#mixing-sheet').getByLabel('Use by').fill('2030-12-31');
  await page.getByRole('button', { name: 'Show it before signing' }).click();
  const signed = page.getByRole('region', { name: 'What is signed' });
  for (const said of ['How to mix', 'Never pour water onto salt.', 'Hydrometer, relative density', draft.density_reference, 'Refractometer, NaCl dial', 'If the water is cloudy', 'Storing an open container', draft.rate, draft.if_cloudy, ...draft.storing, ...draft.safety, draft.safety_precedence]) {
    await expect(signed).toContainText(said);
  }
  await expect(signed.locator('ol li')).toHaveCount(draft.steps.length);
  for (const reading of draft.readings) await expect(signed.getByRole('cell', { name: reading.dial_sodium_chloride, exact: true }).first()).toBeVisible();
  await page.getByRole('dialog').getByLabel(/password/i).fill('an invented password of quin');
  await page.getByRole('dialog').getByRole('button', { name: 'Sign' }).click();
  await expect(page.getByRole('dialog')).toHaveCount(0);
});

test('a sample is taken beside its plan, and a mended mass needs no reason', async ({ works, at }) => {
  const page = await at('olga');
  const asking = await works.ask('olga');
  const rows = (await asking.get('/api/v1/records?kind=batch&state=weighing')).rows;
  const { id: number, body: sheet } = rows[0];
  const done = (await asking.get('/api/v1/view/batch/show' + query({ batch: number }))).result;
  const weighed = new Set(done.weighings.map((w) => w.step));
  const weighings = sheet.additions.filter((one) => !weighed.has(one.step)).map((one) => ({ step: one.step, lot: one.lot, net: `${one.target_kg} kg`, by_hand: true }));
  await asking.act('batch/weigh', { batch: number, weighings });
  await asking.act('batch/blend', { batch: number });
  await page.goto(`/batches/${number}`);
  await expect(page.getByText(/10 increments of \d+ g, \d+ g together/)).toBeVisible();
  await page.getByLabel('Increments taken').fill('9');
  await expect(page.getByText('9 increments, and the plan asks for 10: it is remarked on the sample.')).toBeVisible();
  await page.getByLabel('Increments taken').fill('10');
  await page.getByLabel('Mass of all together').fill('30');
  const take = page.getByRole('button', { name: `Record the sample of batch ${number}` });
  await take.click();
  await expect(page.getByLabel('Reason')).toBeVisible();
  await page.getByLabel('Mass of all together').fill('450');
  await expect(page.getByLabel('Reason')).toHaveCount(0);
  expect(await look(page, '/batches/sample', 'desk', 'light')).toEqual([]);
  await take.click();
  await expect.poll(async () => (await asking.get('/api/v1/record' + query({ kind: 'batch', id: number }))).state).toBe('sampled');
});

test('who approves a version reads what it changes, in a dialog as high as the screen', async ({ works, at }) => {
  const nell = await works.ask('nell');
  const { id: before, body } = (await nell.get('/api/v1/records?kind=recipe&state=in%20use')).rows[0];
  const target = body.target.replace('symbol = "alkalinity"', 'symbol = "alkalinity"\nnote = "as the hatchery asked"');
  expect(target).not.toBe(body.target);
  const { answer: id } = await nell.act('recipe/keep', { product: body.product, target, recipe: body.recipe }, { why: 'the note was missing' });
  await nell.act('recipe/offer', { recipe: id });
  const page = await at('quin');
  await page.goto(`/recipes/${encodeURIComponent(body.product)}/${id.split('/').at(-1)}`);
  await page.getByRole('button', { name: `Read and approve ${id}` }).click();
  const dialog = page.getByRole('dialog');
  await expect(dialog.getByRole('heading', { name: `What it changes against ${before}` })).toBeVisible();
  await expect(dialog.getByRole('row', { name: 'constituent, alkalinity, note not named as the hatchery asked' })).toBeVisible();
  await expect(dialog.getByText('The materials and their amounts are the same.')).toBeVisible();
  const box = await dialog.boundingBox();
  expect(box.height).toBeGreaterThan(page.viewportSize().height - 40);
  // Nothing within it scrolls downwards by itself.
  const boxes = await dialog.evaluate((whole) => [...whole.querySelectorAll('*')].filter((one) => one.tagName !== 'PRE' && one.scrollHeight > one.clientHeight + 1 && ['auto', 'scroll'].includes(getComputedStyle(one).overflowY)).length);
  expect(boxes).toBe(0);
  expect(await look(page, '/recipes/approve', 'desk', 'light')).toEqual([]);
});

test('after a release the next step names the certificate and the mixing sheet', async ({ works, at }) => {
  const asking = await works.ask('quin');
  const released = (await asking.get('/api/v1/records?kind=batch&state=released')).rows[0].id;
  const page = await at('quin');
  await page.goto(`/release/${released}`);
  const next = page.getByRole('region', { name: 'Next' });
  await expect(next.getByRole('link', { name: /^Certificate C26-.* as PDF$/ })).toBeVisible();
  await expect(next.getByRole('link', { name: new RegExp(`ixing sheet of ${released}`) })).toBeVisible();
  expect(await look(page, '/release/released', 'tablet', 'light')).toEqual([]);
});
