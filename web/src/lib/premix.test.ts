// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import type { Batch } from '../api/views';
import { partsOf } from './premix';

const line = (step: number, material: string, into: string) => ({ step, material, into, lot: 'L', target_kg: '1', tolerance_kg: '0.01', scale: 'W1', cautions: [], unit: 'kg' as const, places: 2, target: '1.00', tolerance: '0.01', parts: 1, scale_step: '0.01' });
const batch = {
  additions: [
    line(1, 'trace a', 'premix'),
    line(2, 'trace b', 'premix'),
    line(3, 'salt', 'premix carrier'),
    line(4, 'salt', 'premix carrier'),
    line(5, 'salt', 'blender'),
    line(6, 'alone', 'blender'),
    line(7, 'trace c', 'late premix'),
    line(8, 'salt', 'late premix carrier'),
    line(9, 'salt', 'late premix carrier'),
    line(10, 'salt', 'late premix carrier'),
    line(11, 'wet', 'blender'),
  ],
  premix: [
    { carrier_kg: '2', total_kg: '4' },
    { carrier_kg: '4', total_kg: '8' },
  ],
  late_premix: [
    { carrier_kg: '1', total_kg: '2' },
    { carrier_kg: '2', total_kg: '4' },
    { carrier_kg: '4', total_kg: '8' },
  ],
} as unknown as Batch;

test('each premix stands where it is made, with all its stages', () => {
  const parts = partsOf(batch);
  expect(parts.map((part) => [part.into, part.lines.map((l) => l.step)])).toEqual([
    ['premix', [1, 2, 3, 4]],
    ['blender', [5, 6]],
    ['late premix', [7, 8, 9, 10]],
    ['blender', [11]],
  ]);
  expect([...parts[0]!.stages]).toEqual([
    [3, { stage: 1, total_kg: '4' }],
    [4, { stage: 2, total_kg: '8' }],
  ]);
  expect([...parts[2]!.stages].map(([step, one]) => [step, one.stage, one.total_kg])).toEqual([
    [8, 1, '2'],
    [9, 2, '4'],
    [10, 3, '8'],
  ]);
  expect(parts[1]!.stages.size + parts[3]!.stages.size).toBe(0);
});

test('a sheet without premixes is one part; a batch of before the late premix has none', () => {
  const { late_premix: gone, ...old } = batch;
  expect(gone).toHaveLength(3);
  const parts = partsOf({ ...old, premix: [], additions: [line(1, 'salt', 'blender'), line(2, 'more', 'blender')] } as Batch);
  expect(parts).toHaveLength(1);
  expect(parts[0]!.premix).toBe(false);
});
