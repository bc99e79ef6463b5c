// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, it } from 'vitest';
import { changes, fieldInWords } from './changes';

it('names what differs and nothing else', () => {
  expect(changes({ state: 'planned', yield: { packs: 1 }, same: [1, 2] }, { state: 'weighing', yield: { packs: 2 }, same: [1, 2] })).toEqual([
    { field: 'state', before: 'planned', after: 'weighing' },
    { field: 'yield.packs', before: '1', after: '2' },
  ]);
});
it('what is new or gone has an empty side', () => {
  expect(changes({ a: 1 }, { b: [{ c: 2 }] })).toEqual([
    { field: 'a', before: '1', after: '' },
    { field: 'b.0.c', before: '', after: '2' },
  ]);
});
it('speaks of fields in words', () => expect(fieldInWords('additions.0.target_kg')).toBe('additions, 1, target kg'));
