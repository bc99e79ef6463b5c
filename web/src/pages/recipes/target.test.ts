// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import type { Constituent } from '../../api/computed';
import type { Table } from '../../lib/toml';
import { edgeOf, entryOf, pointsAt, priorityOf, quantity, setEdge, setPriority } from './target';

const row = (symbol: string, unit: string, target: number, low: number, high: number): Constituent => ({
  symbol, unit, target, low, high, achieved: target, inside: true, deviation_percent: 0,
  standard_uncertainty: 1, chance_inside: 1, asked: true,
});
const target = (): Table => ({
  name: 'x',
  constituent: [{ symbol: 'Ca', target: '445 mg/L', low: '440 mg/L', high: '450 mg/L', priority: 1 }],
});
const calcium = row('Ca', 'mg/L', 445, 440, 450);

describe('target drafts', () => {
  it('reads quantities', () => {
    expect(quantity('445 mg/L')).toEqual({ digits: '445', unit: 'mg/L' });
    expect(quantity('70 ug/L as N')).toEqual({ digits: '70', unit: 'ug/L as N' });
    expect(quantity('natural')).toBeUndefined();
    expect(quantity(4.8)).toEqual({ digits: '4.8', unit: '' });
  });
  it('shows the digits as they were typed, and cut ones where the answer has others', () => {
    const file = target();
    expect(edgeOf(file, calcium, 'target')).toBe('445');
    expect(edgeOf(file, row('K', 'mg/L', 408.4164068657, 400.2480787284, 416.5), 'low')).toBe('400.248');
  });
  it('takes the band along with its target, in decimal', () => {
    const file = target();
    setEdge(file, calcium, 'target', '450.5', true);
    expect(entryOf(file, 'Ca')).toMatchObject({ target: '450.5 mg/L', low: '445.5 mg/L', high: '455.5 mg/L' });
    setEdge(file, calcium, 'target', '450', false);
    expect(entryOf(file, 'Ca')).toMatchObject({ target: '450 mg/L', low: '445.5 mg/L' });
  });
  it('names what the rest had filled, with its own priority', () => {
    const file = target();
    const potassium = row('K', 'mg/L', 408.4164068657, 400.2480787284, 416.5847350031);
    expect(priorityOf(file, 'K')).toBe('5');
    setEdge(file, potassium, 'low', '390', false);
    expect(entryOf(file, 'K')).toEqual({ symbol: 'K', target: 'natural', low: '390 mg/L', priority: 5 });
    setPriority(file, row('Na', 'mg/L', 1, 0, 2), 2);
    expect(entryOf(file, 'Na')).toMatchObject({ target: 'natural', priority: 2 });
  });
  it('never takes a band below nought', () => {
    const file: Table = { constituent: [{ symbol: 'Li', target: '2 mg/kg', low: '1 mg/kg', high: '3 mg/kg' }] };
    setEdge(file, row('Li', 'mg/kg', 2, 1, 3), 'target', '0.5', true);
    expect(entryOf(file, 'Li')).toMatchObject({ low: '0 mg/kg', high: '1.5 mg/kg' });
  });
  it('finds the field that a refusal speaks of', () => {
    expect(pointsAt('target: constituent 1.low: low of Ca is above its high')).toEqual({
      list: 'constituent', at: 0, key: 'low', said: 'low of Ca is above its high',
    });
    expect(pointsAt('something else')).toBeUndefined();
  });
});
