// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What a column of a DataTable is.

export interface Column<R> {
  key: string;
  head: string;
  /** Stands in the unit row under the head. */
  unit?: string;
  kind?: 'text' | 'number' | 'status' | 'id';
  /** The cell as it is copied and exported: plain digits, plain words. */
  value: (row: R) => string;
  /** The cell as it is seen, where that differs: grouped digits. */
  show?: (row: R) => string;
  href?: (row: R) => string | undefined;
  /** Where the table is too wide for its place, this stands in a second line of the row, with its head. */
  detail?: boolean;
}

/** Text sorts as text, numbers as numbers; what is empty or no number stands last. */
export function sorted<R>(rows: R[], column: Column<R> | undefined, descending: boolean): R[] {
  if (!column) return rows;
  const turn = descending ? -1 : 1;
  const number = (row: R) => {
    const text = column.value(row);
    return text === '' ? NaN : Number(text);
  };
  return [...rows].sort((a, b) => {
    if (column.kind !== 'number') return turn * column.value(a).localeCompare(column.value(b), 'en', { numeric: true });
    const [x, y] = [number(a), number(b)];
    if (Number.isNaN(x) || Number.isNaN(y)) return Number(Number.isNaN(x)) - Number(Number.isNaN(y));
    return turn * (x - y);
  });
}
