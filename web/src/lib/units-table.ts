// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// The table of the homogeneity page: a row for each unit, a column for each result; and the file that is made of it.
import { readCell } from './entry-grid';
import { headValue, isNumber, quoted, readTable } from './pasted-table';
import type { Sign } from './reading';

export interface UnitRow {
  name: string;
  cells: string[];
}
export interface UnitsTable {
  name: string;
  unit: string;
  invented: boolean;
  columns: number;
  rows: UnitRow[];
}

export const kFewestUnits = 3;
export const kFewestResults = 2;
const kUsualUnits = 10;

export function emptyTable(): UnitsTable {
  return { name: '', unit: 'mg/kg', invented: false, columns: kFewestResults, rows: blank(kUsualUnits, kFewestResults) };
}
function blank(rows: number, columns: number): UnitRow[] {
  return Array.from({ length: rows }, () => ({ name: '', cells: Array<string>(columns).fill('') }));
}

/** A file or a block as a whole table. What the head says of name and unit is taken, else what stood before. */
export function tableOf(text: string, before: UnitsTable): UnitsTable {
  const table = readTable(text);
  const named = table.names.length > 0 ? /^(unit|pack|sample)$/i.test(table.names[0] ?? '') || !table.rows.every((row) => isNumber(row[0] ?? '')) : table.rows.some((row) => !isNumber(row[0] ?? ''));
  const from = named ? 1 : 0;
  const columns = Math.max(kFewestResults, ...table.rows.map((row) => row.length - from));
  return {
    name: headValue(table.head, 'name') || before.name,
    unit: headValue(table.head, 'unit') || before.unit,
    invented: headValue(table.head, 'invented') === 'true',
    columns,
    rows: table.rows.map((row) => ({ name: named ? (row[0] ?? '') : '', cells: Array.from({ length: columns }, (_, i) => row[from + i] ?? '') })),
  };
}

/** A block pasted at a cell; column 0 is the name. The table grows where it has to. */
export function pastedAt(table: UnitsTable, text: string, row: number, column: number): UnitsTable {
  const read = readTable(text);
  const block = read.names.length > 0 ? [read.names, ...read.rows] : read.rows;
  if (row === 0 && column === 0 && (read.head.length > 0 || read.names.length > kFewestResults)) return tableOf(text, table);
  const columns = Math.max(table.columns, ...block.map((cells) => column - 1 + cells.length));
  const rows = table.rows.map((r) => ({ name: r.name, cells: [...r.cells, ...Array<string>(columns - table.columns).fill('')] }));
  while (rows.length < row + block.length) rows.push(...blank(1, columns));
  block.forEach((cells, i) => {
    const at = rows[row + i];
    cells.forEach((cell, k) => {
      if (!at) return;
      if (column + k === 0) at.name = cell;
      else at.cells[column + k - 1] = cell;
    });
  });
  return { ...table, columns, rows };
}

export interface JudgedUnit {
  name: string;
  digits: string[];
}
interface ReadUnits {
  units: JudgedUnit[];
  /** Cells that are wrong, by "row:column". */
  wrong: Map<string, string>;
  /** Why it cannot be judged yet; empty where it can. */
  missing: string;
}

/** The filled rows, read by the person's own decimal sign. */
export function readUnits(table: UnitsTable, sign: Sign): ReadUnits {
  const out: ReadUnits = { units: [], wrong: new Map(), missing: '' };
  const names = new Set<string>();
  table.rows.forEach((row, r) => {
    if (row.cells.every((cell) => cell.trim() === '')) return;
    const digits: string[] = [];
    row.cells.forEach((cell, c) => {
      const read = readCell(cell, sign);
      if (read.kind === 'wrong') out.wrong.set(`${r}:${c}`, read.why);
      else if (read.kind === 'empty') out.wrong.set(`${r}:${c}`, 'every unit has as many results as the others');
      else if (read.digits.startsWith('<')) out.wrong.set(`${r}:${c}`, 'a result below the limit cannot be judged here');
      else digits.push(read.digits);
    });
    const name = row.name.trim() === '' ? String(r + 1) : row.name.trim();
    if (names.has(name)) out.wrong.set(`${r}:name`, `${name} stands twice`);
    names.add(name);
    out.units.push({ name, digits });
  });
  if (out.wrong.size > 0) out.missing = `${out.wrong.size} ${out.wrong.size === 1 ? 'cell is' : 'cells are'} to be mended`;
  else if (out.units.length < kFewestUnits) out.missing = `Three units or more, ten are usual; there ${out.units.length === 1 ? 'is' : 'are'} ${out.units.length}`;
  return out;
}

/** The file that `sample homogeneity` reads. */
export function fileOf(table: UnitsTable, units: JudgedUnit[]): string {
  const cell = (text: string) => (/[",;\t]/.test(text) ? `"${text.replace(/"/g, '""')}"` : text);
  const head = ['# format = "brinewright/1"', '# kind = "readings"', `# name = ${quoted(table.name === '' ? 'units of a batch' : table.name)}`];
  if (table.unit.trim() !== '') head.push(`# unit = ${quoted(table.unit)}`);
  if (table.invented) head.push('# invented = true');
  const names = ['unit', ...Array.from({ length: table.columns }, (_, i) => `result ${i + 1}`)];
  return [...head, names.join(','), ...units.map((u) => [cell(u.name), ...u.digits].join(','))].join('\n') + '\n';
}
