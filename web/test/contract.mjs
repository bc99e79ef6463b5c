// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Asks every operation of api/openapi.yaml of a real server over real books, and holds what is asked and what is
// answered against the description. usage: node contract.mjs PROGRAM WORKS
import Ajv2020 from 'ajv/dist/2020.js';
import { readFileSync } from 'node:fs';
import { fileURLToPath } from 'node:url';
import { join } from 'node:path';
import { parse } from 'yaml';
import { Person, startServer, textOf } from './server.mjs';

const [program, works] = process.argv.slice(2);
const source = fileURLToPath(new URL('../../', import.meta.url));
const described = parse(readFileSync(join(source, 'api/openapi.yaml'), 'utf8'));
const ajv = new Ajv2020({ strict: false });
ajv.addSchema(described, 'api');
const faults = [];
const asked = new Map(); // operation: statuses

function validate(where, schema, data) {
  const pointer = schema.$ref ? { $ref: `api${schema.$ref}` } : JSON.parse(JSON.stringify(schema).replaceAll('"#/', '"api#/'));
  const check = ajv.compile(pointer);
  if (!check(data)) faults.push(`${where}: ${ajv.errorsText(check.errors)} in ${JSON.stringify(data).slice(0, 300)}`);
}
function resolved(part) {
  return part.$ref ? part.$ref.slice(2).split('/').reduce((at, key) => at[key], described) : part;
}
function see(method, path, body, status, type, answer) {
  const operation = described.paths[path.split('?')[0]]?.[method.toLowerCase()];
  const where = `${method} ${path}`;
  if (!operation) return faults.push(`${where} is not described`);
  asked.set(operation.operationId, [...(asked.get(operation.operationId) ?? []), status]);
  if (status < 400 && operation.requestBody) {
    validate(`${where} (asked)`, resolved(operation.requestBody).content['application/json'].schema, body);
  }
  for (const [name] of new URLSearchParams(path.split('?')[1] ?? '')) {
    if (!operation.parameters?.some((p) => p.name === name)) faults.push(`${where}: ${name} is not described`);
  }
  const answers = resolved(operation.responses[status] ?? operation.responses.default);
  const [media, content] = Object.entries(answers.content ?? {})[0] ?? [];
  if (media && !type.startsWith(media)) faults.push(`${where}: ${type} in place of ${media}`);
  if (media?.includes('json')) validate(`${where} (${status})`, content.schema, answer);
}

const query = (values) => '?' + new URLSearchParams(values);
const server = await startServer(program, works);
const at = {};
for (const id of ['nell', 'piet', 'olga', 'mira', 'sten', 'quin', 'ada']) {
  at[id] = await new Person(server.base, id, see).signIn();
}
const { nell, piet, olga, mira, sten, quin, ada } = at;

async function reads() {
  await nell.get('/api/v1/works');
  await nell.get('/api/v1/session');
  const { json: nobody } = await new Person(server.base, 'nobody', see).ask('GET', '/api/v1/session');
  if (nobody.nobody !== true || 'form_token' in nobody) faults.push(`nobody is ${JSON.stringify(nobody)}`);
  await nell.get('/api/v1/today');
  await nell.get('/api/v1/find?text=B26');
  await nell.get('/api/v1/records' + query({ kind: 'batch', state: 'released', descending: true, limit: 3 }));
  await nell.get('/api/v1/trail?limit=5&before=100');
  await nell.get('/api/v1/trail' + query({ person: 'quin' }));
  const { documents } = await nell.get('/api/v1/documents');
  for (const { id } of documents) await nell.get('/api/v1/document' + query({ id }));
  for (const path of ['/api/v1/records', '/api/v1/records?kind=lot&descending=no', '/api/v1/records?kind=lot&descending=', '/api/v1/record?kind=lot&id=none', '/api/v1/find?text=x', '/api/v1/document?id=none']) {
    const { status } = await nell.ask('GET', path);
    if (status < 400) faults.push(`${path}: ${status}`);
  }
}

