// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What is typed into the entry of results and not saved yet, by batch and method: in this browser alone. A value may be
// brought in from another page; then it is told beside its cell where it came from.
import { cellKey, type Cells } from './entry-grid';

const kPlace = 'brinewright.entry';

/** Where a brought value came from; told while the cell still holds these words. */
interface Brought {
  cell: string;
  words: string;
}
export interface EntryDraft {
  cells: Cells;
  brought: Record<string, Brought>;
}

function placeOf(batch: string, method: string): string {
  return `${kPlace}.${batch}.${method}`;
}
function read<T>(place: string, otherwise: T): T {
  try {
    return (JSON.parse(localStorage.getItem(place) ?? 'null') as T | null) ?? otherwise;
  } catch {
    return otherwise;
  }
}

export function readDraft(batch: string, method: string): EntryDraft {
  const place = placeOf(batch, method);
  return { cells: read<Cells>(place, {}), brought: read<EntryDraft['brought']>(`${place}.brought`, {}) };
}

export function keepDraft(batch: string, method: string, draft: EntryDraft): void {
  const place = placeOf(batch, method);
  localStorage.setItem(place, JSON.stringify(draft.cells));
  const still = Object.entries(draft.brought).filter(([key, one]) => draft.cells[key] === one.cell);
  if (still.length > 0) localStorage.setItem(`${place}.brought`, JSON.stringify(Object.fromEntries(still)));
  else localStorage.removeItem(`${place}.brought`);
}

export function dropDraft(batch: string, method: string): void {
  localStorage.removeItem(placeOf(batch, method));
  localStorage.removeItem(`${placeOf(batch, method)}.brought`);
}

/** Puts one value into the draft; what stood in other cells stays. */
export function bring(batch: string, method: string, at: { row: string; analyte: string }, value: Brought): void {
  const draft = readDraft(batch, method);
  const key = cellKey(at.row, at.analyte);
  draft.cells[key] = value.cell;
  draft.brought[key] = value;
  keepDraft(batch, method, draft);
}
