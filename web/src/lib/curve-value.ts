// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What a titration curve found, as a reading of a method: the analyte, and the digits in the method's own unit.
import type { Curve } from '../api/laboratory';
import { rounded, toDigits } from './quantity';

interface CurveValue {
  digits: string;
  unit: string;
  /** Expanded uncertainty for 95 %, in the unit. */
  expanded: string;
}

const kSymbols: Record<string, string> = { calcium: 'Ca', magnesium: 'Mg', chloride: 'Cl' };
const kPerMilli: Record<string, number> = { 'mmol/kg': 1, 'mol/kg': 1e-3, 'umol/kg': 1e3, 'µmol/kg': 1e3 };
const kEquivalents: Record<string, number> = { 'meq/kg': 1, 'eq/kg': 1e-3, 'ueq/kg': 1e3, 'µeq/kg': 1e3 };

/** The symbols a curve can be a reading of; an amount of nothing named may be of any of the method. */
export function fits(curve: Curve, analyte: string): boolean {
  if (curve.method === 'alkalinity') return analyte === 'alkalinity';
  const symbol = kSymbols[curve.titrated ?? ''];
  return symbol === undefined ? curve.mmol_per_kg !== undefined && analyte !== 'alkalinity' : analyte === symbol;
}

/** The value in a unit that it can be turned into exactly, to the place of its standard uncertainty's second digit. */
export function valueIn(curve: Curve, unit: string): CurveValue | undefined {
  const alkalinity = curve.method === 'alkalinity';
  const factor = kPerMilli[unit] ?? (alkalinity ? kEquivalents[unit] : undefined);
  const kMicro = 1e3;
  const inMilli = (micro: number | undefined, milli: number | undefined) => (alkalinity ? (micro === undefined ? undefined : micro / kMicro) : milli);
  const value = inMilli(curve.alkalinity_umol_per_kg, curve.mmol_per_kg);
  const u = inMilli(curve.standard_uncertainty_umol_per_kg, curve.standard_uncertainty_mmol_per_kg);
  const expanded = inMilli(curve.expanded_uncertainty_umol_per_kg, curve.expanded_uncertainty_mmol_per_kg);
  if (factor === undefined || value === undefined || u === undefined || expanded === undefined || !(u > 0)) return undefined;
  const shown = rounded(value * factor, u * factor);
  return shown && { digits: shown.value, unit, expanded: toDigits(String(expanded * factor), 2) };
}
