// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Lots, materials and suppliers as the books hold them, and the files that new ones are sent as.
import { get } from '../../api/client';
import { decimal, plain, roundTo, subtract } from '../../lib/decimal';
import { grouped } from '../../lib/quantity';
import { readFile, type Table, type Value } from '../../lib/toml';
import { shownUnit } from '../recipes/verdicts';

export interface LotBody {
  number: string;
  material: string;
  supplier: string;
  quantity: string;
  quantity_kg: string;
  received_at: string;
  received_by: string;
  use_by: string;
  state: string;
  make_up: string;
  certificate: string;
  judged_by: string;
  judged_why: string;
}

const kGram = -3;

/** What is left of each lot, in kg, by its number. */
export async function stocks(): Promise<Map<string, string>> {
  const answer = await get('/api/v1/records', { kind: 'stock', limit: 1000 });
  return new Map(answer.rows.map((row) => [row.id, left(row)]));
}
export function left(row: { body?: unknown }): string {
  const body = (row.body ?? {}) as Record<string, string>;
  const received = decimal(body['received_kg'] ?? '');
  const used = decimal(body['used_kg'] ?? '');
  if (!received || !used) return '';
  const rest = roundTo(subtract(received, used), kGram);
  return plain(rest.negative ? { ...rest, negative: false, digits: 0n } : rest);
}

export function table(text: string): Table {
  try {
    return readFile(text);
  } catch {
    return {};
  }
}

/** "99.2 % ± 0.3 %", "97.0 % to 103.0 %", "below 1 mg/kg (not found)", "at most 0.5 %". */
export function stated(value: Value | undefined): string {
  if (value === undefined) return 'not stated';
  if (typeof value === 'string') return pretty(value);
  if (typeof value !== 'object' || Array.isArray(value)) return String(value);
  const of = (key: string) => (typeof value[key] === 'string' ? pretty(value[key]) : '');
  if (of('value')) return of('u') ? `${of('value')} ± ${of('u')}` : `${of('value')}, u not stated`;
  if (of('below')) return `not found, below ${of('below')}`;
  if (of('low') && of('high')) return `${of('low')} to ${of('high')}`;
  return of('high') ? `at most ${of('high')}` : of('low') ? `at least ${of('low')}` : 'not stated';
}
function pretty(text: string): string {
  return shownUnit(text.replace(/^-?\d[\d.]*/, grouped));
}

export interface Stated {
  of: string;
  says: string;
}
/** Impurities or composition of a make-up, in the order of the file. */
export function entries(table: Table, key: string): Stated[] {
  const rows = table[key];
  return Array.isArray(rows) ? rows.map((row) => ({ of: String((row as Table)['of'] ?? ''), says: stated(row) })) : [];
}

interface NewLot {
  material: string;
  number: string;
  supplier: string;
  quantity: string;
  useBy: string;
  assay: string;
  assayU: string;
  moisture: string;
}
/** A new lot as a file of kind "lots". */
export function lotFile(lot: NewLot): string {
  const made: Table = { material: lot.material, number: lot.number.trim(), supplier: lot.supplier, stock: `${lot.quantity} kg` };
  if (lot.useBy.trim() !== '') made['use_by'] = lot.useBy.trim();
  if (lot.assay !== '') made['assay'] = lot.assayU === '' ? { value: `${lot.assay} %` } : { value: `${lot.assay} %`, u: `${lot.assayU} %` };
  if (lot.moisture !== '') made['moisture'] = `${lot.moisture} %`;
  return JSON.stringify({ format: 'brinewright/1', kind: 'lots', lot: [made] });
}

const kChunk = 0x8000;
/** A file's bytes in base64. */
export async function base64(file: File): Promise<string> {
  const bytes = new Uint8Array(await file.arrayBuffer());
  let text = '';
  for (let at = 0; at < bytes.length; at += kChunk) text += String.fromCharCode(...bytes.subarray(at, at + kChunk));
  return btoa(text);
}
