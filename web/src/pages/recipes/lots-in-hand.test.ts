// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test, vi } from 'vitest';
vi.mock('../../api/client', () => ({ get: vi.fn() }));
import { inHand, lotTable } from './lots-in-hand';

test('a lot goes along with its own values and what is left of it', () => {
  const row = { body: { material: 'boric acid', number: 'A1', make_up: '{"assay":{"value":"100.01 %"}}' } };
  expect(lotTable(row, '12.5')).toEqual({ assay: { value: '100.01 %' }, material: 'boric acid', number: 'A1', state: 'accepted', stock: '12.5 kg' });
});

test('only accepted lots of materials that are on go along', () => {
  const lot = (material: string, number: string, state: string) => ({ material, number, state, stock: '1 kg' });
  const found = inHand([lot('a', '1', 'accepted'), lot('a', '2', 'refused'), lot('b', '3', 'accepted')], new Set(['a']));
  expect(found.rows).toEqual([{ material: 'a', number: '1', stock: '1 kg' }]);
  expect(JSON.parse(found.file.text ?? '').lot).toHaveLength(1);
});
