// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Where an addition stands: sums in decimal, as the server does it, so that the screen and the books say the same.
import type { Addition, Weighing } from '../api/views';
import { add, compare, decimal, isZero, plain, roundDigits, roundTo, subtract, type Decimal } from './decimal';
import { grouped } from './quantity';

export type Verdict = 'within' | 'short' | 'over';
export interface AdditionState {
  weighed: Decimal;
  parts: number;
  verdict: Verdict;
  /** Above (+) or below (-) the target. */
  off: Decimal;
}

const kZero: Decimal = { negative: false, digits: 0n, exponent: 0 };

/** Tolerances are printed from binary: cut to six digits they are what was meant. */
function meant(text: string): Decimal {
  const d = decimal(text) ?? kZero;
  return isZero(d) ? d : roundDigits(d, 6);
}

/** What a weighing came to, without what binary added behind its twelfth digit. */
export function weighedKg(weighing: Pick<Weighing, 'net_kg'>): Decimal {
  const d = decimal(weighing.net_kg) ?? kZero;
  if (isZero(d)) return d;
  const cut = roundDigits(d, 12);
  let { digits, exponent } = cut;
  while (digits % 10n === 0n && exponent < 0) {
    digits /= 10n;
    exponent += 1;
  }
  return { ...cut, digits, exponent };
}

export function stateOf(addition: Addition, weighings: Array<Pick<Weighing, 'step' | 'net_kg'>>, more = ''): AdditionState {
  const mine = weighings.filter((w) => w.step === addition.step);
  const sum = mine.reduce((total, w) => add(total, weighedKg(w)), decimal(more) ?? kZero);
  const off = subtract(sum, decimal(addition.target_kg) ?? kZero);
  const far = compare({ ...off, negative: false }, meant(addition.tolerance_kg)) > 0;
  return { weighed: sum, parts: mine.length, verdict: !far ? 'within' : off.negative ? 'short' : 'over', off };
}

/** The first addition of the sheet that is short; undefined when all are weighed. */
export function nextAddition(additions: Addition[], weighings: Array<Pick<Weighing, 'step' | 'net_kg'>>): Addition | undefined {
  return additions.find((addition) => stateOf(addition, weighings).verdict === 'short');
}

/** Decimals that the tolerance asks for: 0.0045 kg is shown to 0.0001 kg. */
export function decimalsOf(addition: Addition): number {
  const t = meant(addition.tolerance_kg);
  return isZero(t) ? 4 : Math.max(0, -roundDigits(t, 2).exponent);
}

export function shownKg(kg: Decimal, decimals: number): string {
  return grouped(plain(roundTo(kg, -decimals)));
}

/** Masses below this are said in grams. */
const kGrams = decimal('1')!;

/** "0.120 kg" or "17.19 g": small masses in grams, with the decimals that the tolerance asks for. */
export function massInWords(kg: Decimal, addition: Addition): string {
  const decimals = decimalsOf(addition);
  if (compare(decimal(addition.target_kg) ?? kZero, kGrams) >= 0) return `${shownKg(kg, decimals)}\u00a0kg`;
  return `${shownKg({ ...kg, exponent: kg.exponent + 3 }, Math.max(0, decimals - 3))}\u00a0g`;
}

/** What the scale asks for next, in words. */
export function advice(addition: Addition, state: AdditionState): string {
  const size = massInWords({ ...state.off, negative: false }, addition);
  if (state.verdict === 'short') return `add ${size}`;
  if (state.verdict === 'over') return `take out ${size}`;
  return isZero(state.off) ? 'on target' : `within tolerance, ${size} ${state.off.negative ? 'below' : 'above'} target`;
}

/** A label as it was read, against the wanted lot: the same letters and digits, whatever the reader put around them. */
export function sameLot(read: string, wanted: string): boolean {
  const bare = (text: string) => text.toUpperCase().replace(/[^A-Z0-9]/g, '');
  return bare(read) !== '' && bare(read) === bare(wanted);
}
