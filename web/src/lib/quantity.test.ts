// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { add, compare, decimal, plain, roundDigits, subtract } from './decimal';
import { dense, fixed, grouped, shown, signed, toDigits, withU } from './quantity';

const n = '\u202f';
const minus = '\u2212';

describe('value with uncertainty', () => {
  it.each([
    ['412.347', '1.236', '412.3 ± 1.2'],
    ['19353.2', '118.4', `19${n}350 ± 120`],
    ['0.001873', '0.0000996', `0.001${n}87 ± 0.000${n}10`],
    ['7.9', '0.996', '7.9 ± 1.0'],
    ['1290', '9.96', '1290 ± 10'],
    ['2.675', '0.0145', '2.675 ± 0.014'],
    ['-0.0004', '0.00031', `${minus}0.000${n}40 ± 0.000${n}31`],
    ['3.2', '47', '3 ± 47'],
    ['0.010848497795224342', '0.000022918408264480176', `0.010${n}848 ± 0.000${n}023`],
    ['1.5e-3', '2e-5', `0.001${n}500 ± 0.000${n}020`],
  ])('%s, %s is shown as %s', (value, u, text) => {
    expect(withU(value, u)).toBe(text);
  });
  it.each([
    ['412.347', '1.236', '412.3(12)'],
    ['412.347', '0.1236', '412.35(12)'],
    ['19353.2', '118.4', `19${n}350(120)`],
  ])('%s, %s is dense as %s', (value, u, text) => {
    expect(dense(value, u)).toBe(text);
  });
});

describe('digits', () => {
  it.each([
    ['1234', '1234'],
    ['12345', `12${n}345`],
    ['1234567.12345', `1${n}234${n}567.123${n}45`],
    ['-12', `${minus}12`],
  ])('%s is grouped as %s', (digits, text) => expect(grouped(digits)).toBe(text));
  it('what binary made of a tolerance is not shown', () => expect(shown('0.0006000000000000001', 6)).toBe('0.0006'));
  it('what is no number is shown as it is', () => expect(shown('not stated')).toBe('not stated'));
  it('ties go to even', () => {
    const two = (t: string) => plain(roundDigits(decimal(t)!, 2));
    expect([two('0.125'), two('0.135'), two('9.95'), two('0.0995')]).toEqual(['0.12', '0.14', '10', '0.10']);
  });
  it('sums are exact', () => {
    expect(plain(add(decimal('0.1')!, decimal('0.2')!))).toBe('0.3');
    expect(plain(subtract(decimal('12.36')!, decimal('12.480')!))).toBe('-0.120');
    expect(compare(decimal('0.30')!, decimal('0.3')!)).toBe(0);
  });
});

it('keeps the noughts behind where digits are wanted', () => {
  expect(toDigits('0.0700312', 2)).toBe('0.070');
  expect(toDigits(2.0, 2)).toBe('2.0');
  expect(toDigits('0.0996', 2)).toBe('0.10');
  expect(toDigits(0, 2)).toBe('0');
});
it('what rounds to nothing has no sign', () => {
  expect([fixed(-0.004, 2), fixed(-0.006, 2), fixed(0, 2)]).toEqual(['0.00', '-0.01', '0.00']);
  expect([signed(-0.0001, 2), signed(0.0001, 2), signed(1.2, 2), signed(-0.3, 2)]).toEqual(['0.00', '0.00', '+1.20', '\u22120.30']);
});
