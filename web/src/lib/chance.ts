// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
/** A probability in per cent as people may read it: never a certainty that no test gives. */
export function chance(probability: number): string {
  const percent = probability * 100;
  if (percent > 99.9) return '> 99.9';
  if (percent < 0.1) return '< 0.1';
  return percent.toFixed(1);
}
