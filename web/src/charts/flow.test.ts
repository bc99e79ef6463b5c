// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { flow, holds, kOthers } from './flow';

describe('where elements come from', () => {
  const budget = [
    { symbol: 'Ca', from: [{ material: 'lime', share_percent: 60 }, { material: 'salt', share_percent: 39.5 }, { material: 'dust', share_percent: 0.5 }] },
    { symbol: 'Cl', from: [{ material: 'salt', share_percent: 100 }] },
  ];
  const formulas = new Map([['lime', 'CaCO3'], ['salt', 'NaCl']]);
  const made = flow(budget, formulas, ['Ca', 'Cl']);
  it('scales each element to 100 %', () => {
    for (const element of ['Ca', 'Cl']) {
      const sum = made.bands.filter((band) => band.element === element).reduce((total, band) => total + band.percent, 0);
      expect(sum).toBeCloseTo(100, 9);
    }
  });
  it('groups what is small and puts it last', () => {
    expect(made.materials.at(-1)?.name).toBe(kOthers);
    expect(made.bands.find((band) => band.material === kOthers)?.percent).toBeCloseTo(0.5, 9);
  });
  it('knows what only comes along', () => {
    expect(made.bands.find((band) => band.material === 'salt' && band.element === 'Ca')?.impurity).toBe(true);
    expect(made.bands.find((band) => band.material === 'lime')?.impurity).toBe(false);
  });
  it('stacks bands without a gap at both ends', () => {
    const salt = made.bands.filter((band) => band.material === 'salt');
    expect((salt[1]?.from ?? 0) - (salt[0]?.from ?? 0)).toBeCloseTo(0.395, 9);
  });
  it('reads formulas', () => {
    expect(holds('MgSO4.7H2O', 'SO4')).toBe(true);
    expect(holds('SrCl2.6H2O', 'S')).toBe(false);
    expect(holds('NaBr', 'B')).toBe(false);
    expect(holds('Na2B4O7.10H2O', 'alkalinity')).toBe(true);
  });
});
