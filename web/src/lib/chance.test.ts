// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import { chance } from './chance';

test('nothing is certain and nothing impossible', () => {
  expect(chance(1)).toBe('> 99.9');
  expect(chance(0.99901)).toBe('> 99.9');
  expect(chance(0.999)).toBe('99.9');
  expect(chance(0.9805)).toBe('98.0');
  expect(chance(0.0009)).toBe('< 0.1');
  expect(chance(0)).toBe('< 0.1');
});
