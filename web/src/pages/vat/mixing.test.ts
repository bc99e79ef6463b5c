// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test, vi } from 'vitest';
const files: Record<string, string> = {
  'document:x': 'kind = "water"',
  'document:y': '{"kind":"water"}',
  'books:materials': '{"kind":"materials","material":[{"name":"a","formula":"NaCl"}]}',
  'recipe:1': '{"kind":"materials","material":[{"name":"a","formula":"NaCl"},{"name":"b"}]}',
  'recipe:2': '{"kind":"materials","material":[{"name":"a","formula":"KCl"}]}',
};
vi.mock('../waters/waters', () => ({
  waterFile: async (id: string) => ({ file: [{ document: id.split(' ')[0] }], materials: [{ document: id.split(' ')[1] ?? 'books:materials' }] }),
}));
vi.mock('../../api/client', () => ({ get: async (_: string, { id }: { id: string }) => ({ text: files[id] }) }));
import { mixGiven, phrase, ready, waterOf } from './mixing';

const one = { amount: '600', unit: 'L', of: 'typed', holds: '30', u: '', scale: '', celsius: '' };

test('a water is told with its uncertainty, its scale and its temperature', () => {
  expect(phrase(one)).toBe('600 L of 30');
  expect(phrase({ ...one, unit: 'kg', holds: '40.2', u: '0.3', scale: ' g/kg', celsius: '20' })).toBe('600 kg of 40.2 +- 0.3 g/kg, at 20 degC');
  expect(ready({ ...one, holds: '' })).toBe(false);
  expect(ready({ ...one, holds: '', of: 'document:x' })).toBe(true);
});

test('materials that two recipes share go along once', async () => {
  const salt = { recipe: [{ document: 'r' }], materials: [{ document: 'books:materials' }] };
  const asked = await mixGiven([one, { ...one, amount: '5', of: 'document:x' }, { ...one, of: 'document:y' }], '', salt);
  expect(asked.files['materials']).toEqual([{ document: 'books:materials' }]);
  expect(asked.files['WATER']).toEqual([
    { name: 'water 2.toml', text: 'kind = "water"', lead: '5 L of ' },
    { name: 'water 3.json', text: '{"kind":"water"}', lead: '600 L of ' },
  ]);
  expect(asked.given).toEqual({ at: '25 degC', WATER: ['600 L of 30'] });
});

test('materials of several recipes are put together, and refused where they differ', async () => {
  const salt = { recipe: [{ document: 'r' }], materials: [{ document: 'books:materials' }] };
  const asked = await mixGiven([one, { ...one, of: 'document:x recipe:1' }], '', salt);
  expect(JSON.parse(asked.files['materials']?.[0]?.text ?? '').material).toEqual([{ name: 'a', formula: 'NaCl' }, { name: 'b' }]);
  await expect(mixGiven([one, { ...one, of: 'document:x recipe:2' }], '', salt)).rejects.toThrow('a has other values');
});

test('a refusal is said at the water it speaks of', () => {
  const other = { ...one, holds: '99999' };
  expect(waterOf("'600 L of 99999': too much", [one, other])).toBe(1);
  expect(waterOf('two waters or more are needed to mix', [one, other])).toBe(-1);
});
