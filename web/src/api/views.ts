// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What the commands print with --json: numbers are decimal text, as they are kept.

export interface Signed {
  at: string;
  person: string;
  name: string;
  duty: string;
  meaning: string;
  mark: string;
}
export interface Addition {
  step: number;
  material: string;
  lot: string;
  target_kg: string;
  tolerance_kg: string;
  scale: string;
  into: string;
  cautions: string[];
}
export interface Batch {
  number: string;
  product: string;
  recipe: string;
  size_kg: string;
  state: string;
  additions: Addition[];
  adjustment_approved?: Signed;
  blend_g_per_kg_purified_water: string;
  blended_by?: string;
  changes: Array<{ material: string; recipe_share: string; batch_share: string }>;
  invented: boolean;
  made_on?: string;
  notices: string[];
  planned_at: string;
  planned_by: string;
  premix: Array<{ carrier_kg: string; total_kg: string }>;
  premix_carrier: string;
  rework_of: string;
  state_before_hold?: string;
  water: Array<{ symbol: string; mol_per_kg: string; u_mol_per_kg: string }>;
  yield?: { packed_kg: string; packs: number; sampled_kg: string; swept_kg: string };
}
export interface Weighing {
  at: string;
  batch: string;
  by: string;
  by_hand: boolean;
  lot: string;
  material: string;
  net: string;
  net_kg: string;
  part: number;
  scale: string;
  step: number;
  tare: string;
}
export interface Departure {
  number: string;
  batch: string;
  state: string;
  what: string;
  about?: string;
  step?: number;
  raised_by?: string;
  raised_at?: string;
  answer?: string;
  answered_by?: string;
  closed_by?: string;
}
export interface BatchShow {
  version: 1;
  batch: Batch;
  weighings: Weighing[];
  departures: Departure[];
}

export function shownId(weighing: Weighing): string {
  return `${weighing.batch}/${weighing.step}.${weighing.part}`;
}
