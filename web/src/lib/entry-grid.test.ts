// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { cellKey, countInWords, filled, linesInWords, pasted, readCell, type GridRow } from './entry-grid';

const rows: GridRow[] = [
  { name: 'S26-0001-G/1', kind: 'portion' },
  { name: 'QC-35', kind: 'check' },
];

describe('a cell', () => {
  it.each([
    ['412,30', '412.30'],
    ['<0.5', '< 0.5'],
    [' < 0,5', '< 0.5'],
    ['\u22120.4', '-0.4'],
  ])('%s is %s', (text, digits) => expect(readCell(text, '.')).toEqual({ kind: 'digits', digits }));
  it.each(['<', '1,250', '4 mg/kg', 'n.d.', '1.2.3'])('%s is a fault', (text) => expect(readCell(text, '.').kind).toBe('wrong'));
});

it('filled cells are lines of one run', () => {
  const cells = { [cellKey('S26-0001-G/1', 'Ca')]: '412.3', [cellKey('QC-35', 'Ca')]: '411', [cellKey('QC-35', 'Mg')]: 'x' };
  expect(filled(rows, ['Ca', 'Mg'], cells, '.', { method: 'M-07', unit: 'mg/kg', dilution: '' })).toEqual({
    results: [
      { portion: 'S26-0001-G/1', analyte: 'Ca', digits: '412.3', method: 'M-07', unit: 'mg/kg' },
      { check_sample: 'QC-35', analyte: 'Ca', digits: '411', method: 'M-07', unit: 'mg/kg' },
    ],
    wrong: [{ row: 'QC-35', analyte: 'Mg', why: expect.any(String) }],
  });
});

it('check samples are counted by themselves: the results are those that somebody compares', () => {
  expect(countInWords(14, 3)).toBe('14 results and 3 readings of check samples');
  expect([countInWords(1, 0), countInWords(0, 1), countInWords(2, 1)]).toEqual(['1 result', '1 reading of a check sample', '2 results and 1 reading of a check sample']);
  const line = { analyte: 'Ca', method: 'M-07', digits: '1' };
  expect(linesInWords([{ ...line, portion: 'S26-0001-G/1' }, { ...line, check_sample: 'QC-35' }])).toBe('1 result and 1 reading of a check sample');
});

it('a pasted block fills from where it was put and stays inside the grid', () => {
  expect(pasted('1\t2\t3\r\n4\t5\t6\r\n7\t8\t9\n', rows, ['Ca', 'Mg'], { row: 0, column: 1 })).toEqual({
    [cellKey('S26-0001-G/1', 'Mg')]: '1',
    [cellKey('QC-35', 'Mg')]: '4',
  });
});
