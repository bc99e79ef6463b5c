// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import { fieldsOf, inPageWords, kRoles, namesIn, titleOf, withColumn, type MappedColumn } from './column-map';

const column = (letters: string, more: Partial<MappedColumn>): MappedColumn => ({ column: letters, head: '', role: 'ignored', analyte: '', wavelength: '', unit: '', stated_unit: '', ...more });

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

test('advice names the fields of the page, not the keys of a file; other words stay as they are', () => {
  const said = [
    'D4: it is no element or constituent: mend it, or list it under names or other_analytes in the map',
    'B1 (Ca): the column has no unit: write unit = "mg/L", for example, into the map',
    "B1 (Ca (ppm)): 'ppm': ppm is by mass or by volume, which differ by 2.3 % in seawater: write ppm = \"by mass\" or ppm = \"by volume\" in the map; mend the unit in the file, or leave the unit row out of the map and give the unit there",
    "'Xx' is no element or constituent: write analyte = \"Ca\", or list it under other_analytes",
    'Points and commas stand in the numbers: declare decimal_sign and group_mark.',
    'The days can be read in several ways or in none: say date_form.',
  ].map(inPageWords);
  for (const text of said) expect(text).not.toMatch(/\b(other_analytes|analyte =|unit =|ppm =|decimal_sign|date_form)/);
  expect(said[1]).toBe('B1 (Ca): the column has no unit: write it into the field Unit of that column');
  const plain = 'method M-01 has check sample QC-35 read for Ca in each run, and this one has no reading of it';
  expect(inPageWords(plain)).toBe(plain);
});
