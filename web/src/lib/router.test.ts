// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, it } from 'vitest';
import { match, type Route } from './router.svelte';

const route = (path: string): Route => ({ path, title: '', area: '', page: () => Promise.reject(new Error('not asked')) });
const routes = ['/', '/batches', '/batches/:id', '/batches/:id/weigh', '/records/:kind/:id*'].map(route);
const found = (path: string) => {
  const at = match(routes, path);
  return at && [at.route.path, at.of];
};

it('finds the page of an address', () => {
  expect(found('/')).toEqual(['/', {}]);
  expect(found('/batches/')).toEqual(['/batches', {}]);
  expect(found('/batches/B26-0142-K/weigh')).toEqual(['/batches/:id/weigh', { id: 'B26-0142-K' }]);
});
it('takes ids with slashes and spaces', () => {
  expect(found('/records/recipe/Tarnlea%20raised/1')).toEqual(['/records/:kind/:id*', { kind: 'recipe', id: 'Tarnlea raised/1' }]);
});
it('knows what is not there', () => {
  expect(found('/nowhere')).toBeUndefined();
  expect(found('/batches/x/y/z')).toBeUndefined();
  expect(found('/records/recipe')).toBeUndefined();
});
it('a broken escape is taken as it stands', () => expect(found('/batches/%E0%A4%A')).toEqual(['/batches/:id', { id: '%E0%A4%A' }]));
