// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import { addressOfLine, phrases, since, traceAddress, treeOf, type TraceLine } from './trace';

const line = (depth: number, kind: string, id: string, more: Partial<TraceLine> = {}): TraceLine => ({
  depth,
  kind,
  id,
  text: '',
  version_pinned: null,
  version_now: null,
  changed_since: false,
  ...more,
});

test('lines become a tree by their depth, also where one is skipped', () => {
  const tree = treeOf([line(0, 'batch', 'B'), line(1, 'limits', 'L'), line(0, 'element', 'Ca'), line(1, 'method', 'M'), line(3, 'run', 'R'), line(2, 'result', 'R/1'), line(1, 'method', 'N')]);
  expect(tree.map((n) => n.line.id)).toEqual(['B', 'Ca']);
  expect(tree[1]?.under.map((n) => n.line.id)).toEqual(['M', 'N']);
  expect(tree[1]?.under[0]?.under.map((n) => n.line.id)).toEqual(['R', 'R/1']);
});

test('a sentence is cut at its parts, with short instants and digests', () => {
  expect(phrases(`issued by quin at 2026-11-11T06:27:00.000Z; paper SHA-256 ${'dd34fe1256c2f87c'.repeat(4)}; decision 1`)).toEqual([
    'issued by quin at 2026-11-11 06:27 UTC',
    'paper SHA-256 dd34fe1256c2f87c…',
    'decision 1',
  ]);
});

test('what has changed since is said, what has not is silent', () => {
  expect(since(line(0, 'batch', 'B'))).toBe('');
  expect(since(line(0, 'batch', 'B', { version_pinned: 2, version_now: 2 }))).toBe('');
  expect(since(line(0, 'batch', 'B', { version_pinned: 2, version_now: 3 }))).toBe('version 2 then, 3 now; nothing that counts here changed');
  expect(since(line(0, 'batch', 'B', { version_pinned: 2, version_now: 3, changed_since: true }))).toBe('changed since: version 2 then, 3 now');
  expect(since(line(0, 'result', 'R/1', { version_pinned: 2, version_now: 2, changed_since: true }))).toBe('no longer counts');
});

test('every line leads to a page', () => {
  expect(addressOfLine(line(2, 'result', 'R26-0009-H/10'), 'C')).toBe('/tests/runs/R26-0009-H');
  expect(addressOfLine(line(1, 'addition', 'B26-0003-5/9'), 'C')).toBe('/batches/B26-0003-5/sheet');
  expect(addressOfLine(line(0, 'element', 'SO4'), 'C26-0002-R/1')).toBe('/trace/C26-0002-R/1?element=SO4');
  expect(addressOfLine(line(2, 'weighing', 'B26-0003-5/9.1'), 'C')).toBe('/records/weighing/B26-0003-5/9.1');
  expect(traceAddress('B26-0003-5')).toBe('/trace/B26-0003-5');
});
