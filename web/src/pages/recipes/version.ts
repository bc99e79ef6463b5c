// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// A recipe version as the books hold it; numbers are decimal text.
import type { GoalRow, Signed } from '../../api/views';

export interface RecipeBody {
  product: string;
  number: number;
  state: string;
  why: string;
  drafted_by: string;
  approved?: Signed;
  blend_g_per_kg_purified_water: string;
  dissolved_g_per_kg: string;
  program: string;
  data_digest: string;
  invented: boolean;
  target: string;
  recipe: string;
  materials: string;
  shares: Array<{ material: string; formula: string; share: string; hazards: string[]; cautions: string[] }>;
  water: Array<{ symbol: string; mol_per_kg: string; u_mol_per_kg: string }>;
}
export interface RecipeShow {
  version: 1;
  mark: string;
  recipe: RecipeBody;
  water_against_target: GoalRow[];
  /** The version in use that approving this one retires; empty: none. */
  replaces: string;
  /** The one that was in use before this was approved, and is retired; empty: none. */
  replaced: string;
}
