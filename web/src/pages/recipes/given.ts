// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// A recipe and its materials as they are given to a computation: a version of the books, or the draft on the workbench.
import { get, type Schemas } from '../../api/client';
import { session } from '../../api/session.svelte';

export type Given = Array<Schemas['GivenFile']>;
export interface RecipeGiven {
  recipe: Given;
  materials: Given;
}
interface KeptRecipe {
  name: string;
  text: string;
  materialsId: string;
}
export const kDraft = 'draft';

const place = () => `brinewright.workbench.${session.person?.id ?? ''}.recipe`;

/** The workbench's newest whole answer, so that the vat can be tried with it. */
export function keepDraftRecipe(recipe: KeptRecipe): void {
  try {
    localStorage.setItem(place(), JSON.stringify(recipe));
  } catch {
    localStorage.removeItem(place());
  }
}
function draftRecipe(): KeptRecipe | undefined {
  try {
    return (JSON.parse(localStorage.getItem(place()) ?? 'null') as KeptRecipe | null) ?? undefined;
  } catch {
    return undefined;
  }
}

export function recipeGiven(id: string): RecipeGiven | undefined {
  if (id !== kDraft) return { recipe: [{ document: `recipe:${id}:recipe` }], materials: [{ document: `recipe:${id}:materials` }] };
  const draft = draftRecipe();
  return draft && { recipe: [{ name: 'recipe', text: draft.text }], materials: [{ document: draft.materialsId }] };
}

interface Option {
  value: string;
  label: string;
}

/** Versions of the books, those in use first, and the draft where there is one. */
export async function recipeOptions(): Promise<Option[]> {
  const answer = await get('/api/v1/records', { kind: 'recipe', limit: 500 });
  const rank = (row: Schemas['Row']) => ['in use', 'offered', 'draft', 'retired'].indexOf(row.state);
  const versions = [...answer.rows].sort((a, b) => rank(a) - rank(b) || a.id.localeCompare(b.id));
  const draft = draftRecipe();
  return [
    ...versions.map((row) => ({ value: row.id, label: `${row.id} (${row.state})` })),
    ...(draft ? [{ value: kDraft, label: `${draft.name} (draft on the workbench)` }] : []),
  ];
}
