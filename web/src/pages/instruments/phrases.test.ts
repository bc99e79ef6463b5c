// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { phraseOf } from './phrases';

describe('readings as phrases', () => {
  it('puts value, uncertainty and temperature where they belong', () => {
    expect(phraseOf({ id: 1, kind: 'nacl', shown: '36.4', u: '0.3', celsius: '22' })).toBe('refractometer 36.4 +- 0.3 g/kg, dial sodium-chloride, at 22 degC');
    expect(phraseOf({ id: 1, kind: 'conductivity', shown: '53.1', u: '', celsius: '' })).toBe('conductivity 53.1 mS/cm, uncompensated');
  });
  it('is silent until a value is typed', () => expect(phraseOf({ id: 1, kind: 'density', shown: '', u: '', celsius: '' })).toBeUndefined());
});
