// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import type { Addition } from '../api/views';
import { plain } from './decimal';
import { advice, nextAddition, sameLot, stateOf } from './weighing';

const addition = (step: number, target: string, tolerance: string): Addition => ({
  step,
  material: 'an invented salt',
  lot: 'A26-0701',
  target_kg: target,
  tolerance_kg: tolerance,
  scale: 'W2',
  into: 'blender',
  cautions: [],
});
const big = addition(10, '12.480', '0.012');
const net = (step: number, net_kg: string) => ({ step, net_kg });

describe('an addition', () => {
  it.each([
    [[], 'short', 'add 12.480\u00a0kg'],
    [['12.36'], 'short', 'add 0.120\u00a0kg'],
    [['12.36', '0.108'], 'within', 'within tolerance, 0.012\u00a0kg below target'],
    [['12.48'], 'within', 'on target'],
    [['12.4921'], 'over', 'take out 0.012\u00a0kg'],
  ])('weighed %s is %s: %s', (nets, verdict, words) => {
    const state = stateOf(big, nets.map((kg) => net(10, kg)));
    expect(state.verdict).toBe(verdict);
    expect(advice(big, state)).toBe(words);
  });
  it('its tolerance is what was meant, not what binary made of it', () => {
    expect(stateOf(addition(6, '0.5867', '0.0006000000000000001'), [net(6, '0.5873')]).verdict).toBe('within');
    expect(stateOf(addition(6, '0.5867', '0.00059999999999999995'), [net(6, '0.5873')]).verdict).toBe('within');
  });
  it('a small one is said in grams', () => {
    const small = addition(1, '0.01719', '0.00002');
    expect(advice(small, stateOf(small, [net(1, '0.01700')]))).toBe('add 0.190\u00a0g');
  });
  it('what binary added to a net mass is not weighed', () =>
    expect(plain(stateOf(big, [net(10, '0.48000000000000004'), net(10, '12')]).weighed)).toBe('12.48'));
  it('what is on the scale counts', () => expect(plain(stateOf(big, [net(10, '12')], '0.4').weighed)).toBe('12.4'));
});

it('the next addition is the first that is short', () => {
  const sheet = [addition(1, '1', '0.01'), addition(2, '2', '0.01'), addition(3, '3', '0.01')];
  expect(nextAddition(sheet, [net(1, '1'), net(3, '3')])?.step).toBe(2);
  expect(nextAddition(sheet, [net(1, '1'), net(2, '2.5'), net(3, '3')])).toBeUndefined();
});

it('labels are compared by their letters and digits', () => {
  expect(sameLot(' a26-0701\n', 'A26-0701')).toBe(true);
  expect(sameLot('A260701', 'A26-0701')).toBe(true);
  expect(sameLot('A26-0702', 'A26-0701')).toBe(false);
  expect(sameLot('', '')).toBe(false);
});
