// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import { pieces } from './unbroken';

const wholes = (sentence: string) => pieces(sentence).filter((piece) => piece.whole).map((piece) => piece.text);

test('numbers of records and days hold together, whatever stands around them', () => {
  expect(wholes('Approve the lot adjustment of batch B26-0013-1')).toEqual(['B26-0013-1']);
  expect(wholes('result R26-0041-H/1, portion S26-0001-G/2, since 2026-11-28.')).toEqual(['R26-0041-H/1', 'S26-0001-G/2', '2026-11-28']);
  expect(wholes('calcium chloride 94-97')).toEqual(['94-97']);
});

test('words with a hyphen may break, and what is longer than a line has to', () => {
  expect(wholes('a made-up water')).toEqual([]);
  expect(wholes(`lot ${'A1-'.repeat(20)}9`)).toEqual([]);
  expect(wholes('')).toEqual([]);
});

test('the pieces together are the sentence', () => {
  for (const text of ['B26-0013-1', 'lot X26-1113 and B26-0001-9', 'none', '', '-5 %']) expect(pieces(text).map((piece) => piece.text).join('')).toBe(text);
});

test('looks through words without end once', () => {
  for (const endless of ['x', 'x/', 'x-', '.', '-']) expect(pieces(endless.repeat(200_000)).map((piece) => piece.text).join('')).toBe(endless.repeat(200_000));
});
