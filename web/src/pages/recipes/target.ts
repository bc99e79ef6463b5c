// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// A target water as a draft: its file as a table, changed entry by entry. Digits stay as they were typed.
import type { Constituent, Solved } from '../../api/computed';
import { add, decimal, plain, subtract } from '../../lib/decimal';
import { copied } from '../../lib/quantity';
import type { Table, Value } from '../../lib/toml';

export type Edge = 'target' | 'low' | 'high';

export interface Quantity {
  digits: string;
  unit: string;
}

/** "445 mg/L" as digits and unit; undefined for words such as "natural". */
export function quantity(value: Value | undefined): Quantity | undefined {
  if (typeof value === 'number') return { digits: copied(value), unit: '' };
  if (typeof value !== 'string') return undefined;
  const match = /^\s*([+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d+)?)\s*(.*)$/.exec(value);
  return match ? { digits: match[1] ?? '', unit: (match[2] ?? '').trim() } : undefined;
}

export function list(table: Table, key: string): Table[] {
  const rows = table[key];
  return Array.isArray(rows) ? (rows as Table[]) : [];
}

function into(table: Table, key: string): Table[] {
  const rows = (table[key] ??= []);
  return rows as Table[];
}

export function text(value: Value | undefined): string {
  return typeof value === 'string' ? value : typeof value === 'number' ? copied(value) : '';
}

const kDigits = 6;
/** As many as are typed: only the noughts behind go. */
const kAll = 15;
const cut = (value: number) => copied(value, kDigits);

/** What stands in a field: the digits of the file where they are in the row's unit, else those of the answer. */
export function edgeOf(target: Table, row: Pick<Constituent, 'symbol' | 'unit' | Edge>, edge: Edge): string {
  const entry = entryOf(target, row.symbol);
  const own = quantity(entry?.[edge]);
  if (own && own.unit === row.unit) return own.digits;
  const value = row[edge];
  return value === null ? '' : cut(value);
}

export function entryOf(target: Table, symbol: string): Table | undefined {
  return list(target, 'constituent').find((entry) => entry['symbol'] === symbol);
}

/** Whether the target names it itself, or "rest" fills it. */
export function isNamed(target: Table, symbol: string): boolean {
  return entryOf(target, symbol) !== undefined;
}

const kFilled = 5;
const kLastServed = 6;

export function priorityOf(target: Table, symbol: string): string {
  const entry = entryOf(target, symbol);
  if (entry) return text(entry['priority'] ?? 3);
  return String(symbol === 'Na' || symbol === 'Cl' ? kLastServed : kFilled);
}

/** The entry that the change goes into; a constituent that "rest" fills is named first, as it stood. */
function named(target: Table, row: Constituent): Table {
  const found = entryOf(target, row.symbol);
  if (found) return found;
  const made: Table = { symbol: row.symbol, target: 'natural', priority: Number(priorityOf(target, row.symbol)) };
  into(target, 'constituent').push(made);
  return made;
}

/** A moved target takes its band along by the same amount. */
function movedBand(target: Table, row: Constituent, digits: string): void {
  const entry = named(target, row);
  const was = decimal(edgeOf(target, row, 'target'));
  const now = decimal(digits);
  if (!was || !now) return;
  const step = subtract(now, was);
  for (const edge of ['low', 'high'] as const) {
    const before = decimal(edgeOf(target, row, edge));
    if (!before) continue;
    const moved = add(before, step);
    entry[edge] = `${moved.negative ? '0' : copied(plain(moved), kAll)} ${row.unit}`;
  }
}

/** Sets target, low or high of a constituent. With `along`, a band moves with its target. */
export function setEdge(target: Table, row: Constituent, edge: Edge, digits: string, along: boolean): void {
  if (edge === 'target' && along) movedBand(target, row, digits);
  named(target, row)[edge] = `${digits} ${row.unit}`;
}

export function setPriority(target: Table, row: Constituent, priority: number): void {
  named(target, row)['priority'] = priority;
}

/** A new entry of a list: constituent, ratio or ceiling. */
export function addEntry(target: Table, key: string, entry: Table): void {
  into(target, key).push(entry);
}
export function dropEntry(target: Table, key: string, at: number): void {
  into(target, key).splice(at, 1);
  if (into(target, key).length === 0) delete target[key];
}

/** The recipe of an answer as a file, to be compared, dissolved or kept. */
export function recipeFile(target: Table, solved: Solved): string {
  const file: Table = {
    format: 'brinewright/1',
    kind: 'recipe',
    name: text(target['name']) || solved.target,
    target: text(target['name']) || solved.target,
    dissolved_g_per_kg: solved.dissolved_g_per_kg,
    part: solved.parts.map((part) => ({
      material: part.material,
      g_per_kg_purified_water: part.g_per_kg_purified_water,
      share_percent: part.share_percent,
    })),
  };
  for (const key of ['temperature', 'invented', 'purified_water']) {
    const value = target[key];
    if (value !== undefined) file[key] = value;
  }
  return JSON.stringify(file);
}

/** Where a refusal points: "target: constituent 2.low: …" is constituent 1 (from nought) and its key. */
export function pointsAt(message: string): { list: string; at: number; key: string; said: string } | undefined {
  const match = /^target: (\w+) (\d+)(?:\.(\w+))?: (.*)$/s.exec(message);
  if (!match) return undefined;
  return { list: match[1] ?? '', at: Number(match[2]) - 1, key: match[3] ?? '', said: match[4] ?? '' };
}
