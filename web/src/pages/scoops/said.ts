// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Scoops in words and rows: masses, scatter with its bounds, who keeps the promise, shares of the variance.
import type { BudgetResult, LotToReef, PremixPlan, SampleProof, Scatter, ScatteredConstituent, ScatterRemedy, Thirds } from '../../api/computed';
import { two } from '../../charts/marks';
import { shown, toDigits } from '../../lib/quantity';

/** The share of portions that may lie outside the promise. */
const kOutside = 0.05;

/** "50 g", "6.4 kg". */
export function mass(kg: number, digits = 3): string {
  return kg < 1 ? `${shown(kg * 1000, digits)} g` : `${shown(kg, digits)} kg`;
}

/** A relative figure as digits of per cent: "12", "0.48". */
export function percent(share: number, digits = 2): string {
  return toDigits(share * 100, digits);
}

/** The same to so many places, with its sign: "+91.3", "−53.8", "0.0". */
export function signed(share: number, places = 1): string {
  const digits = (share * 100).toFixed(places);
  return Number(digits) === 0 ? (0).toFixed(places) : share > 0 ? `+${digits}` : digits.replace('-', '\u2212');
}

/** "6.7 to 19". */
export function between(low: number, high: number): string {
  return `${two(low * 100)} to ${two(high * 100)}`;
}

/** Kept on one line. */
export function unbroken(words: string): string {
  return words.replaceAll(' ', '\u00a0').replaceAll('-', '\u2011');
}

export function capital(sentence: string): string {
  return sentence.charAt(0).toUpperCase() + sentence.slice(1);
}

/** What a salt sprayed onto a carrier leaves, or why it cannot be sprayed. */
export function sprayed(remedy: ScatterRemedy): string {
  if (remedy.relative_sd_on_carrier !== null) return `${remedy.carrier}: ${percent(remedy.relative_sd_on_carrier)} %`;
  if (remedy.no_carrier === 'not enough') return remedy.no_carrier;
  return `cannot be: ${remedy.no_carrier === 'over 1 %' ? 'over 1 % of the blend' : remedy.no_carrier}`;
}

/** A chance that is good to about one in 100: whole numbers, neither none nor all. */
export function roughly(probability: number): string {
  const whole = Math.round(probability * 100);
  return whole < 1 ? '< 1' : whole > 99 ? '> 99' : String(whole);
}

/** What is to be heeded before anything is ground or sprayed. */
export function isCaution(notice: { code: string }): boolean {
  return ['blend_caution', 'blend_dust'].includes(notice.code);
}

/** The program's word: where the smallest portion is outside too often, it names a remedy. */
export function keeps(constituent: ScatteredConstituent): boolean {
  return constituent.remedy === null;
}

/** How many constituents keep within what is wanted in portions of this place in the row. */
export function keptBy(answer: Scatter, portion: number): number {
  return answer.constituents.filter((one) => (one.outside[portion] ?? 1) <= kOutside).length;
}

/** Portions in g, as they were typed, as the computation is given them. */
export function portionsGiven(grams: string[]): string[] {
  return grams.filter((digits) => digits !== '').map((digits) => `${digits} g`);
}

/** Which typed portion a refusal speaks of: the first that is no mass to be taken from the container. */
export function portionAtFault(grams: string[], container: string): number {
  const most = Number(container || '20') * 1000;
  const at = grams.findIndex((digits) => digits !== '' && !(Number(digits) > 0 && Number(digits) <= most));
  return Math.max(0, at);
}

/** The third that differs most, and by how much. */
export function widest(thirds: Thirds): { third: keyof Thirds; by: number } {
  const order: Array<keyof Thirds> = ['top', 'middle', 'bottom'];
  const third = order.reduce((a, b) => (Math.abs(thirds[b]) > Math.abs(thirds[a]) ? b : a));
  return { third, by: thirds[third] };
}

/** Below this share of the variance a step is not drawn by itself. */
const kDrawn = 0.02;

/** Steps that are drawn in a row of bars, in the order of the way from lot to reef. */
export function drawnSteps(results: BudgetResult[]): string[] {
  const order = results[0]?.steps.map((one) => one.step) ?? [];
  return order.filter((step) => results.some((result) => shareOf(result, step) >= kDrawn));
}

/** What a step does to the variance by itself. An estimate; below nothing it is nothing. */
export function shareOf(result: BudgetResult, step: string): number {
  return Math.max(0, result.steps.find((one) => one.step === step)?.first_order ?? 0);
}

/** Lengths of a bar that sum to 1: the steps drawn, then what is small or done by several together. */
export function lengths(result: BudgetResult, steps: string[]): number[] {
  const each = steps.map((step) => shareOf(result, step));
  const sum = each.reduce((a, b) => a + b, 0);
  return sum >= 1 ? [...each.map((share) => share / sum), 0] : [...each, 1 - sum];
}

/** The step behind most of it, alone and with others. */
export function largest(result: BudgetResult): { step: string; share: number } {
  const top = result.steps.reduce((a, b) => (b.total > a.total ? b : a));
  return { step: top.step, share: top.total };
}

/** Constituents, least often inside first. */
export function leastFirst(answer: LotToReef, place: 'vat' | 'release'): LotToReef['constituents'] {
  return [...answer.constituents].sort((a, b) => a[place].inside - b[place].inside);
}

/** One line of a premix: what goes in, and what is in the vessel then. */
export interface PremixRow {
  at: number;
  material: string;
  mass: string;
  total: string;
  grains: string;
  differ: string;
}
/** A number of grains: "9", "12 million". */
export function grains(number: number): string {
  return number < 1e6 ? shown(number, 2) : `${shown(number / 1e6, 2)} million`;
}
export function premixRows(plan: PremixPlan): PremixRow[] {
  let total = 0;
  const parts = plan.parts.map((part) => {
    total += part.kg;
    return { material: part.material, mass: mass(part.kg), total: mass(total), grains: grains(part.equal_grains_for_one_batch), differ: percent(part.relative_sd_of_parts) };
  });
  const stages = plan.stages.map((stage) => ({ material: plan.carrier, mass: mass(stage.carrier_kg), total: mass(stage.total_kg), grains: '', differ: '' }));
  return [...parts, ...stages].map((row, at) => ({ at: at + 1, ...row }));
}

/** How many samples prove the promise, or what stands in the way. */
export function samplesNeeded(proof: SampleProof | undefined): string {
  if (proof?.samples != null) return String(proof.samples);
  const against = proof?.none_for ?? '';
  return against.startsWith('over') ? against : `none: ${against}`;
}
