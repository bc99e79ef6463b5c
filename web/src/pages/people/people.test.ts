// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import { passwordFault } from './people';

test('a password has 15 bytes or more', () => {
  expect(passwordFault('fourteen chars')).toBe('15 characters or more; this has 14');
  expect(passwordFault('fifteen charss.')).toBe('');
  expect(passwordFault('ä'.repeat(8))).toBe('');
  expect(passwordFault('x'.repeat(1025))).toBe('1024 characters at most');
});
