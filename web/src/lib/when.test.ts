// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import { atScale } from './when';

test('a weighing of today stands with its time, one before the night with its day as well', () => {
  expect(atScale('2026-11-28T06:21:30.000Z', '2026-11-28T23:59:59.000Z')).toBe('06:21 UTC');
  expect(atScale('2026-11-27T23:59:30.000Z', '2026-11-28T00:00:01.000Z')).toBe('2026-11-27 23:59 UTC');
});
