// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// A table as text: tabs for a spreadsheet's clipboard, commas for a file. Text cells cannot become formulas.
import { decimal } from './decimal';

/** A text cell that a spreadsheet would take for a formula, also by a sign of full width, gets an apostrophe; true
 *  numbers are left alone. */
export function guarded(cell: string): string {
  return /^[=+\-@\t\r\n\0\uff1d\uff0b\uff0d\uff20]/.test(cell) && !decimal(cell) ? `'${cell}` : cell;
}

function csvCell(cell: string): string {
  const safe = guarded(cell);
  return /[",\n\r]/.test(safe) ? `"${safe.replace(/"/g, '""')}"` : safe;
}

export function asCsv(rows: string[][]): string {
  return rows.map((row) => row.map(csvCell).join(',')).join('\r\n') + '\r\n';
}

export function asTabs(rows: string[][]): string {
  return rows.map((row) => row.map((cell) => guarded(cell.replace(/[\t\r\n]+/g, ' '))).join('\t')).join('\n');
}

/** Offers a text as a file. */
export function download(name: string, text: string, type = 'text/csv;charset=utf-8'): void {
  const address = URL.createObjectURL(new Blob([text], { type }));
  const link = document.createElement('a');
  link.href = address;
  link.download = name;
  link.click();
  setTimeout(() => URL.revokeObjectURL(address), 10_000);
}

/** Into the clipboard, also where the page came over plain HTTP. */
export async function copy(text: string): Promise<void> {
  if (navigator.clipboard) return navigator.clipboard.writeText(text);
  const area = document.createElement('textarea');
  area.value = text;
  area.className = 'out-of-sight';
  document.body.append(area);
  area.select();
  const done = document.execCommand('copy');
  area.remove();
  if (!done) throw new Error('the browser does not let this page copy');
}

/** Pads with spaces as wide as digits, so that right-aligned numbers meet at their points. */
export function alignedAtPoint(cells: string[]): string[] {
  const isNumber = (cell: string) => /^[<>+\u2212-]?\s?[\d\u202f]/.test(cell);
  const fraction = (cell: string) => {
    const at = cell.indexOf('.');
    return at < 0 || !isNumber(cell) ? '' : cell.slice(at);
  };
  const all = cells.map(fraction);
  const count = (text: string, what: RegExp) => text.match(what)?.length ?? 0;
  // Digits, points and the spaces of groups each have their own width: each is made up for by its own kind.
  const padding = ([[/\./g, '\u2008'], [/\d/g, '\u2007'], [/\u202f/g, '\u202f']] as Array<[RegExp, string]>).map(([what, pad]) => ({ what, pad, most: Math.max(0, ...all.map((text) => count(text, what))) }));
  return cells.map((cell, at) => (isNumber(cell) || cell === '' ? cell + padding.map(({ what, pad, most }) => pad.repeat(most - count(all[at] ?? '', what))).join('') : cell));
}
