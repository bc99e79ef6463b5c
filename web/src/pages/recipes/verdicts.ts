// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Verdicts of the workbench in the words of the works.

/** Below this chance a value inside its band is too close to call; the share that two standard deviations hold. */
const kSure = 0.95;

export function verdict(inside: boolean, chance?: number): string {
  if (!inside) return 'outside limits';
  return chance !== undefined && chance < kSure ? 'too close to call' : 'within limits';
}

/** "95.3 %", and never "100 %" for what is a little less. */
export function percentOf(chance: number): string {
  if (chance >= 1) return '100 %';
  if (chance > 0.999) return '> 99.9 %';
  return `${(chance * 100).toFixed(1)} %`;
}

export function toneOfRisk(risk: string): 'good' | 'close' | 'bad' | 'way' {
  return ({ clear: 'good', watch: 'close', 'will cloud': 'bad' } as const)[risk] ?? 'way';
}

/** In µg/L where the unit is a mass per litre; the rest is left as it is. */
export function inMicrograms(unit: string): { factor: number; unit: string } {
  const [mass = '', ...rest] = unit.split(' ');
  const as = rest.length > 0 ? ` ${rest.join(' ')}` : '';
  const factor = { 'ug/L': 1, 'µg/L': 1, 'mg/L': 1000, 'ng/L': 0.001 }[mass];
  return factor === undefined ? { factor: 1, unit: shownUnit(unit) } : { factor, unit: `µg/L${as}` };
}

/** Units as they are printed. */
export function shownUnit(unit: string): string {
  return unit.replace(/\bu(?=(g|mol|eq|atm|S|m)\b)/g, 'µ').replace(/\b(c?m)3\b/g, '$1³');
}
