// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import type { Addition } from '../api/views';
import { decimal, plain } from './decimal';
import { advice, doubtAbout, massInWords, nextAddition, sameLot, stateOf, targetOf } from './weighing';

const addition = (step: number, target: string, tolerance: string, form: Partial<Addition> = {}): Addition => ({
  step,
  material: 'an invented salt',
  lot: 'A26-0701',
  target_kg: target,
  tolerance_kg: tolerance,
  scale: 'W2',
  into: 'blender',
  cautions: [],
  unit: 'kg',
  places: 3,
  target,
  tolerance,
  parts: 1,
  scale_step: form.unit === 'g' ? '0.1' : '0.001',
  ...form,
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
    const small = addition(1, '0.01719', '0.00002', { unit: 'g', places: 2 });
    expect(advice(small, stateOf(small, [net(1, '0.01700')]))).toBe('add 0.19\u00a0g');
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

it('a line is written with the decimals of its scale, whatever its tolerance', () => {
  const line = addition(4, '10.4596', '0.0105', { places: 4, target: '10.4596', tolerance: '0.0105' });
  expect(targetOf(line)).toBe('10.4596\u00a0kg');
  expect(massInWords(decimal('10.46')!, line)).toBe('10.4600\u00a0kg');
});

describe('a mass far from what is wanted is asked about', () => {
  const line = addition(5, '0.1219', '0.0001', { unit: 'g', places: 1, target: '121.9', tolerance: '0.1' });
  const doubt = (kg: string, typed: string, on = line, nets: string[] = []) => doubtAbout(on, stateOf(on, nets.map((n) => net(on.step, n))), kg, typed);
  it.each([
    ['0.0001219', '0.1219 g', '0.1219 g is about a thousandth of the 121.9\u00a0g wanted now: did the scale show kg?'],
    ['121.9', '121.9 kg', '121.9 kg is about a thousand times the 121.9\u00a0g wanted now: did the scale show g?'],
    ['0.024', '24 g', '24 g is less than a fifth of the 121.9\u00a0g wanted now: are the figures and the unit as the scale shows them?'],
    ['0.0122', '12.2 g', '12.2 g is about a tenth of the 121.9\u00a0g wanted now: is the decimal point where the scale shows it?'],
    ['0.0244', '24.4 g', ''],
    ['0.6094', '609.4 g', ''],
    ['0.6095', '609.5 g', '609.5 g is five times or more of the 121.9\u00a0g wanted now: are the figures and the unit as the scale shows them?'],
    ['1.2', '1.2 kg', '1.2 kg is about ten times the 121.9\u00a0g wanted now: is the decimal point where the scale shows it?'],
  ])('%s kg, typed %s', (kg, typed, says) => expect(doubt(kg, typed)).toBe(says));
  it('what is left to weigh counts, not the whole', () => expect(doubt('0.0005', '0.5 g', line, ['0.1214'])).toBe(''));
  it('a little that completes the addition is no part', () => {
    const wide = addition(5, '2', '0.002', { places: 4, scale_step: '0.0001' });
    expect(doubt('0.0002', '0.2 g', wide, ['1.9979'])).toBe('');
    expect(doubt('0.0004', '0.4 g', wide, ['1.9975'])).not.toBe('');
  });
  it('a scale shows whole steps alone', () => {
    const twenties = addition(3, '12.24', '0.02', { places: 2, scale_step: '0.02', scale: 'W4' });
    expect(doubt('12.244', '12.244 kg', twenties)).toBe('12.244 kg lies between two steps of scale W4, which shows 12.24 or 12.26\u00a0kg: are the figures as the scale shows them?');
    expect(doubt('12.25', '12.25 kg', twenties)).toContain('shows 12.24 or 12.26');
    expect(doubt('12.24', '12.24 kg', twenties)).toBe('');
    expect(doubt('0.12195', '121.95 g')).toContain('121.9 or 122.0\u00a0g');
  });
  it('what is weighed in parts is asked for part by part', () => {
    const large = addition(9, '483', '0.5', { parts: 9, places: 2 });
    expect(doubt('25', '25 kg', large)).toBe('');
    expect(doubt('0.05', '0.05 kg', large)).not.toBe('');
  });
});

it('labels are compared by their letters and digits', () => {
  expect(sameLot(' a26-0701\n', 'A26-0701')).toBe(true);
  expect(sameLot('A260701', 'A26-0701')).toBe(true);
  expect(sameLot('A26-0702', 'A26-0701')).toBe(false);
  expect(sameLot('', '')).toBe(false);
});
