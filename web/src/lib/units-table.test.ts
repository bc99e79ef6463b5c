// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import example from '../../../examples/laboratory/calcium_packs.csv?raw';
import { emptyTable, fileOf, pastedAt, readUnits, tableOf } from './units-table';

test('the example is read whole and written as a file that says the same', () => {
  const table = tableOf(example, emptyTable());
  expect(table.rows.length).toBe(10);
  expect(table.columns).toBe(2);
  expect(table.unit).toBe('mg/kg');
  expect(table.invented).toBe(true);
  const read = readUnits(table, '.');
  expect(read.missing).toBe('');
  const again = tableOf(fileOf(table, read.units), emptyTable());
  expect(again.rows).toEqual(table.rows);
  expect(again.name).toBe(table.name);
});

test('a block grows the table, a name in the first column', () => {
  const table = pastedAt(emptyTable(), '412,4\t411,5\t412,0\n410,5\t411,4\t410,9', 9, 1);
  expect(table.columns).toBe(3);
  expect(table.rows.length).toBe(11);
  expect(table.rows[10]?.cells).toEqual(['410.5', '411.4', '410.9']);
  expect(pastedAt(emptyTable(), 'P01\nP02', 0, 0).rows[1]?.name).toBe('P02');
});

test('what keeps it from being judged is said cell by cell', () => {
  const table = { ...emptyTable(), rows: [{ name: 'a', cells: ['1', ''] }, { name: 'a', cells: ['< 3', 'x'] }] };
  const read = readUnits(table, '.');
  expect([...read.wrong.keys()]).toEqual(['0:1', '1:0', '1:1', '1:name']);
  expect(read.missing).toBe('4 cells are to be mended');
  expect(readUnits(emptyTable(), '.').missing).toBe('Three units or more, ten are usual; there are 0');
});