async function shelves() {
  const lots = (number) => ({
    format: 'brinewright/1', kind: 'lots', invented: true,
    lot: [{ material: 'sodium chloride', number, stock: '40 kg', supplier: 'Contract salts', use_by: '2030-12-31' }],
  });
  await quin.act('supplier/keep', { name: 'Contract salts', contact: '1 Invented Lane', materials: ['sodium chloride'], review_by: '2030-12-31' });
  await nell.get('/api/v1/view/supplier/show' + query({ supplier: 'Contract salts' }));
  const salt = { name: 'contract salt', formula: 'NaCl', assay: { value: '99.8 %', u: '0.1 %' } };
  await nell.act('material/keep', { text: JSON.stringify({ format: 'brinewright/1', kind: 'materials', name: 'more', invented: true, material: [salt] }) });
  await nell.act('scale/keep', { id: 'W9', step: '1 g', capacity: '6 kg', checked_until: '2030-01-31' });
  const paper = { name: 'certificate.txt', media_type: 'text/plain', base64: Buffer.from('an invented certificate').toString('base64') };
  await piet.act('lot/receive', { text: JSON.stringify(lots('Q1')), certificates: [paper] });
  await piet.act('lot/receive', { text: JSON.stringify(lots('Q2')) });
  await piet.act('lot/accept', { lot: 'Q1' }, { wanted: 403 });
  await mira.act('lot/accept', { lot: 'Q1' });
  await mira.act('lot/hold', { lot: 'Q1' });
  await mira.act('lot/accept', { lot: 'Q1' });
  await mira.act('lot/end', { lot: 'Q1' });
  await mira.act('lot/refuse', { lot: 'Q2' });
}

/** A long computation that its page has named tells how far it is, and is called off. */
async function calledOff(files) {
  const id = 'contract-called-off';
  const named = new Person(server.base, nell.id, see);
  named.heads = { ...nell.heads, Call: id };
  const work = named.ask('POST', '/api/v1/compute/path/compare', { files, given: {} });
  let far;
  for (let turn = 0; turn < 100 && far?.status !== 200; turn++) {
    far = await nell.ask('GET', '/api/v1/call' + query({ id }));
    if (far.status !== 200) await new Promise((then) => setTimeout(then, 20));
  }
  await nell.ask('DELETE', '/api/v1/call' + query({ id }), {});
  const { status } = await work;
  if (status !== 403) faults.push(`a computation that was called off: ${status}`);
}

async function recipes() {
  const files = { TARGET: [{ document: 'example:natural.toml' }], materials: [{ document: 'books:materials' }] };
  const solved = (await nell.compute('recipe/solve', files, { draws: 500, brief: true })).result;
  const target = await nell.get('/api/v1/document?id=example:natural.toml');
  const part = solved.parts.map(({ material, g_per_kg_purified_water }) => ({ material, g_per_kg_purified_water }));
  const recipe = JSON.stringify({ format: 'brinewright/1', kind: 'recipe', name: 'contract', part });
  const order = { product: 'Contract salt', target: target.text, recipe };
  const { answer } = await nell.act('recipe/keep', order, { why: 'to hold the contract' });
  await nell.act('recipe/offer', { recipe: answer });
  await nell.act('recipe/take-back', { recipe: answer });
  await nell.act('recipe/offer', { recipe: answer });
  const { result } = await quin.get('/api/v1/view/recipe/show' + query({ recipe: answer }));
  await quin.act('recipe/approve', { recipe: answer, shown: result.mark }, { signed: true });
  await quin.act('recipe/retire', { recipe: answer });
  const kept = { RECIPE: [{ document: `recipe:${answer}:recipe` }], materials: [{ document: `recipe:${answer}:materials` }] };
  await nell.compute('path/run', kept, { hours: '2 h', temperature: '25 degC' });
  await nell.compute('path/compare', kept, {});
  await calledOff(kept);
  await nell.compute('blend/dry', kept, {});
  await nell.compute('blend/scatter', kept, { portion: ['50 g', '1 kg'] });
  await nell.compute('blend/mixing', kept, { sample: ['50 g', '1 kg'], results: 3, 'premix-for': 4, seen: ['Sr=3 %'] });
  await nell.compute('blend/budget', kept, { draws: 2000, mixed: true });
  const raised = [{ document: 'recipe:Tarnlea raised/1:recipe' }];
  await nell.compute('recipe/compare', { A: [kept.RECIPE[0]], B: raised }, {});
  const lots = [{ document: 'example:lots.toml' }];
  const example = { TARGET: files.TARGET, materials: [{ document: 'example:materials.toml' }], lots };
  const ofLots = (await nell.compute('recipe/solve', example, { choose: ['sodium chloride=A26-0219'], draws: 500 })).result;
  if (!ofLots.changes.some((change) => change.lot === 'A26-0219')) faults.push(`the chosen lot is not weighed: ${JSON.stringify(ofLots.changes)}`);
  await nell.compute('recipe/trade', { ...files, TARGET: [{ document: 'example:raised_omega.toml' }] }, { points: 2 });
}

