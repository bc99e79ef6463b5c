// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { readFileSync } from 'node:fs';
import { expect, test, vi } from 'vitest';
vi.mock('../api/session.svelte', () => ({ session: {} }));
import { areas, routes } from '../routes';
import { helpFor, kHelps } from './help';
import { kSources } from './sources';

test('every area has a help, and no help is of a page that is not there', () => {
  const paths = routes.map((route) => route.path);
  expect(Object.keys(kHelps).filter((path) => !paths.includes(path))).toEqual([]);
  const general = helpFor('/nowhere', '').what;
  for (const area of areas) expect(helpFor('/nowhere', area.name).what, area.name).not.toBe(general);
});

test('every help says what it is for and how it is used, and names sources that the data have', () => {
  const data = readFileSync(new URL('../../../data/sources.toml', import.meta.url), 'utf8');
  const named = new Set<string>();
  for (const route of routes) {
    const help = helpFor(route.path, route.area);
    expect(help.what.length, route.path).toBeGreaterThan(20);
    expect(help.steps.length, route.path).toBeGreaterThan(0);
    for (const key of help.sources ?? []) named.add(key);
  }
  for (const key of named) {
    expect(data.includes(`key = "${key}"`), key).toBe(true);
    expect(kSources[key], key).toBeTruthy();
  }
  expect(Object.keys(kSources).filter((key) => !named.has(key))).toEqual([]);
});
