// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { apart, logTicks, tick, time, timeTicks, two } from './marks';

describe('ticks', () => {
  it('takes 1, 2 and 5 of few decades and powers alone of many', () => {
    expect(logTicks(1, 10)).toEqual([1, 2, 5, 10]);
    expect(logTicks(0.001, 1000)).toEqual([0.001, 0.01, 0.1, 1, 10, 100, 1000]);
    expect(logTicks(1e-6, 1e6).length).toBeLessThan(8);
  });
  it('writes powers of ten where digits would not be read', () => {
    expect(tick(1e-6)).toBe('10⁻⁶');
    expect(tick(0)).toBe('0');
    expect(tick(2500)).toBe('2500');
  });
  it('says times in words', () => {
    expect([0, 10 / 3600, 0.5, 6, 72, 9000].map(time)).toEqual(['0 s', '10 s', '30 min', '6 h', '3 days', 'over a year']);
  });
  it('names times as a clock does, in the unit that the span has', () => {
    expect(timeTicks(10 / 3600, 48).map(time)).toEqual(['10 s', '1 min', '5 min', '30 min', '5 h', '24 h']);
    expect(timeTicks(10 / 3600, 0.1).map(time)).toEqual(['10 s', '20 s', '1 min', '2 min', '5 min']);
    expect(timeTicks(1, 8000, 5).map(time)).toEqual(['1 h', '10 h', '5 days', '50 days']);
  });
  it('keeps the nought of two digits', () => expect([8, 0.691, 134].map(two)).toEqual(['8.0', '0.69', '130']));
  it('moves labels apart', () => {
    const [a = 0, b = 0, c = 0] = apart([10, 11, 80], 14, 100);
    expect(b - a).toBeGreaterThanOrEqual(13.9);
    expect(c).toBe(80);
  });
});
