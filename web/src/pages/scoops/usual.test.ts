// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import type { Schemas } from '../../api/client';
import { kUnsaid, usualOf } from './usual';

const batch = (id: string, recipe: string, size_kg: string) => ({ kind: 'batch', id, version: 1, state: 'planned', title: '', body: { product: recipe.split('/')[0], recipe, size_kg } }) as unknown as Schemas['Row'];
const rows = [batch('B26-0003', 'B/1', '90'), batch('B26-0002', 'A/2', '250.00000000000003'), batch('B26-0001', 'A/1', '100')];

describe('the batch that scoops are taken of', () => {
  it.each([
    ['A/1', '', '100', 'as that of batch B26-0001'],
    ['A/2', '', '250', 'as that of batch B26-0002'],
    ['A/3', '', '250', 'as that of batch B26-0002, of A/2'],
    ['draft', '', '90', 'as that of batch B26-0003, of B/1'],
    ['A/1', 'B26-0002', '250', 'as that of batch B26-0002, of A/2'],
  ])('of %s, asked for %s: %s kg', (recipe, wanted, kg, said) => expect(usualOf(rows, recipe, wanted)).toEqual({ kg, said }));
  it('is said to be nobody’s where none is planned', () => expect(usualOf([], 'A/1')).toBe(kUnsaid));
});
