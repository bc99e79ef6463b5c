// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// The results of a batch in the books as the table of units that the homogeneity page judges.
import type { ResultRow, ResultsShow } from '../api/views';
import { decimal, plain, roundDigits, shift } from './decimal';
import type { Sign } from './reading';
import { kFewestResults, kFewestUnits, type UnitRow, type UnitsTable } from './units-table';

/** What counts as one unit: a sample (a pack, or increments kept apart), or a test portion of one sample. */
export type UnitIs = 'sample' | 'portion';
/** One constituent by one method: results of two methods are not laid together. */
export interface Tested {
  key: string;
  analyte: string;
  method: string;
  results: number;
}

const kDigits = 6; // as the page of a run shows a result
const kMilli = 3;

/** A second person has compared it with its source, or it is counted. A result below the limit cannot be judged. */
function usable(result: ResultRow): boolean {
  return (result.state === 'checked' || result.state === 'counted') && !result.below_limit && decimal(result.mol_per_kg) !== undefined;
}

export function testedOf(shown: ResultsShow): Tested[] {
  const found = new Map<string, Tested>();
  for (const result of shown.runs.flatMap((run) => run.results).filter(usable)) {
    const key = `${result.analyte} by ${result.method}`;
    const one = found.get(key) ?? { key, analyte: result.analyte, method: result.method, results: 0 };
    one.results += 1;
    found.set(key, one);
  }
  return [...found.values()].sort((a, b) => (a.key < b.key ? -1 : 1));
}

export interface Taken {
  table: UnitsTable;
  /** Why it cannot be judged; empty where it can. */
  lacks: string;
}

/** The results of one constituent by one method, a row for each unit in the order of taking, read by `sign`. */
export function unitsOf(shown: ResultsShow, tested: Tested, batch: { number: string; invented: boolean }, unitIs: UnitIs, sign: Sign): Taken {
  const units = new Map<string, string[]>();
  const all = shown.runs.flatMap((run) => run.results).filter((r) => usable(r) && r.analyte === tested.analyte && r.method === tested.method);
  const place = (r: ResultRow) => shown.portions.findIndex((p) => `${p.sample}/${p.number}` === r.portion);
  for (const result of [...all].sort((a, b) => place(a) - place(b))) {
    const name = unitIs === 'sample' ? result.sample : result.portion;
    const cells = units.get(name) ?? [];
    cells.push(inMilli(result.mol_per_kg).replace('.', sign));
    units.set(name, cells);
  }
  const columns = Math.max(kFewestResults, ...[...units.values()].map((cells) => cells.length));
  const rows: UnitRow[] = [...units].map(([name, cells]) => ({ name, cells: Array.from({ length: columns }, (_, i) => cells[i] ?? '') }));
  const table = {
    name: `${tested.key}, batch ${batch.number}, a unit for each ${unitIs === 'sample' ? 'sample' : 'test portion'}`,
    unit: tested.analyte === 'alkalinity' ? 'meq/kg' : 'mmol/kg',
    invented: batch.invented,
    columns,
    rows,
  };
  return { table, lacks: lacksOf([...units.values()].map((cells) => cells.length), unitIs) };
}

/** By what the units lie: by sample where there are enough of them, else by test portion. */
export function usualUnit(shown: ResultsShow, tested: Tested): UnitIs {
  const samples = new Set(shown.runs.flatMap((run) => run.results).filter((r) => usable(r) && r.analyte === tested.analyte && r.method === tested.method).map((r) => r.sample));
  return samples.size >= kFewestUnits ? 'sample' : 'portion';
}

function inMilli(molPerKg: string): string {
  const value = decimal(molPerKg);
  return value ? plain(roundDigits(shift(value, kMilli), kDigits)) : '';
}

function lacksOf(counts: number[], unitIs: UnitIs): string {
  const words = unitIs === 'sample' ? ['sample', 'samples'] : ['test portion', 'test portions'];
  if (counts.length < kFewestUnits) return `${counts.length} ${words[counts.length === 1 ? 0 : 1]} with checked results: three or more are needed, ten are usual`;
  const least = Math.min(...counts);
  if (least < kFewestResults) return `a ${words[0]} has one result only: each needs two or more`;
  return '';
}
