// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { massIn, readDay, readNumber } from './reading';

describe('a typed number', () => {
  it.each([
    ['1.25', '1.25', ''],
    ['1,25', '1.25', ''],
    ['1.2e-3', '0.0012', ''],
    ['1,2·10^-3', '0.0012', ''],
    ['12.480 kg', '12.480', 'kg'],
    ['19 350', '19350', ''],
    ['19\u202f350.25 mg/kg', '19350.25', 'mg/kg'],
    ['\u22120,4', '-0.4', ''],
    ['0,125', '0.125', ''],
    ['1.250', '1.250', ''],
  ])('%s is %s %s', (text, plain, unit) => {
    expect(readNumber(text, '.')).toEqual({ kind: 'number', plain, unit });
  });
  it('a comma before three digits is asked of who types points', () => {
    expect(readNumber('1,250', '.')).toEqual({ kind: 'ask', choices: ['1.250', '1250'], unit: '' });
    expect(readNumber('1,250', ',')).toEqual({ kind: 'number', plain: '1.250', unit: '' });
    expect(readNumber('1.250 kg', ',')).toEqual({ kind: 'ask', choices: ['1.250', '1250'], unit: 'kg' });
  });
  it.each(['1.234,5', '1 23', 'twelve', '.', '12 345 6', '1.2.3'])('%s is refused', (text) => {
    expect(readNumber(text, '.').kind).toBe('refused');
  });
  it('nothing typed is empty', () => expect(readNumber('  ', '.')).toEqual({ kind: 'empty' }));
});

it('masses are turned exactly', () => {
  expect(massIn('500', 'g', 'kg')).toBe('0.500');
  expect(massIn('0.01719', 'kg', 'g')).toBe('17.19');
  expect(massIn('1', 'L', 'kg')).toBeUndefined();
});

it('days are written one way', () => {
  expect(readDay('2026-02-28')).toBe('2026-02-28');
  for (const no of ['2026-02-30', '03/09/25', '2026-2-3']) expect(readDay(no)).toBeUndefined();
});