async function waters() {
  const sea = [{ name: 'sea.toml', text: 'format = "brinewright/1"\nkind = "water"\nseawater = "35"\ntemperature = "25 degC"\n' }];
  await nell.compute('water/show', { WATER: sea }, { temperature: '20 degC' });
  await nell.compute('water/compare', { A: sea, B: sea }, {});
  await nell.compute('reading/convert', {}, { READING: ['refractometer 36.4 g/kg, dial sodium-chloride'], at: '25 degC' });
  await nell.compute('vat/plan', {}, { salinity: '35', volume: '1000 L' });
  await nell.compute('vat/correct', {}, { volume: '1000 L', holds: '33', wanted: '35' });
  await nell.compute('vat/mix', {}, { WATER: ['500 L of 35', '500 L of 30'] });
  const mixed = (await nell.compute('vat/mix', { WATER: [{ ...sea[0], lead: '500 L of ' }] }, { WATER: ['500 L of 30'] })).result;
  if (!(mixed.mol_per_kg.Na > 0.4 && mixed.mol_per_kg.Na < 0.5)) faults.push(`a mixed water holds ${JSON.stringify(mixed.mol_per_kg)}`);
  await nell.compute('calibration-fluid/plan', {}, { INSTRUMENT: 'conductivity', salinity: '35' });
  const example = (name) => [{ name, text: textOf(join(source, 'examples/laboratory', name)) }];
  const { result: curve } = await mira.compute('curve/read', { FILE: example('alkalinity.csv') }, {});
  if (curve.points.length !== 20 || curve.points.filter((p) => p.residual !== null).length !== 19) faults.push('the points of the curve do not come with their residuals');
  await mira.compute('curve/read', { FILE: example('chloride.csv') }, {});
  const { result: units } = await mira.compute('sample/homogeneity', { FILE: example('calcium_packs.csv') }, { goal: '2 %' });
  if (units.verdict !== 'homogeneous' || units.goal_percent !== 2) faults.push('the units of the example are not alike');
  await mira.compute('method/budget', { FILE: example('calcium_budget.toml') }, {});
  await mira.compute('results/preview', { FILE: example('icp_wide.csv'), map: example('icp_map.toml') }, { rows: 3 });
  await nell.compute('water/show', { WATER: [{ name: 'odd.toml', text: 'format = 1\n' }] }, {}, 400);
}

const step_of = (sheet, step) => sheet.additions.find((a) => a.step === step);

