// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import { partChanges, targetChanges } from './version-changes';

const before = 'name = "invented reef"\n[salinity]\npractical = 35\n[[constituent]]\nsymbol = "Ca"\ntarget = "412 mg/kg"\n[[constituent]]\nsymbol = "Mg"\ntarget = "natural"\nlow = "1270 mg/kg"\n';

test('the same target has no changes, in TOML or in JSON', () => {
  expect(targetChanges(before, before)).toEqual([]);
  const json = { name: 'invented reef', salinity: { practical: 35 }, constituent: [{ symbol: 'Ca', target: '412 mg/kg' }, { symbol: 'Mg', target: 'natural', low: '1270 mg/kg' }] };
  expect(targetChanges(before, JSON.stringify(json))).toEqual([]);
});

test('what is changed, new and gone is told by the constituent, wherever it stands in the list', () => {
  const after = 'name = "invented reef"\n[salinity]\npractical = 35\n[[constituent]]\nsymbol = "Mg"\ntarget = "natural"\n[[constituent]]\nsymbol = "Ca"\ntarget = "425 mg/kg"\n[[constituent]]\nsymbol = "Sr"\ntarget = "8 mg/kg"\n';
  expect(targetChanges(before, after)).toEqual([
    { what: 'constituent, Ca, target', before: '412 mg/kg', after: '425 mg/kg' },
    { what: 'constituent, Sr, symbol', before: '', after: 'Sr' },
    { what: 'constituent, Sr, target', before: '', after: '8 mg/kg' },
    { what: 'constituent, Mg, low', before: '1270 mg/kg', after: '' },
  ]);
});

const part = (material: string, first: number, second: number) => ({ material, first_g_per_kg_purified_water: first, second_g_per_kg_purified_water: second, change_percent: first === 0 ? null : ((second - first) / first) * 100 });

test('a change below two places of a percentage is counted, not listed; what is new or gone is always listed', () => {
  const { seen, less } = partChanges([part('salt', 28, 28), part('potash', 1, 0.999999), part('lime', 1, 1.01), part('trace', 0, 1e-9), part('borax', 1e-9, 0), part('soda', 10, 10.000001)]);
  expect(seen.map((row) => row.material)).toEqual(['lime', 'trace', 'borax']);
  expect(less).toBe(2);
});
