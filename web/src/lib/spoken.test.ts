// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { spoken } from './spoken';

describe('notices on a page', () => {
  it('names fields in place of options', () => {
    expect(spoken('its uncertainty is not counted unless you state --anhydrous.')).toBe('its uncertainty is not counted unless you state "Salt free of water in the blend".');
    expect(spoken('which would delay (docs/explanation/dissolving.md).')).toBe('which would delay.');
    expect(spoken('drifts more slowly (--stone, --film).')).toBe('drifts more slowly.');
    expect(spoken('is for the dissolution path to say: path run.')).toBe('is for the dissolution path to say.');
  });
  it('leaves minus signs and words alone', () => expect(spoken('from -1.2 to 3 - and so on')).toBe('from -1.2 to 3 - and so on'));
});