async function batch() {
  const { answer: number } = await olga.act('batch/plan', { recipe: 'Tarnlea raised', size: '250 kg', open_packages: true });
  let { result } = await olga.get('/api/v1/view/batch/show' + query({ batch: number }));
  const sheet = result.batch;
  if (sheet.changes.length > 0) await nell.act('batch/approve', { batch: number }, { signed: true });
  const lines = [];
  for (const a of sheet.additions) {
    const halves = a.scale === 'W3' && Number(a.target_kg) > 280 ? 2 : 1;
    for (let i = 0; i < halves; i++) lines.push({ step: a.step, lot: a.lot, net: `${(a.target_kg / halves).toFixed(5)} kg`, by_hand: true });
  }
  await olga.act('batch/weigh', { batch: number, weighings: lines });
  const first = step_of(sheet, 1);
  await olga.act('batch/correct', { weighing: `${number}/1.1`, net: `${(Number(first.target_kg) + Number(first.tolerance_kg) * 3).toFixed(5)} kg` });
  const { answer: departure } = await olga.act('departure/raise', { batch: number, step: 1, what: 'too much went in' });
  await mira.act('departure/answer', { departure, answer: 'far below what anybody could see' });
  await quin.act('departure/close', { departure });
  await olga.act('batch/blend', { batch: number });
  await olga.act('batch/close', { batch: number, packed: '247.5 kg', packs: 10, sampled: '0.5 kg', swept: '0.8 kg' });
  const { answer: sample } = await olga.act('sample/take', { batch: number, increments: 10, mass: '480 g', split_by: 'riffle' });
  await olga.get('/api/v1/paper/batch-sheet' + query({ batch: number }));
  await olga.get('/api/v1/view/batch/sheet' + query({ batch: number }));
  await olga.get('/api/v1/paper/sample-labels' + query({ sample }));
  await tests(number, sample, sheet);
}

async function tests(number, sample, sheet) {
  const salt = `${Number(sheet.blend_g_per_kg_purified_water).toFixed(2)} g`;
  const dissolve = async () => (await mira.act('sample/portion', { sample, salt, water: '1000.0 g', by: 'dry mass' })).answer;
  const portions = [await dissolve(), await dissolve()];
  await sten.act('sample/set-portion-aside', { portion: await dissolve() }, { why: 'spilt' });
  const of = (symbol) => sheet.water.find((p) => p.symbol === symbol).mol_per_kg * 1e3;
  const line = (portion, analyte, method, unit) => ({ portion, analyte, method, digits: of(analyte).toFixed(4), unit });
  const enter = async (analyte, method, unit) =>
    (await mira.act('results/enter', { results: portions.map((p) => line(p, analyte, method, unit)) })).answer;
  const runs = [await enter('alkalinity', 'M-02', 'meq/kg'), await enter('Cl', 'M-03', 'mmol/kg'), await enter('Ca', 'M-04', 'mmol/kg')];
  const day = new Date().toISOString().slice(0, 10);
  const molar = { Na: 22.98977, Mg: 24.305, Ca: 40.078, K: 39.0983, Sr: 87.62, B: 10.81, SO4: 96.06 };
  const icp = Object.keys(molar);
  const row = (p) => `${p},${day},` + icp.map((s) => (of(s) * molar[s]).toPrecision(6)).join(',');
  const table = ['Sample,Measured,' + icp.map((s) => s + ' line').join(','), ',,' + icp.map(() => 'mg/kg').join(','), ...portions.map(row), `QC-35,${day},10780,1284,412,,,,`].join('\n');
  const order = { file_name: 'icp.csv', base64: Buffer.from(table).toString('base64'), map: textOf(join(source, 'examples/quarter/icp_map.toml')), batch: number, method: 'M-01' };
  const table0 = { file_name: order.file_name, base64: order.base64 };
  const { json: mapped } = await mira.ask('POST', '/api/v1/import/map', { ...table0, map: order.map });
  if (mapped.problem !== '' || mapped.columns[0].role !== 'sample') faults.push(`import/map: ${JSON.stringify(mapped).slice(0, 300)}`);
  await mira.act('results/keep-map', { name: 'contract instrument', map: mapped.map, head: mapped.head });
  const { json: proposed } = await mira.ask('POST', '/api/v1/import/map', table0);
  if (!/contract instrument/.test(proposed.from)) faults.push(`a kept map was not proposed: ${proposed.from}`);
  const preview = await mira.ask('POST', '/api/v1/import/preview', order);
  if (!preview.json.committable) faults.push(`preview: ${JSON.stringify(preview.json.problems)}`);
  runs.push((await mira.act('results/import', order)).answer);
  const beside = await mira.ask('POST', '/api/v1/entry/preview', { results: [{ ...line(portions[0], 'Ca', 'M-04', 'mmol/kg'), digits: (of('Ca') * 1.1).toFixed(4) }] });
  if (beside.status !== 200) faults.push(`entry/preview: ${JSON.stringify(beside.json)}`);
  const again = { results: portions.map((p) => line(p, 'alkalinity', 'M-02', 'meq/kg')) };
  const refused = await mira.ask('POST', '/api/v1/act/results/enter', { request: 'contract-entered-twice', why: '', order: again });
  if (refused.json?.field !== 'why' || !/digit for digit/.test(refused.json.title)) faults.push(`the same readings entered twice: ${JSON.stringify(refused.json)}`);
  await mira.act('results/correct-check', { run: runs[3], check_sample: 'QC-35', analyte: 'Ca', digits: '413' }, { why: 'misread' });
  await mira.act('results/correct', { run: runs[0], line: 1, digits: (of('alkalinity') * 1.0001).toFixed(4) }, { why: 'misread' });
  for (const run of runs) {
    await sten.act('results/check', { run });
    await sten.act('results/count', { run }, { signed: true });
  }
  await sten.act('results/set-aside', { run: runs[2], lines: [1, 2] }, { why: 'bubble in the cell' });
  await mira.get('/api/v1/view/results/show' + query({ run: number }));
  await mira.get('/api/v1/view/batch/explain' + query({ batch: number }));
}

