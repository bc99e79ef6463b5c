// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// How large a batch of a recipe is taken to be: as the one that is asked for, else as the newest that was planned by it.
import { get, type Schemas } from '../../api/client';
import type { Batch } from '../../api/views';
import { roundDigits, decimal, plain } from '../../lib/decimal';

export interface UsualBatch {
  /** Digits of its mass. */
  kg: string;
  /** Whence it is. */
  said: string;
}
/** What the computation takes where nobody says. */
export const kUnsaid: UsualBatch = { kg: '500', said: 'taken as none is planned yet' };
const kDigits = 6;

/** Of batches, newest first: the wanted one, the newest of this version, of this product, or of all. */
export function usualOf(rows: Schemas['Row'][], recipe: string, wanted = ''): UsualBatch {
  const of = (row: Schemas['Row']) => (row.body ?? {}) as unknown as Partial<Batch>;
  const product = recipe.slice(0, Math.max(0, recipe.lastIndexOf('/')));
  const found =
    rows.find((row) => row.id === wanted) ??
    rows.find((row) => of(row).recipe === recipe) ??
    rows.find((row) => product !== '' && of(row).product === product) ??
    rows[0];
  const kg = decimal((found && of(found).size_kg) ?? '');
  if (!found || !kg) return kUnsaid;
  return { kg: plain(roundDigits(kg, kDigits)).replace(/(\.\d*?)0+$/, '$1').replace(/\.$/, ''), said: `as that of batch ${found.id}${of(found).recipe === recipe ? '' : `, of ${of(found).recipe}`}` };
}

export async function usualBatch(recipe: string, wanted: string): Promise<UsualBatch> {
  const [{ rows }, one] = await Promise.all([
    get('/api/v1/records', { kind: 'batch', descending: true, limit: 100 }),
    wanted === '' ? undefined : get('/api/v1/records', { kind: 'batch', prefix: wanted, limit: 1 }),
  ]);
  return usualOf([...(one?.rows ?? []).filter((row) => row.id === wanted), ...rows], recipe, wanted);
}
