// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// A table of numbers as a spreadsheet, an instrument or a file gives it as text: cells by line, and the lines of its head
// that begin with #. The programs read points; decimal commas are turned where a comma cannot part cells.

interface PastedTable {
  /** Without the #. */
  head: string[];
  /** The line of names; empty where the first line holds numbers. */
  names: string[];
  rows: string[][];
  /** Decimal commas were turned into points. */
  turned: boolean;
}

const kNumber = /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i;
const kComma = /^[+-]?\d+,\d+(e[+-]?\d+)?$/i;

export function isNumber(cell: string): boolean {
  return kNumber.test(cell);
}

export function readTable(text: string): PastedTable {
  const lines = text
    .replace(/^\ufeff/, '')
    .split(/\r\n|\r|\n/)
    .map((line) => line.replace(/[ \u00a0]+$/, ''))
    .filter((line) => line.trim() !== '');
  const head = lines.filter((line) => line.startsWith('#')).map((line) => line.slice(1).trim());
  const body = lines.filter((line) => !line.startsWith('#'));
  const mark = markOf(body);
  let turned = false;
  const rows = body.map((line) =>
    cellsOf(line, mark).map((cell) => {
      const plain = cell.trim().replace(/^[\u2212\u2013]/, '-');
      if (mark === ',' || !kComma.test(plain)) return plain;
      turned = true;
      return plain.replace(',', '.');
    }),
  );
  // Names: no cell behind the first is a number. A first column of names is usual, a first row of numbers is data.
  const first = rows[0] ?? [];
  const named = first.length > 0 && !first.some((cell, i) => isNumber(cell) && (i > 0 || first.length === 1));
  return { head, names: named ? first : [], rows: named ? rows.slice(1) : rows, turned };
}

/** What parts the cells: a tab, else a semicolon, else a comma, else blanks. */
function markOf(lines: string[]): string {
  for (const mark of ['\t', ';', ',']) if (lines.some((line) => line.includes(mark)) && !(mark === ',' && onlyDecimals(lines))) return mark;
  return ' ';
}
/** "4,10 187,56": the commas are decimal ones, and blanks part the cells. */
function onlyDecimals(lines: string[]): boolean {
  return lines.every((line) => line.trim().split(/\s+/).length > 1 && line.trim().split(/\s+/).every((cell) => !cell.includes(',') || kComma.test(cell)));
}

function cellsOf(line: string, mark: string): string[] {
  if (mark === ' ') return line.trim().split(/\s+/);
  if (!line.includes('"')) return line.split(mark);
  const cells = [''];
  let quoted = false;
  for (let i = 0; i < line.length; i += 1) {
    const c = line.charAt(i);
    if (c === '"' && quoted && line.charAt(i + 1) === '"') {
      cells[cells.length - 1] += c;
      i += 1;
    } else if (c === '"') quoted = !quoted;
    else if (c === mark && !quoted) cells.push('');
    else cells[cells.length - 1] += c;
  }
  return cells;
}

/** What the lines of the head say: `name = "…"`, `salinity = 35.0`; others are left out. */
export function headValue(head: string[], key: string): string {
  for (const line of head) {
    const match = new RegExp(`^${key}\\s*=\\s*(.*)$`).exec(line);
    if (match) return (match[1] ?? '').trim().replace(/^"(.*)"$/, '$1');
  }
  return '';
}

/** A text in quotation marks, as files take it. */
export function quoted(text: string): string {
  return JSON.stringify(text.trim());
}