async function release() {
  const ready = (await quin.get('/api/v1/records?kind=batch&state=ready')).rows[0].id;
  await quin.get('/api/v1/record' + query({ kind: 'batch', id: ready }));
  await quin.get('/api/v1/history' + query({ kind: 'batch', id: ready }));
  const shown = (await quin.get('/api/v1/view/release/show' + query({ batch: ready }))).result;
  const { choices } = await quin.get('/api/v1/decisions' + query({ batch: ready }));
  if (!choices.every((choice) => choice.taken)) faults.push(`a decision on the ready batch would be refused: ${JSON.stringify(choices)}`);
  const others = (await mira.get('/api/v1/decisions' + query({ batch: ready }))).choices;
  if (others.some((choice) => choice.taken || choice.hinders.length === 0)) faults.push('an analyst is offered a decision');
  if (shown.open.length > 0) faults.push(`the ready batch has open items: ${JSON.stringify(shown.open)}`);
  await quin.act('release/decide', { batch: ready, decision: 'release', shown: shown.mark }, { signed: true });
  const certificateOrder = { batch: ready, use_by: '2030-12-31', with_lots: true };
  const { result: certificateDraft } = await quin.get('/api/v1/view/certificate/draft' + query(certificateOrder));
  const draftPaper = await quin.get('/api/v1/paper/certificate-draft' + query(certificateOrder));
  if (!draftPaper.subarray(0, 5).equals(Buffer.from('%PDF-'))) faults.push('the draft of the certificate is no PDF');
  if ((await quin.ask('GET', '/api/v1/view/certificate/draft' + query({ batch: ready, with_lots: 'no' }))).status !== 400) faults.push('a flag that is neither true nor false was taken');
  const { answer: certificate } = await quin.act('certificate/issue', { ...certificateOrder, shown: certificateDraft.mark });
  const paper = await quin.get('/api/v1/paper/certificate' + query({ certificate }));
  if (!paper.subarray(0, 5).equals(Buffer.from('%PDF-'))) faults.push('the certificate is no PDF');
  const { body } = await quin.get('/api/v1/record' + query({ kind: 'certificate', id: certificate }));
  await quin.get('/api/v1/attachment' + query({ sha256: body.paper }));
  const genuine = await quin.get('/api/v1/view/certificate/verify' + query({ certificate, code: body.code }));
  if (!genuine.yes) faults.push('the certificate is not genuine');
  const { result: trace } = await quin.get('/api/v1/view/trace/show' + query({ id: certificate, element: 'Ca' }));
  if (!['method', 'result', 'run', 'test_portion', 'sample', 'weighing', 'lot', 'recipe'].every((kind) => trace.lines.some((line) => line.kind === kind))) faults.push('the trace of Ca leaves out a kind of record');
  await quin.get('/api/v1/view/trace/show' + query({ id: ready }));
  const draft = (await quin.get('/api/v1/view/mixing-sheet/draft' + query({ batch: ready, use_by: '2030-12-31' }))).result;
  await quin.act('mixing-sheet/sign', { batch: ready, use_by: '2030-12-31', shown: draft.mark }, { signed: true });
  await quin.get('/api/v1/paper/mixing-sheet' + query({ batch: ready }));
  await quin.act('certificate/withdraw', { certificate }, { why: 'to hold the contract' });
  await mira.get('/api/v1/view/chart/trend' + query({ analyte: 'Ca', method: 'M-01', recipe: 'Tarnlea raised' }));
  const whole = await quin.get('/api/v1/view/trail/verify');
  const against = whole.result.trail_mark;
  if (!whole.yes || !(await quin.get('/api/v1/view/trail/verify' + query({ against }))).yes) faults.push('the trail is not whole');
  const other = await quin.get('/api/v1/view/trail/verify' + query({ against: `${against.split('-')[0]}-0123456789abcdef` }));
  if (other.yes || other.result.fault_count !== 1) faults.push('a mark that is not in the trail was found in it');
  if ((await quin.ask('GET', '/api/v1/view/trail/verify?against=none')).status !== 400) faults.push('a mark that is none was taken');
}

