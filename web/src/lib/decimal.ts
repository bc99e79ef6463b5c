// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Decimal arithmetic for what is printed: digits as they were written, rounded half to even, never by way of binary.

/** A decimal number: sign, whole digits, power of ten. */
export interface Decimal {
  negative: boolean;
  digits: bigint;
  exponent: number;
}

const kPlain = /^([+-]?)(\d*)(?:\.(\d*))?(?:[eE]([+-]?\d+))?$/;

/** Reads plain digits with a point ("-0.40", "1.2e-3"); undefined where it is no number. */
export function decimal(text: string | number): Decimal | undefined {
  const match = kPlain.exec(String(text).trim());
  if (!match || (match[2] ?? '') + (match[3] ?? '') === '') return undefined;
  const fraction = match[3] ?? '';
  const exponent = Number(match[4] ?? 0) - fraction.length;
  return { negative: match[1] === '-', digits: BigInt((match[2] ?? '') + fraction), exponent };
}

const length = (digits: bigint) => digits.toString().length;

/** The power of ten of its first digit. */
function leading(d: Decimal): number {
  return length(d.digits) - 1 + d.exponent;
}

/** Rounded to a power of ten, ties to even; more digits are zeros. */
export function roundTo(d: Decimal, exponent: number): Decimal {
  if (exponent <= d.exponent) {
    return { ...d, digits: d.digits * 10n ** BigInt(d.exponent - exponent), exponent };
  }
  const unit = 10n ** BigInt(exponent - d.exponent);
  let whole = d.digits / unit;
  const twice = 2n * (d.digits % unit);
  if (twice > unit || (twice === unit && whole % 2n === 1n)) whole += 1n;
  return { negative: d.negative, digits: whole, exponent };
}

/** Rounded to so many significant digits; a roll-over (0.0996 to 0.10) keeps their number. */
export function roundDigits(d: Decimal, digits: number): Decimal {
  if (d.digits === 0n) return d;
  const first = roundTo(d, leading(d) - digits + 1);
  return length(first.digits) > digits ? roundTo(first, first.exponent + 1) : first;
}

/** Times a power of ten, exactly. */
export function shift(d: Decimal, power: number): Decimal {
  return { ...d, exponent: d.exponent + power };
}

function aligned(a: Decimal, b: Decimal): [bigint, bigint, number] {
  const exponent = Math.min(a.exponent, b.exponent);
  const of = (d: Decimal) => (d.negative ? -1n : 1n) * d.digits * 10n ** BigInt(d.exponent - exponent);
  return [of(a), of(b), exponent];
}
export function add(a: Decimal, b: Decimal): Decimal {
  const [x, y, exponent] = aligned(a, b);
  const sum = x + y;
  return { negative: sum < 0n, digits: sum < 0n ? -sum : sum, exponent };
}
export function subtract(a: Decimal, b: Decimal): Decimal {
  return add(a, { ...b, negative: !b.negative });
}
export function compare(a: Decimal, b: Decimal): number {
  const [x, y] = aligned(a, b);
  return x < y ? -1 : x > y ? 1 : 0;
}
export function isZero(d: Decimal): boolean {
  return d.digits === 0n;
}

/** Plain digits with a point, no grouping and no power of ten: for orders, copies and exports. */
export function plain(d: Decimal): string {
  const sign = d.negative ? '-' : '';
  if (d.exponent >= 0) return sign + (d.digits * 10n ** BigInt(d.exponent)).toString();
  const all = d.digits.toString().padStart(1 - d.exponent, '0');
  return `${sign}${all.slice(0, d.exponent)}.${all.slice(d.exponent)}`;
}

export function toNumber(d: Decimal): number {
  return Number(plain(d));
}
