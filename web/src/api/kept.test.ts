// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { beforeEach, expect, test, vi } from 'vitest';
import type { Schemas } from './client';
import { forget, keeper, keepPerson, keptAnswer, keptPerson, kLongest, kMost, kPlace } from './kept';

const shelf = new Map<string, string>();
vi.stubGlobal('localStorage', {
  getItem: (key: string) => shelf.get(key) ?? null,
  setItem: (key: string, text: string) => void shelf.set(key, text),
  removeItem: (key: string) => void shelf.delete(key),
});
const works: Schemas['Works'] = { version: 1, name: 'a works', laboratory: 'its laboratory', invented: true, program: '0' };
const person = (id: string) => ({ person: { id, name: id, duties: ['operator' as const] }, device: 'tablet', works });
const kNow = Date.parse('2026-03-01T10:42:00Z');

beforeEach(() => {
  shelf.clear();
  keepPerson(person('olga'), kNow);
});

test('an answer is kept with its time, under its address', () => {
  keeper('/sheet?batch=1')({ n: 1 }, kNow);
  expect(keptAnswer('/sheet?batch=1', kNow)).toEqual({ address: '/sheet?batch=1', at: '2026-03-01T10:42:00.000Z', answer: { n: 1 } });
  expect(keptAnswer('/sheet?batch=2', kNow)).toBeUndefined();
});

test('no secret is kept with the person', () => {
  keepPerson({ ...person('olga'), form_token: 'a token' } as ReturnType<typeof person>, kNow);
  expect(shelf.get(kPlace)).not.toContain('token');
});

test('it goes with the person: signed out, or another one there', () => {
  keeper('/a')(1, kNow);
  keepPerson(person('olga'), kNow + 1);
  expect(keptAnswer('/a', kNow)?.answer).toBe(1);
  keepPerson(person('omar'), kNow + 2);
  expect(keptAnswer('/a', kNow)).toBeUndefined();
  keeper('/a')(1, kNow);
  forget();
  expect(keptPerson(kNow)).toBeUndefined();
  expect(shelf.size).toBe(0);
});

test('an answer that comes after its person has gone is not kept', () => {
  const keep = keeper('/a');
  forget();
  keep(1, kNow);
  keepPerson(person('omar'), kNow);
  keep(1, kNow);
  expect(keptAnswer('/a', kNow)).toBeUndefined();
});

test('it lasts no longer than a session, and holds the last few answers only', () => {
  for (let i = 0; i <= kMost; i += 1) keeper(`/${i}`)(i, kNow);
  expect(keptAnswer('/0', kNow)).toBeUndefined();
  expect(keptAnswer('/1', kNow)?.answer).toBe(1);
  expect(keptAnswer('/1', kNow + kLongest - 1)?.answer).toBe(1);
  expect(keptAnswer('/1', kNow + kLongest)).toBeUndefined();
  expect(keptPerson(kNow + kLongest)).toBeUndefined();
});
