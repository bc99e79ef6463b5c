// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Waters that can be shown: natural seawater, files, targets turned into waters, the made-up water of a recipe.
import { get } from '../../api/client';
import { session } from '../../api/session.svelte';
import { readFile, type Table } from '../../lib/toml';
import type { Given } from '../recipes/given';
import { kDraft, recipeGiven, recipeOptions } from '../recipes/given';
import { list, text } from '../recipes/target';

export interface WaterName {
  id: string;
  title: string;
  /** What it is: target water, water, made-up water. */
  kind: string;
  from: string;
}
export interface WaterFile {
  file: Given;
  materials: Given;
  /** The target behind it, where it is one. */
  target?: Table;
}

export const kNatural = 'natural';

interface Kept {
  state: { target: Table };
}
function ownDrafts(): Array<{ id: string; title: string; target: Table }> {
  const place = (what: string) => `brinewright.workbench.${session.person?.id ?? ''}.${what}`;
  const read = <T>(what: string): T | undefined => {
    try {
      return (JSON.parse(localStorage.getItem(place(what)) ?? 'null') as T | null) ?? undefined;
    } catch {
      return undefined;
    }
  };
  const now = read<Kept['state']>('now');
  const named = Object.entries(read<Record<string, Kept>>('drafts') ?? {});
  return [
    ...(now?.target ? [{ id: 'now:', title: text(now.target['name']), target: now.target }] : []),
    ...named.map(([name, one]) => ({ id: `kept:${name}`, title: name, target: one.state.target })),
  ];
}

export async function waters(): Promise<WaterName[]> {
  const [answer, recipes] = await Promise.all([get('/api/v1/documents'), recipeOptions()]);
  const documents = answer.documents
    .filter((one) => one.kind === 'target' || one.kind === 'water')
    .map((one) => ({
      id: `document:${one.id}`,
      title: one.title.replace(/^target of /, ''),
      kind: one.kind === 'target' ? 'target water' : 'water',
      from: one.from === 'books' ? 'recipe version of the books' : 'example',
    }));
  const order = (one: WaterName) => Number(one.from === 'example');
  return [
    ...documents.sort((a, b) => order(a) - order(b)),
    ...ownDrafts().map((one) => ({ id: one.id, title: one.title, kind: 'target water', from: one.id === 'now:' ? 'draft on the workbench' : 'own draft' })),
    ...recipes.map((one) => ({ id: `recipe:${one.value}`, title: one.label, kind: 'made-up water', from: one.value === kDraft ? 'draft on the workbench' : 'recipe version of the books' })),
  ];
}

/** A target as a water: what it names at its targets, the rest as it says. */
export function waterOfTarget(target: Table): Table {
  const constituents: Table = {};
  for (const entry of list(target, 'constituent')) {
    const aim = entry['target'];
    if (typeof aim === 'string' && aim !== 'natural') constituents[text(entry['symbol'])] = aim;
  }
  const water: Table = { format: 'brinewright/1', kind: 'water', name: text(target['name']) };
  if (target['temperature'] !== undefined) water['temperature'] = target['temperature'];
  if (target['rest'] === 'natural' && target['salinity'] !== undefined) water['seawater'] = target['salinity'];
  if (Object.keys(constituents).length > 0) water['constituents'] = constituents;
  return water;
}

function asWater(target: Table): WaterFile {
  return { file: [{ name: 'target', text: JSON.stringify(waterOfTarget(target)) }], materials: [], target };
}

export async function waterFile(id: string, salinity: string): Promise<WaterFile> {
  if (id === kNatural) {
    const water = { format: 'brinewright/1', kind: 'water', name: `Natural seawater, S_P ${salinity}`, seawater: salinity };
    return { file: [{ name: 'seawater', text: JSON.stringify(water) }], materials: [] };
  }
  if (id.startsWith('recipe:')) {
    const given = recipeGiven(id.slice('recipe:'.length));
    if (given) return { file: given.recipe, materials: given.materials };
  }
  if (id.startsWith('document:')) {
    const name = id.slice('document:'.length);
    const document = await get('/api/v1/document', { id: name });
    if (document.kind === 'water') return { file: [{ document: name }], materials: [] };
    return asWater(readFile(document.text));
  }
  const own = ownDrafts().find((one) => one.id === id);
  if (own) return asWater(own.target);
  throw new Error('This water is not there any more: choose another');
}
