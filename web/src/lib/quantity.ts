// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// How numbers are shown: two digits of uncertainty, the value to match, groups of three, a true minus.
import { decimal, plain, roundDigits, roundTo, type Decimal } from './decimal';

export const kNarrow = '\u202f';
const kMinus = '\u2212';

/** Plain digits with groups of three; four digits alone are not grouped. */
export function grouped(digits: string): string {
  const negative = digits.startsWith('-');
  const [whole = '', fraction = ''] = (negative ? digits.slice(1) : digits).split('.');
  const left = whole.length > 4 ? whole.replace(/\B(?=(\d{3})+$)/g, kNarrow) : whole;
  const right = fraction.length > 4 ? fraction.replace(/(\d{3})(?=\d)/g, `$1${kNarrow}`) : fraction;
  return (negative ? kMinus : '') + left + (right === '' ? '' : `.${right}`);
}

export interface Shown {
  value: string;
  u: string;
}

/** Value and uncertainty as plain digits: the uncertainty to two digits, the value to its place. */
export function rounded(value: string | number, u: string | number): Shown | undefined {
  const v = decimal(value);
  const s = decimal(u);
  if (!v || !s) return undefined;
  if (s.digits === 0n) return { value: plain(v), u: plain(s) };
  const r = roundDigits({ ...s, negative: false }, 2);
  return { value: plain(roundTo(v, r.exponent)), u: plain(r) };
}

/** "412.3 ± 1.2", grouped. */
export function withU(value: string | number, u: string | number): string {
  const r = rounded(value, u);
  return r ? `${grouped(r.value)} ± ${grouped(r.u)}` : String(value);
}

/** "412.3(12)" for dense tables. */
export function dense(value: string | number, u: string | number): string {
  const r = rounded(value, u);
  if (!r) return String(value);
  const digits = r.u.replace('.', '').replace(/^0+(?=\d)/, '');
  return `${grouped(r.value)}(${digits})`;
}

/** Digits as they are, grouped; a value without uncertainty may be cut to so many significant digits. */
export function shown(value: string | number, digits?: number): string {
  return decimal(value) ? grouped(copied(value, digits)) : String(value);
}

/** The same without groups, for copies and exports. */
export function copied(value: string | number, digits?: number): string {
  const d = decimal(value);
  if (!d) return String(value);
  return plain(digits === undefined ? d : tidy(roundDigits(d, digits)));
}

/** To so many significant digits, the noughts behind kept: "0.070". For uncertainties and what goes with them. */
export function toDigits(value: string | number, digits: number): string {
  const d = decimal(value);
  return d ? plain(roundDigits(d, digits)) : String(value);
}

/** To so many places, never "-0.00": what rounds to nothing has no sign. */
export function fixed(value: number, places: number): string {
  const digits = value.toFixed(places);
  return Number(digits) === 0 ? digits.replace('-', '') : digits;
}

/** The same with its sign before it, grouped: "+1.20", "\u22120.30", "0.00". */
export function signed(value: number, places: number): string {
  const digits = fixed(value, places);
  return `${Number(digits) > 0 ? '+' : ''}${grouped(digits)}`;
}

function tidy(d: Decimal): Decimal {
  let { digits, exponent } = d;
  while (digits !== 0n && digits % 10n === 0n && exponent < 0) {
    digits /= 10n;
    exponent += 1;
  }
  return { ...d, digits, exponent };
}
