// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Where an addition stands: sums in decimal, as the server does it, so that the screen and the books say the same.
import type { Addition, Weighing } from '../api/views';
import { add, compare, decimal, isZero, plain, roundDigits, roundTo, shift, subtract, toNumber, type Decimal } from './decimal';
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

/** Digits of a mass as the line writes it: in its unit, with the decimals that its scale shows. */
export function digitsOf(kg: Decimal, addition: Addition): string {
  return plain(roundTo(addition.unit === 'g' ? shift(kg, 3) : kg, -addition.places));
}

/** "0.120 kg" or "17.19 g". */
export function massInWords(kg: Decimal, addition: Addition): string {
  return `${grouped(digitsOf(kg, addition))}\u00a0${addition.unit}`;
}

/** "12.480 kg", as the sheet has it. */
export const targetOf = (addition: Addition) => `${grouped(addition.target)}\u00a0${addition.unit}`;
export const toleranceOf = (addition: Addition) => `${grouped(addition.tolerance)}\u00a0${addition.unit}`;

/** Beyond so many times either way a mass is asked about; as the server does it. */
const kFarFromWanted = 5;
/** Of a ratio: what binary may be off. */
const kRoundOff = 1e-9;
const kNear = 1.25;
const kPerKilo = 1000;
const kOnePlace = 10;

/** What is wanted on the scale now: what is missing, and of what takes several weighings no more than one of them. */
function wantedNow(addition: Addition, before: AdditionState): number {
  return Math.min(Number(addition.target_kg) / addition.parts, -toNumber(before.off));
}

/** The question about a mass between two steps of its scale. Empty: the scale can show it. */
function doubtAboutStep(addition: Addition, kg: string, typed: string): string {
  const step = decimal(addition.scale_step);
  const mass = decimal(kg);
  if (!step || !mass || step.digits === 0n) return '';
  const shown = addition.unit === 'g' ? shift(mass, 3) : mass;
  const exponent = Math.min(step.exponent, shown.exponent);
  const [unit, whole] = [step, shown].map((d) => roundTo(d, exponent).digits) as [bigint, bigint];
  if (whole % unit === 0n) return '';
  const below: Decimal = { negative: false, digits: (whole / unit) * unit, exponent };
  const places = (d: Decimal) => grouped(plain(roundTo(d, -addition.places)));
  return `${typed} lies between two steps of scale ${addition.scale}, which shows ${places(below)} or ${places(add(below, step))}\u00a0${addition.unit}: are the figures as the scale shows them?`;
}

/** The question that a mass raises before it is recorded: more often a wrong unit or a slip of the decimal point than a part, or no mass that its scale can
 *  show. Empty: none. The server asks the same; it is asked here first, since the line may be down. */
export function doubtAbout(addition: Addition, before: AdditionState, kg: string, typed: string): string {
  const wanted = wantedNow(addition, before);
  const ratio = Number(kg) / wanted;
  if (!(wanted > 0)) return '';
  const little = ratio < 1;
  // A little that completes the addition stands as no part of it, and is not asked about.
  const isPart = -toNumber(before.off) - Number(kg) > Number(addition.tolerance_kg);
  if (little ? !isPart || ratio * kFarFromWanted >= 1 - kRoundOff : ratio < kFarFromWanted * (1 - kRoundOff)) return doubtAboutStep(addition, kg, typed);
  const far = little ? 1 / ratio : ratio;
  const isNear = (to: number) => far * kNear >= to && far <= to * kNear;
  const byUnit = isNear(kPerKilo);
  const byPlace = isNear(kOnePlace);
  const unit = typed.slice(typed.lastIndexOf(' ') + 1);
  const meant = !byUnit ? '' : unit === 'g' ? (little ? 'kg' : 'mg') : unit === 'kg' && !little ? 'g' : unit === 'mg' && little ? 'g' : '';
  const times = byUnit
    ? (little ? 'about a thousandth of the' : 'about a thousand times the')
    : byPlace
      ? (little ? 'about a tenth of the' : 'about ten times the')
      : (little ? 'less than a fifth of the' : 'five times or more of the');
  const asks = meant !== '' ? `did the scale show ${meant}?` : byPlace ? 'is the decimal point where the scale shows it?' : 'are the figures and the unit as the scale shows them?';
  const mass = massInWords(decimal(String(wanted))!, addition);
  return `${typed} is ${times} ${mass} wanted now: ${asks}`;
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
