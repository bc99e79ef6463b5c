// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// In which unit the figures of a water are shown: one choice for recipe, batch and release, kept in this browser, so that
// a result is read beside the recipe's target and the certificate without a calculator.
import { decimal, plain } from './decimal';

export type WaterUnit = 'target' | 'certificate' | 'amount';
const kPlace = 'brinewright.water-unit';
const kAll: readonly WaterUnit[] = ['target', 'certificate', 'amount'];

class WaterUnits {
  /** Empty until somebody has chosen: each page shows its own then. */
  chosen = $state<WaterUnit | ''>(kAll.find((one) => one === globalThis.localStorage?.getItem(kPlace)) ?? '');
  choose(unit: WaterUnit): void {
    this.chosen = unit;
    localStorage.setItem(kPlace, unit);
  }
}
export const waterUnits = new WaterUnits();

export const kWaterUnits: Array<{ value: WaterUnit; label: string }> = [
  { value: 'target', label: 'as the target has it' },
  { value: 'certificate', label: 'as the certificate has it' },
  { value: 'amount', label: 'mmol/kg' },
];

/** How a constituent is written in one unit: so many of it per mol (eq) per kg. */
export interface InUnit {
  unit: string;
  perMol: number;
}
const kMilli = 1000;
export const amountUnit = (symbol: string): InUnit => ({ unit: symbol === 'alkalinity' ? 'meq/kg' : 'mmol/kg', perMol: kMilli });

/** Digits of a figure in another unit; to twelve digits, which leaves no rounding that a reader would see. */
export function times(digits: string, factor: number): string {
  const value = Number(digits) * factor;
  if (digits === '' || !Number.isFinite(value)) return '';
  const d = decimal(String(Number(value.toPrecision(12))));
  return d ? plain(d) : '';
}
