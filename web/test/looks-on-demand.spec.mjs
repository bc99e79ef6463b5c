// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What opens on demand, at three sizes and in both themes: dialogs, filled forms, errors beside their fields, conflicts,
// and empty places.
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { expect, test } from './desk.mjs';
import { first, listen, look, settled, told } from './look.mjs';

const query = (values) => '?' + new URLSearchParams(values);
const kPatience = 15_000; // ms for each step; one that fails is told with the others
const kMap = readFileSync(fileURLToPath(new URL('../../examples/quarter/icp_map.toml', import.meta.url)), 'utf8');

/** What the books need beside the working day: an offered recipe, a departure to answer, one who is stopped. */
async function prepared(works) {
  const ids = ['nell', 'quin', 'olga', 'mira', 'ada', 'piet'];
  const people = Object.fromEntries(await Promise.all(ids.map(async (id) => [id, await works.ask(id)])));
  const { nell, quin, olga, piet } = people;
  const rows = async (kind, state) => (await quin.get('/api/v1/records' + query({ kind, state, limit: 50 }))).rows;
  const one = async (kind, state) => (await rows(kind, state))[0].id;
  const kept = { target: await nell.get('/api/v1/document?id=recipe:Tarnlea raised/1:target'), recipe: await nell.get('/api/v1/document?id=recipe:Tarnlea raised/1:recipe') };
  const { answer: recipe } = await nell.act('recipe/keep', { product: 'Tarnlea raised', target: kept.target.text, recipe: kept.recipe.text }, { why: 'a little more alkalinity, as three customers asked' });
  await nell.act('recipe/offer', { recipe });
  const weighing = await one('batch', 'weighing');
  await olga.act('departure/raise', { batch: weighing, step: 2, what: 'the bag of the second step was torn, about 20 g lay on the floor and were weighed anew' });
  const text = JSON.stringify({ format: 'brinewright/1', kind: 'lots', invented: true, lot: [{ material: 'sodium chloride', number: 'L26-9001', stock: '25 kg', supplier: 'an invented supplier', use_by: '2030-12-31' }] });
  await piet.act('lot/receive', { text });
  const runs = await rows('run', '');
  return {
    people,
    recipe,
    weighing,
    planned: await one('batch', 'planned'),
    ready: await one('batch', 'ready'),
    released: await one('batch', 'released'),
    held: await one('batch', 'on hold'),
    tested: await one('batch', 'under test'),
    run: runs.find((r) => r.state === 'read') ?? runs[0],
    checked: runs.find((r) => r.body.checks.length > 0),
  };
}

