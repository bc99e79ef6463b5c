// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Results typed in a grid of test portions by analytes: cells to orders, blocks pasted from a spreadsheet.
import type { Schemas } from '../api/client';
import { readNumber, type Sign } from './reading';

export type Cells = Record<string, string>;
export interface GridRow {
  name: string;
  kind: 'portion' | 'check';
}

export function cellKey(row: string, analyte: string): string {
  return `${row}\u0000${analyte}`;
}

type CellRead = { kind: 'empty' } | { kind: 'digits'; digits: string } | { kind: 'wrong'; why: string };

/** "412.3", "412,3", or "< 0.5" for what lies below the reporting limit. A doubt about a mark is a fault here: type it out. */
export function readCell(text: string, sign: Sign): CellRead {
  const below = /^\s*</.test(text);
  const read = readNumber(text.replace(/^\s*</, ''), sign);
  if (read.kind === 'empty') return below ? { kind: 'wrong', why: 'below which value?' } : { kind: 'empty' };
  if (read.kind === 'refused') return { kind: 'wrong', why: read.why };
  if (read.kind === 'ask') return { kind: 'wrong', why: `${read.choices[0]} or ${read.choices[1]}? Write one more digit, or your own decimal sign` };
  if (read.unit !== '') return { kind: 'wrong', why: `without ${read.unit}: the unit stands in the head` };
  return { kind: 'digits', digits: (below ? '< ' : '') + read.plain };
}

export interface Filled {
  results: Schemas['ResultLine'][];
  wrong: Array<{ row: string; analyte: string; why: string }>;
}

/** All filled cells as lines of one run, row by row. */
export function filled(
  rows: GridRow[],
  analytes: string[],
  cells: Cells,
  sign: Sign,
  more: { method: string; unit: string; dilution?: string; read_at?: string },
): Filled {
  const out: Filled = { results: [], wrong: [] };
  for (const row of rows) {
    for (const analyte of analytes) {
      const read = readCell(cells[cellKey(row.name, analyte)] ?? '', sign);
      if (read.kind === 'wrong') out.wrong.push({ row: row.name, analyte, why: read.why });
      if (read.kind !== 'digits') continue;
      const own = row.kind === 'portion' ? { portion: row.name } : { check_sample: row.name };
      const rest = Object.fromEntries(Object.entries(more).filter(([, value]) => value !== undefined && value !== ''));
      out.results.push({ ...own, analyte, digits: read.digits, ...(rest as { method: string }) });
    }
  }
  return out;
}

/** "14 results and 3 readings of check samples": what is compared with its source, and what judges the run beside it. */
export function countInWords(results: number, checks: number): string {
  const of = (count: number, one: string, more: string) => `${count} ${count === 1 ? one : more}`;
  const own = of(results, 'result', 'results');
  const beside = of(checks, 'reading of a check sample', 'readings of check samples');
  return checks === 0 ? own : results === 0 ? beside : `${own} and ${beside}`;
}

/** The same of lines that are about to be entered. */
export function linesInWords(lines: Schemas['ResultLine'][]): string {
  const checks = lines.filter((line) => line.check_sample !== undefined).length;
  return countInWords(lines.length - checks, checks);
}

/** A block of tabs and lines pasted at a cell: which cells it fills. What would lie outside the grid is left out. */
export function pasted(text: string, rows: GridRow[], analytes: string[], at: { row: number; column: number }): Cells {
  const cells: Cells = {};
  text
    .replace(/\r?\n$/, '')
    .split(/\r?\n/)
    .forEach((line, r) =>
      line.split('\t').forEach((value, c) => {
        const row = rows[at.row + r];
        const analyte = analytes[at.column + c];
        if (row && analyte) cells[cellKey(row.name, analyte)] = value.trim();
      }),
    );
  return cells;
}
