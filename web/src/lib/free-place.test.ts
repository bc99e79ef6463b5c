// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { freePlace, type Box } from './free-place';

const view = { width: 1000, height: 700 };
const size = { width: 300, height: 40 };
const box = (left: number, top: number, width: number, height: number): Box => ({ left, top, right: left + width, bottom: top + height });

describe('a sentence over the page', () => {
  it('stands at the foot, left', () => expect(freePlace(size, view, [])).toEqual({ left: 16, top: 644 }));
  it('goes right of a button that is there', () => expect(freePlace(size, view, [box(20, 650, 100, 30)])).toEqual({ left: 684, top: 644 }));
  it('goes up where the foot is taken', () => {
    const place = freePlace(size, view, [box(0, 600, 1000, 100)])!;
    expect(place.left).toBe(16);
    expect(place.top + size.height).toBeLessThanOrEqual(596);
  });
  it('covers nothing that is pressed, wherever that is', () => {
    const taken = Array.from({ length: 40 }, (_, i) => box((i * 173) % 900, (i * 97) % 660, 90, 30));
    const place = freePlace(size, view, taken);
    if (place) {
      const mine = box(place.left, place.top, size.width, size.height);
      expect(taken.some((b) => mine.left < b.right && b.left < mine.right && mine.top < b.bottom && b.top < mine.bottom)).toBe(false);
    }
    expect(place === undefined || place.top >= 0).toBe(true);
  });
  it('has no place where all is taken', () => expect(freePlace(size, view, [box(0, 0, 1000, 700)])).toBeUndefined());
});
