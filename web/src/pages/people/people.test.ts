// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import { newPasswordFault, passwordFault } from './people';

test('a password has 15 bytes or more', () => {
  expect(passwordFault('fourteen chars')).toBe('15 characters or more; this has 14');
  expect(passwordFault('fifteen charss.')).toBe('');
  expect(passwordFault('ä'.repeat(8))).toBe('');
  expect(passwordFault('x'.repeat(1025))).toBe('1024 characters at most');
});

test('a new password is another one, long enough, and typed twice alike', () => {
  const now = 'an invented password';
  expect(newPasswordFault(now, '', '')).toEqual({ next: '', again: '' });
  expect(newPasswordFault(now, now, now).next).toMatch(/choose another/);
  expect(newPasswordFault(now, 'short', 'short').next).toMatch(/15 characters/);
  expect(newPasswordFault(now, 'another invented one', 'another invented on').again).toMatch(/not the same/);
  expect(newPasswordFault(now, 'another invented one', 'another invented one')).toEqual({ next: '', again: '' });
});
