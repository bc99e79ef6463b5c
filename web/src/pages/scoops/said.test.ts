// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import type { BudgetResult, Scatter } from '../../api/computed';
import { between, drawnSteps, keptBy, largest, lengths, mass, percent, portionAtFault, portionsGiven, premixRows, roughly, samplesNeeded, signed, sprayed, unbroken, widest } from './said';

const result = (steps: Array<[string, number, number]>): BudgetResult => ({
  mean: 0, standard_uncertainty: 0.01, low_95: -0.02, high_95: 0.02, inside: 0.9, inside_standard_error: 0.001,
  steps: steps.map(([step, first_order, total]) => ({ step, first_order, first_order_standard_error: 0.001, total, total_standard_error: 0.001 })),
});

describe('figures of scoops', () => {
  it('has every mass in the unit that a person would use', () => {
    expect(mass(0.05)).toBe('50 g');
    expect(mass(0.13562532849249254)).toBe('136 g');
    expect(mass(6.360562178560541, 2)).toBe('6.4 kg');
  });
  it('says relative figures in per cent, thirds with their sign', () => {
    expect(percent(0.1150123)).toBe('12');
    expect(percent(0.0048203)).toBe('0.48');
    expect(between(0.0667, 0.1899)).toBe('6.7 to 19');
    expect(signed(0.9127)).toBe('+91.3');
    expect(signed(-0.53812)).toBe('\u221253.8');
    expect(signed(-0.3)).toBe('\u221230.0');
    expect(signed(1.75)).toBe('+175.0');
    expect(signed(-0.00001)).toBe('0.0');
    expect([signed(0.9127, 0), signed(-0.004, 0), signed(-0.538, 0)]).toEqual(['+91', '0', '\u221254']);
  });
  it('keeps a figure and its words on one line', () => expect(unbroken('calcium chloride 94-97 63')).toBe('calcium\u00a0chloride\u00a094\u201197\u00a063'));
  it('names the third that is furthest from the blend', () => {
    expect(widest({ top: -0.87, middle: -0.8, bottom: 1.6 })).toEqual({ third: 'bottom', by: 1.6 });
  });
});

describe('remedies and the way', () => {
  const remedy = { material: 'a', median_mm: 1, finer_median_mm: null, all_grains_times: null, carrier: '', no_carrier: '', relative_sd_on_carrier: null, portion_kg: null };
  it('never lets a share of the blend pass for a scatter', () => {
    expect(sprayed({ ...remedy, carrier: 'sodium chloride', relative_sd_on_carrier: 0.0048 })).toBe('sodium chloride: 0.48 %');
    expect(sprayed({ ...remedy, no_carrier: 'over 1 %' })).toBe('cannot be: over 1 % of the blend');
    expect(sprayed({ ...remedy, no_carrier: 'a mixture' })).toBe('cannot be: a mixture');
    expect(sprayed({ ...remedy, no_carrier: 'not enough' })).toBe('not enough');
  });
  it('shows no more digits than few draws give', () => expect([0.0002, 0.3351, 0.9512, 0.9999].map(roughly)).toEqual(['< 1', '34', '95', '> 99']));
});

describe('portions', () => {
  it('leaves out what was not typed', () => expect(portionsGiven(['50', '', '4000'])).toEqual(['50 g', '4000 g']));
  it('finds the one that cannot be taken from the container', () => {
    expect(portionAtFault(['50', '30000', ''], '20')).toBe(1);
    expect(portionAtFault(['50', '380', '0'], '')).toBe(2);
    expect(portionAtFault(['50', '', ''], '20')).toBe(0);
  });
  it('counts who keeps the promise in each', () => {
    const answer = { constituents: [{ outside: [0.86, 0.12] }, { outside: [0.05, 0.0001] }, { outside: [0.2, 0.04] }] } as unknown as Scatter;
    expect([keptBy(answer, 0), keptBy(answer, 1)]).toEqual([1, 2]);
  });
});

describe('shares of the variance', () => {
  const one = result([['assay', 0.1, 0.12], ['moisture', -0.001, 0], ['grains', 0.6, 0.64], ['layers', 0.25, 0.3]]);
  const other = result([['assay', 0.01, 0.01], ['moisture', 0.001, 0.001], ['grains', 0.4, 0.4], ['layers', 0.62, 0.6]]);
  it('draws the steps that count anywhere, in the order of the way', () => {
    expect(drawnSteps([one, other])).toEqual(['assay', 'grains', 'layers']);
    expect(drawnSteps([])).toEqual([]);
  });
  it('fills a bar: what several steps do together stands at its end', () => {
    const sum = (all: number[]) => all.reduce((a, b) => a + b, 0);
    expect(lengths(one, ['assay', 'grains', 'layers'])[3]).toBeCloseTo(0.05, 10);
    expect(sum(lengths(one, ['assay', 'grains', 'layers']))).toBeCloseTo(1, 12);
    const noisy = lengths(other, ['assay', 'grains', 'layers']); // 1.03 by chance of the draws
    expect(sum(noisy)).toBeCloseTo(1, 12);
    expect(noisy[3]).toBe(0);
  });
  it('names the largest step with what it does beside others', () => expect(largest(one)).toEqual({ step: 'grains', share: 0.64 }));
});

describe('premix and samples', () => {
  it('counts what is in the vessel line by line', () => {
    const rows = premixRows({ late: false, carrier: 'salt', parts: [{ material: 'a', kg: 0.02, equal_grains_for_one_batch: 12345, relative_sd_of_parts: 0.012 }, { material: 'b', kg: 0.03, equal_grains_for_one_batch: 9, relative_sd_of_parts: 0 }], stages: [{ carrier_kg: 0.05, total_kg: 0.1 }, { carrier_kg: 0.1, total_kg: 0.2 }] });
    expect(rows.map((row) => [row.at, row.material, row.mass, row.total])).toEqual([[1, 'a', '20 g', '20 g'], [2, 'b', '30 g', '50 g'], [3, 'salt', '50 g', '100 g'], [4, 'salt', '100 g', '200 g']]);
    expect(rows[0]?.differ).toBe('1.2');
  });
  it('says what stands in the way where no number is enough', () => {
    const proof = { by_chance: 0.01, with_analysis: 0.02, factor: null };
    expect(samplesNeeded({ ...proof, samples: null, none_for: 'grains' })).toBe('none: grains');
    expect(samplesNeeded({ ...proof, samples: 14, none_for: '' })).toBe('14');
  });
});