/** Each: who, where, and what is done there until it is in sight. */
function states(of) {
  const button = (page, name) => page.getByRole('button', { name }).first();
  const dialog = (page) => page.getByRole('dialog').last();
  return [
    ['nell', 'plan a batch', '/batches?plan=yes', async (page) => {
      await dialog(page).getByLabel('Recipe version').selectOption('Tarnlea raised/1');
      await dialog(page).getByLabel('Size of the blend').fill('25O');
      await dialog(page).getByText('Choose lots yourself').click();
      await dialog(page).getByLabel('sodium chloride', { exact: true }).waitFor();
    }],
    ['nell', 'keep a version without a reason', '/recipes/workbench?target=example:raised_omega.toml', async (page) => {
      await page.getByText('whole answer').first().waitFor();
      await page.getByRole('button', { name: 'Keep as version', exact: true }).click();
      await button(page, /^Keep as version of/).click();
      await page.getByText('Write the reason; it stands in the trail').waitFor();
    }],
    ['nell', 'scoops with their budget', '/recipes/scoops?recipe=Tarnlea%20raised/1', async (page) => {
      await page.getByLabel('Draws', { exact: true }).fill('5000');
      await button(page, 'Draw the budget').click();
      await page.getByRole('heading', { name: 'The way to the promise' }).waitFor();
      for (const twin of await page.locator('figure summary').all()) await twin.click();
      await page.getByRole('table', { name: 'Which step brings how much of the variance' }).first().waitFor();
    }],
    ['nell', 'scoops larger than their container', '/recipes/scoops?recipe=Tarnlea%20raised/1', async (page) => {
      await page.getByText('too often outside').first().waitFor();
      await page.getByLabel('Second portion').fill('30 kg');
      await page.getByText(/is not taken from a container of 20 kg/).waitFor();
    }],
    ['nell', 'the curves called off', '/recipes/workbench?target=example:raised_omega.toml', async (page) => {
      await page.getByText('whole answer').first().waitFor();
      await page.getByLabel('Points of calcium').fill('101');
      await button(page, 'Draw the curves').click();
      await page.getByText(/^Working out the curves/).waitFor();
      await button(page, 'Cancel').click();
      await page.getByText('Called off; what stood before still stands.').waitFor();
    }],
    ['nell', 'sign the lot adjustment', `/batches/${of.planned}`, async (page) => {
      await button(page, /lot adjustment .* and sign it/).click();
      await dialog(page).getByRole('button', { name: /^Sign/ }).click();
      await page.getByText('Type the password again to sign').waitFor();
    }],
    ['nell', 'ways of the vat', '/recipes/vat?part=ways', async (page) => {
      await button(page, 'Lay the ways side by side').click();
      await page.getByRole('table', { name: 'The way in' }).waitFor({ timeout: 60_000 });
    }],
    ['nell', 'answer a departure', `/batches/${of.weighing}`, async (page) => {
      await button(page, /^Answer D/).click();
      await dialog(page).getByLabel('Answer').waitFor();
    }],
    ['quin', 'approve a recipe', `/recipes/${of.recipe}`, async (page) => {
      await button(page, /^Read and approve/).click();
      await dialog(page).getByText('The target as it is kept').click();
    }],
    ['quin', 'decide with the evidence', `/release/${of.ready}`, async (page) => {
      await page.getByText('hold', { exact: true }).last().click();
      await button(page, /^Read it once more and sign/).click();
      await dialog(page).getByRole('button', { name: /^Sign/ }).click();
      await dialog(page).getByText('Write the reason; it is signed with the decision').waitFor();
    }],
    ['quin', 'issue a certificate', `/release/${of.released}`, async (page) => {
      await button(page, 'Issue it anew').click();
      await dialog(page).getByLabel('Use by').fill('31.12.2030');
      await dialog(page).getByText('Write the day as 2028-06-30').waitFor();
    }],
    ['quin', 'withdraw a certificate', `/release/${of.released}`, async (page) => {
      await button(page, /^Withdraw /).click();
      await dialog(page).getByLabel('Reason').waitFor();
    }],
    ['quin', 'sign a mixing sheet', `/release/${of.released}`, async (page) => {
      await page.getByLabel('Use by').last().fill('2030-12-31');
      await button(page, 'Show it before signing').click();
      await dialog(page).getByRole('button', { name: /^Sign/ }).waitFor();
    }],
    ['quin', 'the evidence has changed', `/release/${of.held}`, async (page) => {
      await page.getByText('reject', { exact: true }).last().click();
      await button(page, /^Read it once more and sign/).click();
      const { runs } = (await of.people.mira.get('/api/v1/view/results/show' + query({ run: of.held }))).result;
      const counted = runs.find((run) => run.results.some((r) => r.state === 'counted'));
      await of.people.mira.act('results/set-aside', { run: counted.number, lines: [counted.results.find((r) => r.state === 'counted').line] }, { why: 'bubble in the cell' });
      await dialog(page).getByLabel('Reason').fill('as the evidence proposes');
      await dialog(page).getByLabel(/^Password/).fill('an invented password of quin');
      await dialog(page).getByRole('button', { name: /^Sign/ }).click();
      await dialog(page).getByRole('alert').waitFor();
    }],
    ['olga', 'raise a departure', `/batches/${of.weighing}`, async (page) => {
      await button(page, 'Raise a departure').click();
      await dialog(page).getByLabel('Addition').selectOption({ index: 2 });
    }],
    ['olga', 'correct a weighing', `/batches/${of.weighing}`, async (page) => {
      await button(page, /weighings one by one/).click();
      await button(page, /^Correct /).click();
      await dialog(page).getByLabel('Net mass as it was').fill('1.2.3');
    }],
    ['olga', 'another lot on the scale', `/batches/${of.weighing}/weigh`, async (page) => {
      await page.getByLabel(/Lot on the bag/).fill('X99-0000');
      await page.getByLabel(/Lot on the bag/).press('Enter');
      await page.locator('#lot-says').waitFor();
    }],
    ['olga', 'the person and their wishes', '/', async (page) => {
      await page.getByRole('button', { name: 'O. Brae' }).click();
      await dialog(page).getByText('Your decimal sign').waitFor();
    }],
    ['piet', 'receive a lot', '/materials', async (page) => {
      await button(page, 'Receive a lot').click();
      await dialog(page).getByLabel('Lot number').fill('L26-9002');
      await dialog(page).getByLabel('Use by').fill('30.9.2027');
      await dialog(page).getByLabel(/^Assay \(/).fill('99.2');
      await dialog(page).getByLabel('Assay, again').fill('92.9');
      await dialog(page).getByText('not what was typed before').waitFor();
    }],
    ['mira', 'judge a lot', '/materials/lots/L26-9001', async (page) => button(page, /^Accept lot/).waitFor()],
    ['mira', 'import with problems', `/tests/import${query({ batch: of.tested })}`, async (page) => {
      await page.getByLabel('Method', { exact: true }).selectOption('M-01');
      const table = ['Sample,Measured,Na line,Mg line,Ca line,K line,Sr line,B line,SO4 line', ',,mg/kg,mg/kg,mg/kg,mg/kg,mg/kg,mg/kg,mg/kg', 'S26-0000/9,2026-11-20,10780,1284,412,399,7.9,4.5,2712', 'QC-35,2026-11-20,10780,1284,500,,,,'].join('\n');
      await page.getByLabel('Table', { exact: true }).setInputFiles({ name: 'icp.csv', mimeType: 'text/csv', buffer: Buffer.from(table) });
      await page.getByText('The map as a file').click();
      await page.getByLabel('The column map', { exact: true }).fill(kMap);
      await button(page, 'Read the table by this text').click();
      await page.getByText('Proposed by the text below').waitFor();
      await button(page, 'Show what would be imported').click();
      await page.getByText('cannot be imported').waitFor();
    }],
    ['mira', 'a file that is too large', '/tests/titration', async (page) => {
      await page.getByLabel('File', { exact: true }).setInputFiles({ name: 'year.csv', mimeType: 'text/csv', buffer: Buffer.alloc(1024 * 1024, 'x') });
      await page.getByText(/512 KiB at most can be sent/).waitFor();
    }],
    ['mira', 'a cell that is no number', `/tests/enter${query({ batch: of.tested, method: 'M-01' })}`, async (page) => {
      await page.getByLabel(/, Na, in mg\/kg$/).first().fill('1O780');
      await page.getByText('this is no number').or(page.getByText(/^without /)).first().waitFor();
    }],
    ['mira', 'set lines aside', `/tests/runs/${of.run.id}`, async (page) => {
      await page.getByLabel(/^Line 1, /).check();
      await button(page, 'Set 1 line aside').click();
      await dialog(page).getByRole('button', { name: 'Set them aside' }).click();
    }],
    ['mira', 'correct a result', `/tests/runs/${of.run.id}`, async (page) => {
      await button(page, 'Open line 1').click();
      await dialog(page).getByLabel('Reading as its source has it').waitFor();
    }],
    ['mira', 'correct a check sample', `/tests/runs/${of.checked.id}`, async (page) => {
      await button(page, /^Correct QC-35/).click();
      await dialog(page).getByLabel('Reading as its source has it').waitFor();
    }],
    ['mira', 'a curve on its way to the entry', '/tests/titration', async (page) => {
      await button(page, 'Invented example: alkalinity').click();
      await button(page, 'Read the curve').click();
      await page.getByLabel('Batch', { exact: true }).selectOption(of.tested);
      await page.getByLabel('Test portion', { exact: true }).selectOption({ index: 1 });
      await button(page, /^Bring 2/).waitFor();
    }],
    ['mira', 'a value from a curve in the entry', '/tests/titration', async (page) => {
      await button(page, 'Read the curve').click();
      await page.getByLabel('Batch', { exact: true }).selectOption(of.tested);
      await page.getByLabel('Test portion', { exact: true }).selectOption({ index: 1 });
      await button(page, /^Bring 2/).click();
      await page.getByText(/from the curve/).first().waitFor();
    }],
    ['mira', 'units from the books', `/tests/homogeneity${query({ batch: of.released })}`, async (page) => {
      await page.getByLabel('Constituent and method').selectOption({ index: 1 });
      await page.getByText(/three or more are needed/).waitFor();
      await button(page, 'Fill in an invented example').click();
      await button(page, 'Judge 10 units').click();
      await page.getByRole('img', { name: /Units of the batch/ }).waitFor();
    }],
    ['ada', 'a person', '/people?person=olga', async (page) => {
      await dialog(page).getByLabel('New password').fill('too short');
      await dialog(page).getByText('15 characters or more; this has 9').waitFor();
    }],
    ['ada', 'stop a person', '/people?person=olga', async (page) => {
      await button(page, 'Stop olga instead').click();
      await dialog(page).getByLabel('Reason').waitFor();
    }],
    ['ada', 'the session has ended', '/people', async (page) => {
      await page.context().clearCookies();
      await page.getByLabel('Short name').fill('wren');
      await page.getByLabel('Name, as papers print it').fill('W. Invented');
      await page.getByLabel('operator').check();
      await page.getByLabel('Password', { exact: true }).fill('an invented password of wren');
      await page.getByLabel('The password once more').fill('an invented password of wren');
      await button(page, 'Add this person').click();
      await dialog(page).getByRole('button', { name: 'Sign in' }).waitFor();
    }],
    // Empty places.
    ['sten', 'no batch like this', '/batches?state=rejected&begins=Z', async (page) => page.getByText('None like this').waitFor()],
    ['sten', 'nothing found', '/find?text=zzzz', async (page) => page.getByText('Nothing begins so').waitFor()],
    ['sten', 'no tests yet', `/tests?batch=${of.planned}`, async (page) => page.getByText('No test portions yet').waitFor()],
    ['sten', 'a batch that is none', '/batches/B99-0001', async (page) => page.getByRole('alert').waitFor()],
    ['sten', 'a run that is none', '/tests/runs/R99-0001', async (page) => page.getByRole('alert').or(page.getByText(/There is no run/)).first().waitFor()],
    ['sten', 'no entries in the trail', '/trail?person=nobody', async (page) => page.getByText('No entries').waitFor()],
    ['sten', 'no trend yet', '/tests/trend', async (page) => page.getByText('Choose an analyte').waitFor()],
    ['sten', 'what others have to do', `/release/${of.ready}`, async (page) => page.getByText('This waits for: quality manager.').waitFor()],
  ];
}

// Who shares a server, and the order of their states: so that two workers end at about the same time.
for (const group of [['nell'], ['mira'], ['quin', 'ada'], ['olga', 'piet', 'sten']]) {
  test(`dialogs, errors and empty places of ${group.join(', ')}`, async ({ works, at }) => {
    test.setTimeout(420_000);
    const of = await prepared(works);
    const pages = new Map();
    const faults = [];
    const mine = states(of).filter(([who]) => group.includes(who));
    for (const [who, what, address, open] of mine) {
      if (!pages.has(who)) {
        pages.set(who, await at(who, first));
        listen(pages.get(who));
      }
      const page = pages.get(who);
      page.setDefaultTimeout(kPatience);
      await page.goto(address);
      await page.locator('main').locator('h1, [role="alert"]').first().waitFor();
      await open(page).catch((why) => faults.push(`${what}: ${why.message.split('\n')[0]}`));
      await settled(page);
      faults.push(...(await look(page, `/${what}`)));
    }
    told(`dialogs, errors and empty places of ${group.join(', ')}`, `${mine.length} states`, faults);
    expect(faults).toEqual([]);
  });
}
