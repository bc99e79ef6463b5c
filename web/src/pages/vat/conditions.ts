// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// The conditions of a vat as they are typed, and as the computation is told them.

export interface Conditions {
  temperature: string;
  keep: string;
  hours: string;
  seed: string;
  air: string;
  exchange: string;
  stirring: string;
}

export const kUsual: Conditions = { temperature: '25', keep: '24', hours: '48', seed: '', air: '', exchange: '', stirring: '' };

/** The options that the conditions become; a refusal names one of them. */
export const kTold = ['temperature', 'keep', 'hours', 'seed', 'air', 'gas-exchange', 'stirring'];

export function told(conditions: Conditions): Record<string, string> {
  const out: Record<string, string> = {};
  const put = (key: string, digits: string, unit: string) => {
    if (digits !== '') out[key] = `${digits} ${unit}`;
  };
  put('temperature', conditions.temperature, 'degC');
  put('keep', conditions.keep, 'h');
  put('hours', conditions.hours, 'h');
  put('seed', conditions.seed, 'mg/kg');
  put('air', conditions.air, 'uatm');
  put('gas-exchange', conditions.exchange, '/h');
  put('stirring', conditions.stirring, 'W/kg');
  return out;
}

/** A safe time in words, with what it is trusted within. */
export function trusted(way: { factor: number; over_a_year: boolean; in_evidence: boolean }, said: string): string {
  const seen = way.in_evidence ? '' : '; outside what experiments saw';
  return way.over_a_year ? `over a year${seen}` : `${said}, within a factor of ${way.factor.toFixed(0)}${seen}`;
}
