// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// The days of the laboratory: readings set right, units judged, the value of a curve carried to the entry.
import { expect, test } from './desk.mjs';

const query = (values) => '?' + new URLSearchParams(values);

test('the analyst sets readings right: entered twice, several lines, a check sample, a test portion', async ({ works, at }) => {
  const page = await at('mira');
  const asking = await works.ask('mira');
  const { rows: runs } = await asking.get('/api/v1/records?kind=run&state=read');
  const run = runs.find((r) => r.body.results.length > 1 && !r.body.file);
  const { batch, method, sample } = run.body.results[0];
  // The same readings once more: refused, and the reason has its place.
  await page.goto('/tests/enter' + query({ batch, method }));
  for (const line of run.body.results) await page.getByLabel(new RegExp(`^${line.portion}, ${line.analyte}, in`)).fill(line.digits);
  const enter = page.getByRole('button', { name: `Enter ${run.body.results.length} results as one run` });
  await enter.click();
  await expect(page.getByText(/digit for digit/)).toBeVisible();
  await page.getByLabel('Reason').fill('read a second time after the electrode was cleaned');
  await enter.click();
  await expect(page.getByRole('heading', { name: /^Run R/ })).toBeVisible();
  const second = decodeURIComponent(new URL(page.url()).pathname.split('/').at(-1));
  expect(second).not.toBe(run.id);
  for (const line of run.body.results) await page.getByLabel(`Line ${line.line}, ${line.analyte}`).check();
  await page.getByRole('button', { name: `Set ${run.body.results.length} lines aside` }).click();
  await page.getByRole('dialog').getByLabel('Reason').fill('the first readings stand');
  await page.getByRole('dialog').getByRole('button', { name: 'Set them aside' }).click();
  await expect.poll(async () => (await asking.get('/api/v1/record' + query({ kind: 'run', id: second }))).body.results.every((r) => r.state === 'set aside')).toBe(true);
  // A check sample that was mistyped.
  const checked = (await asking.get('/api/v1/records?kind=run&limit=50')).rows.find((r) => r.body.checks.length > 0);
  const check = checked.body.checks.at(-1);
  await page.goto(`/tests/runs/${checked.id}`);
  await page.getByRole('button', { name: `Correct ${check.name}, ${check.analyte}` }).click();
  await page.getByLabel('Reading as its source has it').fill((Number(check.digits) * 1.1).toFixed(1));
  await page.getByRole('dialog').getByLabel('Reason').fill('the source says so');
  await page.getByRole('button', { name: 'Correct it' }).click();
  await expect(page.getByText('1 too far')).toBeVisible();
  // A test portion that was spilt.
  const { answer: portion } = await asking.act('sample/portion', { sample, salt: '43.50 g', water: '1000.0 g', by: 'dry mass' });
  await page.goto(`/tests/samples/${sample}`);
  await page.getByRole('button', { name: `Set aside test portion ${portion}` }).click();
  await page.getByRole('dialog').getByLabel('Reason').fill('spilt');
  await page.getByRole('dialog').getByRole('button', { name: `Set ${portion} aside` }).click();
  await expect(page.getByText(/^spilt \(mira/)).toBeVisible();
});

test('units are judged from a pasted block, a titration curve from pasted points', async ({ at }) => {
  const page = await at('mira');
  await page.goto('/tests');
  await page.getByRole('link', { name: 'Homogeneity' }).click();
  await page.getByLabel('Unit 1, result 1, in mg/kg').fill('412.4');
  await page.getByRole('button', { name: /^Judge/ }).click();
  await expect(page.getByText('every unit has as many results as the others')).toBeVisible();
  const block = ['412,4\t411,5', '410,5\t411,4', '413,7\t414,4', '412,7\t412,5', '450,3\t450,9'].join('\n');
  await page.getByLabel('Unit 1, result 1, in mg/kg').evaluate((box, text) => {
    const data = new DataTransfer();
    data.setData('text/plain', text);
    box.dispatchEvent(new ClipboardEvent('paste', { clipboardData: data, bubbles: true, cancelable: true }));
  }, block);
  await page.getByRole('button', { name: 'Judge 5 units' }).click();
  await expect(page.getByText('The units are not alike for the goal of 2 % to each side.')).toBeVisible();
  await expect(page.getByRole('img', { name: /Units of the batch/ })).toBeVisible();
  await page.goto('/tests/titration');
  const points = [4.1, 4.2, 4.3, 4.4, 4.5, 4.6, 4.7, 4.8, 4.9, 5.0];
  const signals = [187.56, 192.67, 196.92, 200.57, 203.77, 206.64, 209.24, 211.49, 213.62, 215.65];
  await page.getByLabel('Or its points, pasted').fill(points.map((p, i) => `${p}\t${signals[i]}`).join('\n').replaceAll('.', ','));
  await expect(page.getByText('The mass of the sample is missing')).toBeVisible();
  await page.getByLabel('Sample', { exact: true }).fill('150.38');
  await page.getByLabel('Strength of the titrant').fill('0.10021');
  await page.getByLabel('Density of the acid').fill('1.0237');
  await page.getByRole('button', { name: 'Read the curve' }).click();
  await expect(page.getByText(/^Alkalinity 248\d\.\d ± \d/)).toBeVisible();
  await expect(page.getByRole('img', { name: /Curve and residuals/ })).toBeVisible();
  await page.reload(); // what was pasted is not lost
  await expect(page.getByLabel('Sample', { exact: true })).toHaveValue('150.38');
});

test('units are judged from the books: samples of a batch taken apart, only what was checked', async ({ works, at }) => {
  const [olga, mira, sten] = await Promise.all(['olga', 'mira', 'sten'].map((id) => works.ask(id)));
  const { id: number, body: sheet } = (await mira.get('/api/v1/records' + query({ kind: 'batch', state: 'under test' }))).rows[0];
  const salt = `${Number(sheet.blend_g_per_kg_purified_water).toFixed(2)} g`;
  const results = [];
  for (const [pack, digits] of [['10.27', '10.28'], ['10.26', '10.27'], ['10.90', '10.91']].entries()) {
    const { answer: sample } = await olga.act('sample/take', { batch: number, increments: 10, mass: '480 g', split_by: 'riffle', where: `pack ${pack + 1}` });
    for (const read of digits) {
      const { answer: portion } = await mira.act('sample/portion', { sample, salt, water: '1000.0 g', by: 'dry mass' });
      results.push({ portion, analyte: 'Ca', method: 'M-04', digits: read, unit: 'mmol/kg' });
    }
  }
  const { answer: run } = await mira.act('results/enter', { results });
  const page = await at('mira');
  await page.goto('/tests/homogeneity' + query({ batch: number }));
  const kinds = page.getByLabel('Constituent and method');
  const offered = async () => (await kinds.locator('option').allTextContents()).find((text) => text.startsWith('Ca by M-04'));
  const before = Number(/(\d+) result/.exec((await offered()) ?? '0 results')[1]);
  await sten.act('results/check', { run });
  await page.reload();
  await expect.poll(offered).toBe(`Ca by M-04, ${before + 6} results`);
  await kinds.selectOption('Ca by M-04');
  await page.getByRole('button', { name: /^Take \d units into the table$/ }).click();
  const rows = await page.getByRole('table', { name: 'Results of the units, in mmol/kg' }).locator('tbody tr').count();
  expect(rows).toBeGreaterThanOrEqual(3);
  const judged = page.waitForRequest(/compute\/sample\/homogeneity/);
  await page.getByRole('button', { name: `Judge ${rows} units` }).click();
  const file = (await judged).postDataJSON().files.FILE[0].text;
  expect(file).toContain(`Ca by M-04, batch ${number}, a unit for each sample`);
  // The third pack, twice, as made-up water; its salt is weighed to 0.01 g of some 43.
  const [, once, again] = file.trimEnd().split('\n').at(-1).split(',').map(Number);
  expect(once).toBeCloseTo(10.9, 2);
  expect(again).toBeCloseTo(10.91, 2);
  await expect(page.getByText('The units are not alike for the goal of 2 % to each side.')).toBeVisible();
});

test('the value of a curve is brought into the entry as a draft, and is saved only there', async ({ works, at }) => {
  const page = await at('mira');
  const asking = await works.ask('mira');
  const { id: number } = (await asking.get('/api/v1/records' + query({ kind: 'batch', state: 'under test' }))).rows[0];
  const { portions, runs } = (await asking.get('/api/v1/view/results/show' + query({ run: number }))).result;
  const portion = `${portions[0].sample}/${portions[0].number}`;
  const written = async () => (await asking.get('/api/v1/view/results/show' + query({ run: number }))).result.runs.length;
  await page.goto('/tests/titration');
  await page.getByRole('button', { name: 'Invented example: alkalinity' }).click();
  await page.getByRole('button', { name: 'Read the curve' }).click();
  const said = /^Alkalinity (\d+\.\d) ± /.exec((await page.getByText(/^Alkalinity \d/).textContent()).trim());
  await page.getByLabel('Batch', { exact: true }).selectOption(number);
  await page.getByLabel('Test portion', { exact: true }).selectOption(portion);
  await page.getByRole('button', { name: /^Bring 2\.\d+ meq\/kg into the entry$/ }).click();
  const cell = page.getByLabel(`${portion}, alkalinity, in meq/kg`);
  await expect(cell).toHaveValue(/^2\.\d{4}$/);
  expect(Math.abs(Number(await cell.inputValue()) * 1000 - Number(said[1]))).toBeLessThan(0.1);
  await expect(page.getByText(/from the curve “.*”, U 0\.00\d+ meq\/kg for 95 %/)).toBeVisible();
  expect(await written()).toBe(runs.length); // nothing was sent
  await page.reload(); // the draft is not lost
  await expect(cell).toHaveValue(/^2\.\d{4}$/);
  await cell.fill('2.31'); // what is typed over it is no longer said to come from a curve
  await expect(page.getByText(/from the curve “/)).toHaveCount(0);
  await page.goBack();
  await expect(page.getByRole('heading', { name: 'Titration curve' })).toBeVisible();
  expect(await written()).toBe(runs.length);
});

test('the columns of a table are said beside its first rows, kept, and proposed for the next table', async ({ works, at }) => {
  const [olga, mira] = await Promise.all(['olga', 'mira'].map((id) => works.ask(id)));
  const tested = (await mira.get('/api/v1/records?kind=test_portion&limit=500')).rows.find((row) => !row.body.set_aside);
  const page = await at('mira');
  await page.goto('/tests/import');
  const heads = 'Vial;Calcium found;Remark\n';
  const table = (portion, digits) => ({ name: 'table.csv', mimeType: 'text/csv', buffer: Buffer.from(`${heads}${portion};${digits};=1+1\n`) });
  await page.getByLabel('Table', { exact: true }).setInputFiles(table(tested.id, '412,3'));
  await expect(page.getByText('The table cannot be read by this yet')).toBeVisible();
  await expect(page.getByRole('cell', { name: '=1+1' })).toBeVisible(); // a formula stays text
  const show = page.getByRole('button', { name: 'Show what would be imported' });
  await expect(show).toBeDisabled();
  await page.getByLabel('What column Vial is').selectOption('sample');
  await page.getByLabel('What column Calcium found is').selectOption('readings of one analyte');
  await page.getByLabel('Analyte of column Calcium found').fill('Ca');
  await page.getByLabel('Analyte of column Calcium found').press('Tab');
  await page.getByLabel('Unit of column Calcium found').fill('mg/L');
  await page.getByLabel('Unit of column Calcium found').press('Tab');
  await page.getByText('comma, 12,5').last().click();
  await expect(page.getByText('The table cannot be read by this yet')).toHaveCount(0);
  await page.getByText('Keep this for the next table with these heads').click();
  await page.getByLabel('Name of this map').fill('vials of room 2');
  await page.getByRole('button', { name: 'Keep it under this name' }).click();
  await expect.poll(async () => (await mira.get('/api/v1/records?kind=column_map')).total).toBe(1);
  await page.getByLabel('Method').selectOption({ index: 1 });
  await show.click();
  await expect(page.getByText('What would be imported', { exact: true })).toBeVisible();
  // The next table with these heads: nothing is to be said any more.
  await page.reload();
  await page.getByLabel('Table', { exact: true }).setInputFiles(table('tube 9', '411,8'));
  await expect(page.getByText(/Proposed by the kept map 'vials of room 2'/)).toBeVisible();
  await page.getByLabel('Method').selectOption({ index: 1 });
  await show.click();
  await expect(page.getByLabel('Test portion behind tube 9')).toBeVisible();
  expect(olga.id).toBe('olga');
});

test('duplicates far apart are remarked while they are typed, and on the page of their run', async ({ works, at }) => {
  const asking = await works.ask('mira');
  const { rows: runs } = await asking.get('/api/v1/records?kind=run&state=read');
  const run = runs.find((r) => r.body.results.length > 1 && !r.body.file);
  const { batch, method, portion, analyte, digits } = run.body.results[0];
  const page = await at('mira');
  await page.goto('/tests/enter' + query({ batch, method }));
  await page.getByLabel(new RegExp(`^${portion}, ${analyte}, in`)).fill((Number(digits) * 1.2).toFixed(3));
  await expect(page.getByText(/% apart, and the method's repeatability allows .* two more are wanted/).first()).toBeVisible();
  await page.getByRole('button', { name: 'Enter 1 result as one run' }).click();
  await expect(page.getByRole('heading', { name: /^Run R/ })).toBeVisible();
  await expect(page.getByText(/% apart, and the method's repeatability allows/).first()).toBeVisible();
});

test('a person changes their own password and stays signed in here', async ({ works, at }) => {
  const page = await at('sten');
  const elsewhere = await works.ask('sten');
  await page.getByRole('button', { name: /Sten|S\. / }).first().click();
  await page.getByRole('button', { name: 'Change my password' }).click();
  const dialog = page.getByRole('dialog');
  await dialog.getByLabel('Current password').fill('not the password of sten');
  await dialog.getByLabel('New password', { exact: true }).fill('too short');
  await expect(dialog.getByText(/15 characters or more; this has/)).toBeVisible();
  await dialog.getByLabel('New password', { exact: true }).fill('another invented password of sten');
  await dialog.getByLabel('The new password once more').fill('another invented password of sten');
  await dialog.getByRole('button', { name: 'Change my password' }).click();
  await expect(dialog.getByText(/the current password of sten is not right/)).toBeVisible();
  await dialog.getByLabel('Current password').fill('an invented password of sten');
  await dialog.getByRole('button', { name: 'Change my password' }).click();
  await expect(dialog).toHaveCount(0);
  expect((await elsewhere.ask('GET', '/api/v1/today')).status).toBe(401);
  await page.goto('/tests');
  await expect(page.getByRole('heading', { name: 'Tests' }).first()).toBeVisible();
  await page.goto('/trail?person=sten');
  await expect(page.getByText('person password').first()).toBeVisible();
});

test('what stands in the way of a release is told before anybody signs, and only what is taken is offered', async ({ works, at }) => {
  const asking = await works.ask('quin');
  const number = (await asking.get('/api/v1/records?kind=batch&state=ready')).rows[0].id;
  const { result: shown } = await asking.get('/api/v1/view/release/show' + query({ batch: number }));
  await asking.act('release/decide', { batch: number, decision: 'hold', shown: shown.mark }, { signed: true });
  const olga = await works.ask('olga');
  await olga.act('departure/raise', { batch: number, what: 'a pack was found torn' });
  const page = await at('quin');
  await page.goto(`/release/${number}`);
  await expect(page.getByText('A release would not be taken from you now:')).toBeVisible();
  await expect(page.getByText(/departure .* is open: a pack was found torn/).first()).toBeVisible();
  await expect(page.getByRole('radio', { name: 'release', exact: true })).toHaveCount(0);
  await expect(page.getByRole('radio', { name: 'reject', exact: true })).toHaveCount(1);
  await expect(page.getByRole('radio', { name: 'hold', exact: true })).toHaveCount(0);
});
