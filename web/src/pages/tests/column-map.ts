// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What a column of an instrument's table may be, in the words of a page. The server proposes, changes and judges the map;
// the page only says what somebody chose.
import type { Schemas } from '../../api/client';

export type MapProposal = Schemas['MapProposal'];
export type MappedColumn = MapProposal['columns'][number];
export type Role = Schemas['ColumnRole'];

export const kRoles: Array<{ value: Role; label: string }> = [
  { value: 'sample', label: 'sample' },
  { value: 'analyte', label: 'readings of one analyte' },
  { value: 'analyte-name', label: 'name of the analyte' },
  { value: 'value', label: 'reading (value)' },
  { value: 'unit', label: 'unit of the reading' },
  { value: 'wavelength', label: 'wavelength' },
  { value: 'dilution', label: 'dilution' },
  { value: 'sample-mass', label: 'mass of sample' },
  { value: 'final-mass', label: 'mass after dilution' },
  { value: 'final-volume', label: 'volume after dilution' },
  { value: 'blank-flag', label: 'says that it is a blank' },
  { value: 'date', label: 'day' },
  { value: 'time', label: 'time of day' },
  { value: 'operator', label: 'person' },
  { value: 'ignored', label: 'not read' },
];

/** Which fields a column of a role has beside it. */
export function fieldsOf(role: Role): { analyte: boolean; unit: boolean } {
  return { analyte: role === 'analyte', unit: ['analyte', 'value', 'sample-mass', 'final-mass', 'final-volume'].includes(role) };
}

/** All columns as the server takes them, with one of them changed. */
export function withColumn(columns: MappedColumn[], changed: MappedColumn): Schemas['ColumnChoice'][] {
  return columns.map((column) => {
    const { column: letters, role, analyte, wavelength, unit } = column.column === changed.column ? changed : column;
    const has = fieldsOf(role);
    return {
      column: letters,
      role,
      ...(has.analyte && analyte !== '' ? { analyte } : {}),
      ...(has.analyte && wavelength !== '' ? { wavelength } : {}),
      ...(has.unit && unit !== '' ? { unit } : {}),
    };
  });
}

/** How a column is called: by its head, or by its letters where it has none. */
export function titleOf(column: MappedColumn): string {
  return column.head === '' ? `Column ${column.column}` : column.head;
}

/** Names with commas between, each once. */
export function namesIn(typed: string): string[] {
  return [...new Set(typed.split(',').map((name) => name.trim().replace(/\s+/g, ' ')))].filter((name) => name !== '' && name !== '*');
}
