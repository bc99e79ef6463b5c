// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import { noneYet, sheetNotYet } from './papers';

test('what is said of papers that are not there is true for the state of the batch', () => {
  expect(noneYet('B26-0003-5', 'released')).toBe('None yet. Batch B26-0003-5 is released: its certificate can be issued.');
  expect(noneYet('B26-0003-5', 'under test')).toBe('None yet. Batch B26-0003-5 is under test: a certificate is issued once it is released.');
  expect(noneYet('B26-0003-5', 'rejected')).toBe('None. Batch B26-0003-5 is rejected: no certificate is issued of it.');
  for (const state of ['planned', 'on hold', 'ready']) expect(sheetNotYet('B26-0003-5', state)).toContain(`is ${state}: a mixing sheet is signed once it is released.`);
  expect(sheetNotYet('B26-0003-5', 'released')).not.toContain('once it is released');
});
