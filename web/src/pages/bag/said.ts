// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Humidities in words.
import type { Humidity } from '../../api/computed';
import { shown } from '../../lib/quantity';

const kDigits = 3;
const kKnown: Record<string, string> = {
  read: 'read in the source',
  memory: 'from memory of the source',
  computed: 'computed from published data',
  estimate: 'an estimate',
  model: 'worked out by this program',
};

export function known(mark: string): string {
  return kKnown[mark] ?? mark;
}

/** "32.8", or "15.6 to 21.5". */
export function range(humidity: Humidity): string {
  const low = shown(humidity.low_percent, kDigits);
  const high = shown(humidity.high_percent, kDigits);
  return low === high ? low : `${low} to ${high}`;
}

/** "7 to 6", crystal waters before and after. */
export function waters(from: number, to: number): string {
  return `${shown(from, 2)} to ${shown(to, 2)}`;
}
