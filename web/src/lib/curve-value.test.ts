// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { beforeEach, expect, test, vi } from 'vitest';
import type { Curve } from '../api/laboratory';
import { fits, valueIn } from './curve-value';
import { bring, dropDraft, keepDraft, readDraft } from './entry-draft';

const alkalinity = { method: 'alkalinity', alkalinity_umol_per_kg: 2486.137, standard_uncertainty_umol_per_kg: 1.92, expanded_uncertainty_umol_per_kg: 3.84 } as Curve;
const chloride = { method: 'end-point', titrated: 'chloride', mmol_per_kg: 546.0712, standard_uncertainty_mmol_per_kg: 0.31, expanded_uncertainty_mmol_per_kg: 0.62 } as Curve;

test('a curve is a reading in the unit of the method, and of what it titrated alone', () => {
  expect(valueIn(alkalinity, 'meq/kg')).toEqual({ digits: '2.4861', unit: 'meq/kg', expanded: '0.0038' });
  expect(valueIn(alkalinity, 'umol/kg')).toEqual({ digits: '2486.1', unit: 'umol/kg', expanded: '3.8' });
  expect(valueIn(chloride, 'mmol/kg')?.digits).toBe('546.07');
  expect(valueIn(chloride, 'meq/kg')).toBeUndefined();
  expect(valueIn(chloride, 'mg/kg')).toBeUndefined();
  expect(fits(alkalinity, 'alkalinity')).toBe(true);
  expect(fits(chloride, 'Cl')).toBe(true);
  expect(fits(chloride, 'Ca')).toBe(false);
  expect(fits({ ...chloride, titrated: 'amount' } as Curve, 'Ca')).toBe(true);
  expect(fits({ method: 'end-point' } as Curve, 'Ca')).toBe(false);
});

beforeEach(() => {
  const kept = new Map<string, string>();
  vi.stubGlobal('localStorage', { getItem: (key: string) => kept.get(key) ?? null, setItem: (key: string, value: string) => kept.set(key, value), removeItem: (key: string) => kept.delete(key) });
});

test('a value that is brought in keeps the other cells, and its origin while it stands', () => {
  keepDraft('B1', 'M-02', { cells: { other: '2.31' }, brought: {} });
  bring('B1', 'M-02', { row: 'S1/1', analyte: 'alkalinity' }, { cell: '2.4861', words: 'from a curve' });
  const draft = readDraft('B1', 'M-02');
  expect(draft.cells).toEqual({ other: '2.31', 'S1/1\u0000alkalinity': '2.4861' });
  expect(draft.brought['S1/1\u0000alkalinity']?.words).toBe('from a curve');
  draft.cells['S1/1\u0000alkalinity'] = '2.5';
  keepDraft('B1', 'M-02', draft);
  expect(readDraft('B1', 'M-02').brought).toEqual({});
  dropDraft('B1', 'M-02');
  expect(readDraft('B1', 'M-02')).toEqual({ cells: {}, brought: {} });
});
