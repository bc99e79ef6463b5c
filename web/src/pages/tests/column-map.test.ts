// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import { fieldsOf, kRoles, namesIn, titleOf, withColumn, type MappedColumn } from './column-map';

const column = (letters: string, more: Partial<MappedColumn>): MappedColumn => ({ column: letters, head: '', role: 'ignored', analyte: '', wavelength: '', unit: '', ...more });

test('one column is changed and the others stay as they were', () => {
  const columns = [column('A', { head: 'Sample', role: 'sample' }), column('B', { head: 'Ca [mg/L]', role: 'analyte', analyte: 'Ca', unit: 'mg/L' })];
  expect(withColumn(columns, { ...columns[1]!, analyte: 'Mg' })).toEqual([
    { column: 'A', role: 'sample' },
    { column: 'B', role: 'analyte', analyte: 'Mg', unit: 'mg/L' },
  ]);
});

test('what belongs to another role does not go along', () => {
  const was = column('B', { role: 'analyte', analyte: 'Ca', wavelength: '317.933', unit: 'mg/L' });
  expect(withColumn([was], { ...was, role: 'value' })).toEqual([{ column: 'B', role: 'value', unit: 'mg/L' }]);
  expect(withColumn([was], { ...was, role: 'ignored' })).toEqual([{ column: 'B', role: 'ignored' }]);
});

test('each role is offered once, and only readings and masses have a unit', () => {
  expect(new Set(kRoles.map((role) => role.value)).size).toBe(kRoles.length);
  expect(kRoles.filter((role) => fieldsOf(role.value).unit).map((role) => role.value)).toEqual(['analyte', 'value', 'sample-mass', 'final-mass', 'final-volume']);
});

test('a column without a head is called by its letters; a formula is a head like any other', () => {
  expect(titleOf(column('C', {}))).toBe('Column C');
  expect(titleOf(column('D', { head: '=1+1' }))).toBe('=1+1');
});

test('names are parted by commas, each once; a lone star would fit everything', () => {
  expect(namesIn(' QC-35, QC  40*,, QC-35 ,*')).toEqual(['QC-35', 'QC 40*']);
  expect(namesIn(' ')).toEqual([]);
});
