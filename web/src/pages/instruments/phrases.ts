// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Readings as phrases that the computation understands: "refractometer 36.4 g/kg, dial sodium-chloride".

interface Kind {
  value: string;
  label: string;
  unit: string;
  /** The phrase without its value, as a calibration fluid is asked for; undefined where there is no fluid for it. */
  fluid?: string;
  phrase: (shown: string) => string;
  hint?: string;
}

export const kKinds: Kind[] = [
  { value: 'conductivity', label: 'conductivity meter, uncompensated', unit: 'mS/cm', fluid: 'conductivity', phrase: (v) => `conductivity ${v} mS/cm, uncompensated`, hint: 'shows the conductivity at the water’s own temperature' },
  { value: 'conductivity25', label: 'conductivity meter, to 25 °C by 2 %/K', unit: 'mS/cm', phrase: (v) => `conductivity ${v} mS/cm, to 25 degC by 2 %/K` },
  { value: 'salinity-meter', label: 'salinity meter', unit: '', fluid: 'salinity-meter', phrase: (v) => `salinity-meter ${v}`, hint: 'works out practical salinity itself' },
  { value: 'nacl', label: 'refractometer, dial for sodium chloride', unit: 'g/kg', fluid: 'refractometer, dial sodium-chloride', phrase: (v) => `refractometer ${v} g/kg, dial sodium-chloride`, hint: 'often printed ppt or ‰' },
  { value: 'nacl-litre', label: 'refractometer, dial for sodium chloride', unit: 'g/L', fluid: 'refractometer, dial sodium-chloride g/L', phrase: (v) => `refractometer ${v} g/L, dial sodium-chloride` },
  { value: 'seawater', label: 'refractometer, dial for seawater', unit: '', phrase: (v) => `refractometer ${v}, dial seawater`, hint: 'shows practical salinity' },
  { value: 'index', label: 'refractometer that shows the index', unit: '', phrase: (v) => `refractometer ${v}, dial index` },
  { value: 'hydrometer2020', label: 'hydrometer, marked 20/20', unit: '', fluid: 'hydrometer, marked 20/20', phrase: (v) => `hydrometer ${v}, marked 20/20` },
  { value: 'hydrometer2525', label: 'hydrometer, marked 25/25', unit: '', fluid: 'hydrometer, marked 25/25', phrase: (v) => `hydrometer ${v}, marked 25/25` },
  { value: 'hydrometer60', label: 'hydrometer, marked 60F/60F', unit: '', fluid: 'hydrometer, marked 60F/60F', phrase: (v) => `hydrometer ${v}, marked 60F/60F` },
  { value: 'density', label: 'density meter', unit: 'kg/m3', fluid: 'density', phrase: (v) => `density ${v} kg/m3` },
];

export interface Typed {
  id: number;
  kind: string;
  shown: string;
  u: string;
  celsius: string;
}

/** The phrase of a typed reading; undefined while it has no value. */
export function phraseOf(typed: Typed): string | undefined {
  const kind = kKinds.find((one) => one.value === typed.kind);
  if (!kind || typed.shown === '') return undefined;
  const value = typed.u === '' ? typed.shown : `${typed.shown} +- ${typed.u}`;
  return kind.phrase(value) + (typed.celsius === '' ? '' : `, at ${typed.celsius} degC`);
}

export function labelOf(kind: Kind): string {
  return kind.unit === '' ? kind.label : `${kind.label}, ${kind.unit.replace('m3', 'm³')}`;
}
