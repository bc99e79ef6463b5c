// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What a person typed, read as a number: point or comma, never a group mark of either; doubts are asked, not guessed.
import { decimal, plain, shift } from './decimal';

export type Sign = '.' | ',';
export type Read =
  | { kind: 'empty' }
  | { kind: 'number'; plain: string; unit: string }
  | { kind: 'ask'; choices: [string, string]; unit: string }
  | { kind: 'refused'; why: string };

const kMasses = new Map([
  ['t', 6],
  ['kg', 3],
  ['g', 0],
  ['mg', -3],
  ['µg', -6],
  ['ug', -6],
  ['\u03bcg', -6],
]);

/** Reads one number with an optional unit behind it. `sign` is the person's own decimal sign. */
export function readNumber(text: string, sign: Sign): Read {
  const trimmed = text.trim().replace(/[\u2212\u2013]/g, '-');
  if (trimmed === '') return { kind: 'empty' };
  const match = /^([+-]?[\d.,\s\u00a0\u202f\u2009]+)(?:\s*(?:[eE]|[·*×x]\s*10\s*\^)\s*([+-]?\d+))?\s*(.*)$/.exec(trimmed);
  if (!match || !/\d/.test(match[1] ?? '')) return refused('this is no number: type digits, as in 12.48');
  const body = (match[1] ?? '').trim();
  const unit = (match[3] ?? '').trim();
  if (/\d/.test(unit.charAt(0))) return refused('this is more than one number');
  const marks = body.match(/[.,]/g) ?? [];
  if (marks.length > 1) {
    return refused('two marks: a point or comma is only read as the decimal sign; leave groups out or part them by spaces');
  }
  const joined = ungrouped(body);
  if (joined === undefined) return refused('spaces part groups of three digits only');
  const point = joined.replace(',', '.');
  const value = decimal(point + (match[2] ? `e${match[2]}` : ''));
  if (!value) return refused('this is no number: type digits, as in 12.48');
  const mark = marks[0];
  if (mark && mark !== sign && !match[2] && /^[+-]?[1-9]\d{0,2}[.,]\d{3}$/.test(joined)) {
    return { kind: 'ask', choices: [plain(value), joined.replace(/[.,]/, '').replace('+', '')], unit };
  }
  return { kind: 'number', plain: plain(value), unit };
}

function refused(why: string): Read {
  return { kind: 'refused', why };
}

function ungrouped(body: string): string | undefined {
  const parts = body.split(/[\s\u00a0\u202f\u2009]+/);
  if (parts.length === 1) return body;
  const [whole = '', fraction] = body.split(/[.,]/) as [string, string | undefined];
  const grouped = (text: string, head: RegExp) => head.test(text.trim());
  if (!grouped(whole, /^[+-]?\d{1,3}(\s\d{3})*$/)) return undefined;
  if (fraction !== undefined && !grouped(fraction, /^(\d{3}\s)*\d{0,3}$/)) return undefined;
  return parts.join('');
}

/** From one unit of mass to another, exactly; undefined where the units are no masses. */
export function massIn(digits: string, from: string, to: string): string | undefined {
  const a = kMasses.get(from);
  const b = kMasses.get(to);
  const d = decimal(digits);
  if (a === undefined || b === undefined || !d) return undefined;
  return plain(shift(d, a - b));
}


/** A day as 2025-03-09 and nothing else; a day written otherwise is refused, not guessed. */
export function readDay(text: string): string | undefined {
  const match = /^(\d{4})-(\d{2})-(\d{2})$/.exec(text.trim());
  if (!match) return undefined;
  const made = new Date(`${match[0]}T00:00:00Z`);
  return !Number.isNaN(made.getTime()) && made.toISOString().startsWith(match[0]) ? match[0] : undefined;
}
