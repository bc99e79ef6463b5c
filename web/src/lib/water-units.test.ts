// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import { amountUnit, times } from './water-units.svelte';

test('a figure in another unit keeps its digits', () => {
  expect(times('0.01028', 1000)).toBe('10.28');
  expect(times('0.5459', 35450)).toBe('19352.155');
  expect(times('0', 40)).toBe('0');
  expect(times('', 40)).toBe('');
});
test('what has charges is counted in equivalents', () => expect([amountUnit('Ca').unit, amountUnit('alkalinity').unit]).toEqual(['mmol/kg', 'meq/kg']));
