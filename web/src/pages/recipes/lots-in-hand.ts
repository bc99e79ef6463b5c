// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// The lots that a recipe may be made of now, as a file for the solver: accepted, in date, with something left, of
// materials that are on. Those of the books, or of an example.
import { get, type Schemas } from '../../api/client';
import type { Table } from '../../lib/toml';
import { readFile } from '../../lib/toml';
import { stocks } from '../materials/lots';
import { list, text } from './target';

export const kBooks = 'books';
export interface LotRow {
  material: string;
  number: string;
  stock: string;
}
export interface InHand {
  rows: LotRow[];
  file: Schemas['GivenFile'];
}

/** A lot's own file with what the books say of it now. */
export function lotTable(row: { body?: unknown }, left: string): Table {
  const body = (row.body ?? {}) as Record<string, string>;
  const made = readFile(body['make_up'] ?? '{}');
  return { ...made, material: body['material'] ?? '', number: body['number'] ?? '', state: 'accepted', stock: `${left} kg` };
}

export function inHand(lots: Table[], used: Set<string>): InHand {
  const mine = lots.filter((lot) => lot['state'] === 'accepted' && used.has(text(lot['material'])));
  return {
    rows: mine.map((lot) => ({ material: text(lot['material']), number: text(lot['number']), stock: text(lot['stock']) })),
    file: { name: 'lots', text: JSON.stringify({ format: 'brinewright/1', kind: 'lots', lot: mine }) },
  };
}

export async function lotsInHand(source: string, used: Set<string>, day = new Date().toISOString().slice(0, 10)): Promise<InHand> {
  if (source !== kBooks) return inHand(list(readFile((await get('/api/v1/document', { id: source })).text), 'lot'), used);
  const [answer, left] = await Promise.all([get('/api/v1/records', { kind: 'lot', state: 'accepted', limit: 500 }), stocks()]);
  const dated = (row: Schemas['Row'], key: string) => String((row.body as Record<string, unknown> | undefined)?.[key] ?? '');
  const usable = answer.rows
    .filter((row) => dated(row, 'use_by') >= day && Number(left.get(row.id) ?? '0') > 0)
    .sort((a, b) => dated(a, 'received_at').localeCompare(dated(b, 'received_at')));
  return inHand(usable.map((row) => lotTable(row, left.get(row.id) ?? '0')), used);
}
