// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import type { ResultRow, ResultsShow } from '../api/views';
import { testedOf, unitsOf, usualUnit } from './units-of-batch';
import { readUnits } from './units-table';

const batch = { number: 'B26-0142-K', invented: true };
function shown(of: Array<[portion: string, analyte: string, molPerKg: string, state?: string, method?: string]>): ResultsShow {
  const results = of.map(([portion, analyte, mol_per_kg, state = 'counted', method = 'M-04'], i) => ({ line: i + 1, portion, sample: portion.split('/')[0], analyte, method, mol_per_kg, state, below_limit: false }) as ResultRow);
  const portions = [...new Set(of.map(([portion]) => portion))].sort().map((id) => ({ sample: id.split('/')[0], number: Number(id.split('/')[1]) }));
  return { version: 1, portions, runs: [{ number: 'R1', results }] } as unknown as ResultsShow;
}

test('samples are units where there are three, their portions the results; what nobody checked stays out', () => {
  const books = shown([
    ['S2/1', 'Ca', '0.010281'], ['S1/1', 'Ca', '0.0102704'], ['S1/2', 'Ca', '0.01027'], ['S2/2', 'Ca', '0.01029'], ['S3/1', 'Ca', '0.01030', 'checked'], ['S3/2', 'Ca', '0.01031'],
    ['S3/2', 'Ca', '0.02', 'entered'], ['S3/2', 'Ca', '0.02', 'set aside'], ['S1/1', 'Ca', '0.0104', 'counted', 'M-01'], ['S1/1', 'alkalinity', '0.0023'],
  ]);
  const tested = testedOf(books);
  expect(tested.map((t) => [t.key, t.results])).toEqual([['Ca by M-01', 1], ['Ca by M-04', 6], ['alkalinity by M-04', 1]]);
  expect(usualUnit(books, tested[1]!)).toBe('sample');
  const taken = unitsOf(books, tested[1]!, batch, 'sample', ',');
  expect(taken.lacks).toBe('');
  expect(taken.table.unit).toBe('mmol/kg');
  expect(taken.table.invented).toBe(true);
  expect(taken.table.rows).toEqual([
    { name: 'S1', cells: ['10,2704', '10,2700'] },
    { name: 'S2', cells: ['10,2810', '10,2900'] },
    { name: 'S3', cells: ['10,3000', '10,3100'] },
  ]);
  expect(readUnits(taken.table, ',').missing).toBe('');
  expect(unitsOf(books, tested[2]!, batch, 'sample', '.').table.unit).toBe('meq/kg');
});

test('what a batch lacks is said before it is taken', () => {
  const two = shown([['S1/1', 'Ca', '0.01'], ['S1/2', 'Ca', '0.0101']]);
  const [ca] = testedOf(two);
  expect(usualUnit(two, ca!)).toBe('portion');
  expect(unitsOf(two, ca!, batch, 'portion', '.').lacks).toBe('2 test portions with checked results: three or more are needed, ten are usual');
  expect(unitsOf(two, ca!, batch, 'sample', '.').lacks).toBe('1 sample with checked results: three or more are needed, ten are usual');
  const once = shown([['S1/1', 'Ca', '0.01'], ['S2/1', 'Ca', '0.0101'], ['S3/1', 'Ca', '0.0101'], ['S3/2', 'Ca', '0.0101']]);
  const taken = unitsOf(once, testedOf(once)[0]!, batch, 'sample', '.');
  expect(taken.lacks).toBe('a sample has one result only: each needs two or more');
  expect(testedOf(shown([['S1/1', 'Ca', '', 'counted']]))).toEqual([]);
});