async function rules() {
  await mira.act('method/keep', { text: textOf(join(source, 'examples/quarter/method-04.toml')) });
  await quin.act('limits/keep', { text: textOf(join(source, 'examples/quarter/limits-natural.toml')) }, { signed: true, why: 'looked at again' });
  await ada.act('person/add', { id: 'newt', name: 'N. Newt', duties: ['operator'], password: 'an invented password of newt' });
  await ada.act('person/add', { id: 'newt', name: 'N. Newt', duties: ['operator', 'receiving'] }, { why: 'takes in lots as well' });
  await ada.act('person/add', { id: 'ada', name: 'A. Tarn', duties: ['administrator', 'analyst'] }, { wanted: 403 });
  await nell.act('person/add', { id: 'nob', name: 'N. Body', duties: ['analyst'], password: 'an invented password of nob' }, { wanted: 403 });
  const newt = await new Person(server.base, 'newt', see).signIn();
  await newt.act('person/password', { new_password: 'too short' }, { signed: true, wanted: 400 });
  await newt.act('person/password', { new_password: 'another invented password of newt' }, { signed: true });
  await newt.get('/api/v1/today');
  await ada.act('person/stop', { person: 'newt' });
  await ada.ask('DELETE', '/api/v1/session', undefined);
}

for (const part of [reads, shelves, recipes, waters, batch, release, rules]) {
  await part().catch((wrong) => faults.push(`${part.name}: ${wrong.message}`));
}
await server.stop();
const operations = Object.values(described.paths).flatMap((path) => Object.values(path).map((o) => o.operationId));
for (const operation of operations) {
  const statuses = asked.get(operation) ?? [];
  if (!statuses.some((s) => s < 300)) faults.push(`${operation} was never answered well: ${statuses.join(', ') || 'not asked'}`);
}
for (const fault of faults) console.error(fault);
console.log(`contract: ${operations.length} operations, ${[...asked.values()].flat().length} questions, ${faults.length} faults`);
process.exit(faults.length > 0 ? 1 : 0);
