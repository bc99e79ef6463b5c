// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What a titration curve needs beside its points: as typed in a form, and as the lines of a file's head.
import { headValue, isNumber, quoted, readTable } from './pasted-table';

export interface TitrationHead {
  name: string;
  method: 'alkalinity' | 'end-point';
  signal: 'mV' | 'pH' | 'absorbance';
  points_in: 'mL' | 'g';
  sample: string;
  sample_u: string;
  titrant: string;
  titrant_in: 'mol/L' | 'mol/kg';
  titrant_u: string;
  temperature: string;
  salinity: string;
  density: string;
  titrated: 'amount' | 'calcium' | 'magnesium' | 'chloride';
  blank: string;
  blank_u: string;
  volume_u: string;
}

export function emptyHead(): TitrationHead {
  return {
    name: '', method: 'alkalinity', signal: 'mV', points_in: 'mL', sample: '', sample_u: '', titrant: '', titrant_in: 'mol/kg', titrant_u: '',
    temperature: '25', salinity: '35', density: '', titrated: 'amount', blank: '', blank_u: '', volume_u: '',
  };
}

/** Whether a text says itself what was titrated: a head of # lines, or a file of keys. */
export function saysItself(text: string): boolean {
  return headValue(readTable(text).head, 'kind') !== '' || /^\s*\{/.test(text) || /^\s*(#[^\n]*\n\s*)*[A-Za-z_]+\s*=/.test(text);
}

/** "alkalinity" as a name of the file that decides how it is read. */
export function fileName(text: string): string {
  if (/^\s*\{/.test(text)) return 'curve.json';
  return /^\s*(#[^\n]*\n\s*)*[A-Za-z_]+\s*=/.test(text) ? 'curve.toml' : 'curve.csv';
}

interface ReadPoints {
  points: number;
  /** Empty where each row is a pair of numbers. */
  wrong: string;
  turned: boolean;
}
const kFewestPoints = 5;

export function readPoints(text: string): ReadPoints {
  const { rows, turned } = readTable(text);
  const bad = rows.findIndex((row) => row.length !== 2 || !row.every(isNumber));
  const said = rows[bad]?.join(' ').slice(0, 40) ?? '';
  if (bad >= 0) return { points: rows.length, wrong: `row ${bad + 1}, “${said}”, is not two numbers: titrant, then signal`, turned };
  let last = -Infinity;
  const back = rows.findIndex((row) => {
    const less = Number(row[0]) <= last;
    last = Number(row[0]);
    return less;
  });
  if (back > 0) return { points: rows.length, wrong: `row ${back + 1}: the titrant does not grow from the row above`, turned };
  return { points: rows.length, wrong: rows.length < kFewestPoints ? `${rows.length} points; ${kFewestPoints} or more are needed, 15 are usual` : '', turned };
}

export function missingOf(head: TitrationHead): string {
  if (head.sample === '') return 'The mass of the sample is missing';
  if (head.titrant === '') return 'The strength of the titrant is missing';
  if (head.method === 'alkalinity' && head.density === '' && (head.points_in === 'mL' || head.titrant_in === 'mol/L')) return "The acid's density is missing: points in mL need it";
  if (head.method === 'alkalinity' && (head.temperature === '' || head.salinity === '')) return 'Temperature and salinity are missing';
  return '';
}

/** A file of comma-separated points with its head. */
export function withHead(text: string, head: TitrationHead): string {
  const { rows } = readTable(text);
  const known = (value: string, u: string, unit: string) => {
    const plain = quoted(unit === '' ? value : `${value} ${unit}`);
    return u === '' ? plain : `{ value = ${plain}, u = ${quoted(`${u} ${unit}`)} }`;
  };
  const lines = ['format = "brinewright/1"', 'kind = "titration"', `name = ${quoted(head.name === '' ? 'titration' : head.name)}`, `method = "${head.method}"`, `signal = "${head.signal}"`, `points_in = "${head.points_in}"`];
  lines.push(`sample = ${known(head.sample, head.sample_u, 'g')}`, `titrant = ${known(head.titrant, head.titrant_u, head.titrant_in)}`);
  if (head.method === 'alkalinity') {
    lines.push(`temperature = "${head.temperature} degC"`, `salinity = ${head.salinity}`);
    if (head.density !== '') lines.push(`titrant_density = "${head.density} kg/L"`);
  } else {
    lines.push(`titrated = "${head.titrated}"`);
    if (head.blank !== '') lines.push(`blank = ${known(head.blank, head.blank_u, 'mL')}`);
    if (head.volume_u !== '') lines.push(`volume_u = "${head.volume_u} mL"`);
  }
  return [...lines.map((line) => `# ${line}`), 'titrant,signal', ...rows.map((row) => row.join(','))].join('\n') + '\n';
}
