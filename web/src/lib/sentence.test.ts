// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import { joined, sentence, stopped, withMinus } from './sentence';

test('a remark becomes a sentence: one capital, one full stop', () => {
  expect(sentence('the lot adjustment is not approved')).toBe('The lot adjustment is not approved.');
  expect(sentence('departure D26-1 is open: spilt..')).toBe('Departure D26-1 is open: spilt.');
  expect(sentence('One sample.')).toBe('One sample.');
  expect(stopped('Ist das so?')).toBe('Ist das so?');
});

test('a symbol at the beginning stays as it is', () => {
  expect(sentence('pH is not tested')).toBe('pH is not tested.');
  expect(sentence('mg/L is a guess')).toBe('mg/L is a guess.');
  expect(sentence('B26-0001-X is on hold')).toBe('B26-0001-X is on hold.');
});

test('a minus is one, and a hyphen stays one', () => {
  expect(withMinus('charge balance -0.15 % of all (-2)')).toBe('charge balance \u22120.15 % of all (\u22122)');
  expect(withMinus('2026-11-27, B26-0001-7, M-01')).toBe('2026-11-27, B26-0001-7, M-01');
});

test('words are listed with "and" before the last', () => {
  expect(joined(['Sr'])).toBe('Sr');
  expect(joined(['Sr', 'Ca', 'F'])).toBe('Sr, Ca and F');
});
