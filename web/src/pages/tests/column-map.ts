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

/** What readers of tables advise in the words of a map that is a file, and the same in the words of this page. */
const kAdvice: Array<[RegExp, string]> = [
  [/write unit = "mg\/L", for example, into the map/g, 'write it into the field Unit of that column'],
  [/write ppm = "by mass" or ppm = "by volume" in the map; mend the unit in the file, or leave the unit row out of the map and give the unit there/g, 'write mg/kg or mg/L, for ppb ug/kg or ug/L, into the field Unit of that column'],
  [/write ppm = "by mass" or ppm = "by volume" in the map/g, 'write mg/kg or mg/L, for ppb ug/kg or ug/L, in its place'],
  [/ppm stands in the unit row: add ppm = "by mass" or "by volume"\./g, 'ppm stands in the row of units: write mg/kg or mg/L into the field Unit of each such column.'],
  [/mend the unit in the file, or leave the unit row out of the map and give the unit there/g, 'mend the unit in the file, or empty the field “Units stand in row” and give the unit in the field Unit of that column'],
  [/or list it under names or other_analytes in the map/g, 'or say what it stands for under “The map as a file”'],
  [/: write analyte = "Ca", or list it under other_analytes/g, ': write its symbol, such as Ca, into the field Analyte of that column'],
  [/declare decimal_sign in the map/g, 'choose the decimal sign below the table'],
  [/declare decimal_sign and group_mark\./g, 'choose the decimal sign below the table, and say group_mark under “The map as a file”.'],
  [/declare decimal_sign and group_mark in the map/g, 'choose the decimal sign below the table'],
  [/dilution_applied = false is a guess: say whether/g, 'That the dilution is still to be applied is a guess: say below the table whether'],
  [/: say date_form\./g, ': say below the table how the days are written.'],
  [/add it to the map, with role = "ignored" if it is not wanted, or write other_columns = "ignore"/g, 'choose above what it is, “not read” if it is not wanted'],
  [/ or write the file's form as (date_form|time_form) in the map/g, ' or say how the days are written, below the table'],
  [/ (in|into) the map(?=[.;,]|$)/g, ' $1 the map, under “The map as a file”'],
];

/** A remark or a problem of a table as it is said on the page that it is read on. */
export function inPageWords(text: string): string {
  return kAdvice.reduce((said, [of, words]) => said.replace(of, words), text);
}
