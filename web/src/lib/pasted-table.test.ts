// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import { headValue, quoted, readTable } from './pasted-table';

test('a file with a head, names and rows', () => {
  const table = readTable('# format = "brinewright/1"\n# name = "Ten packs"\nunit,first,second\nP01,412.4,411.5\nP02,410.5,411.4\n');
  expect(headValue(table.head, 'name')).toBe('Ten packs');
  expect(headValue(table.head, 'unit')).toBe('');
  expect(table.names).toEqual(['unit', 'first', 'second']);
  expect(table.rows).toEqual([
    ['P01', '412.4', '411.5'],
    ['P02', '410.5', '411.4'],
  ]);
  expect(table.turned).toBe(false);
});

test('tabs and semicolons with decimal commas; the comma is turned', () => {
  expect(readTable('4,10\t187,56\n4,15\t190,25')).toEqual({ head: [], names: [], rows: [['4.10', '187.56'], ['4.15', '190.25']], turned: true });
  expect(readTable('V;E\n4,10;−3,5').rows).toEqual([['4.10', '-3.5']]);
  expect(readTable('4,10 187,56\n4,15 190,25').rows[1]).toEqual(['4.15', '190.25']);
});

test('where commas part the cells they stay what they are', () => {
  expect(readTable('4,10\n4,15').rows).toEqual([
    ['4', '10'],
    ['4', '15'],
  ]);
});

test('units that are numbers are rows, not names; quoted cells keep their marks', () => {
  expect(readTable('1,412.4,411.5\n2,410.5,411.4').names).toEqual([]);
  expect(readTable('unit,a,b\n"P, 1","4","5"').rows).toEqual([['P, 1', '4', '5']]);
  expect(quoted(' a "b" ')).toBe('"a \\"b\\""');
});
