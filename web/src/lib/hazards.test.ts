// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, it } from 'vitest';
import { phraseOf } from './hazards';

it('a statement ends with one stop, whether its phrase has one or not', () => {
  expect(phraseOf({ code: 'H319', text: 'Causes serious eye irritation' })).toBe('Causes serious eye irritation (H319).');
  expect(phraseOf({ code: 'H360FD', text: 'May damage fertility. May damage the unborn child.', of: 'boric acid' })).toBe('May damage fertility. May damage the unborn child (H360FD): boric acid.');
  expect(phraseOf({ code: '', text: 'Own words.' })).toBe('Own words.');
});
