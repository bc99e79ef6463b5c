// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What differs between two versions of a record, field by field; and a record as lines of a page.

export interface Change {
  field: string;
  before: string;
  after: string;
}
type Json = unknown;

/** "yield.packed_kg" as "yield, packed kg" */
export function fieldInWords(field: string): string {
  return field
    .split('.')
    .map((part) => (/^\d+$/.test(part) ? String(Number(part) + 1) : part.replace(/_/g, ' ')))
    .join(', ');
}

/** Every value at the end of its path: {"a":{"b":1}} is a.b = 1. Text that is JSON is opened. */
export function leaves(value: Json, path = '', into: Map<string, string> = new Map()): Map<string, string> {
  if (typeof value === 'string' && /^[{[]/.test(value)) {
    try {
      return leaves(JSON.parse(value), path, into);
    } catch {
      into.set(path, value);
      return into;
    }
  }
  if (Array.isArray(value)) {
    if (value.length === 0) into.set(path, '');
    else if (value.every((item) => item === null || typeof item !== 'object')) into.set(path, value.map(String).join('; '));
    else value.forEach((item, at) => leaves(item, path === '' ? String(at) : `${path}.${at}`, into));
  } else if (value !== null && typeof value === 'object') {
    for (const [key, item] of Object.entries(value)) leaves(item, path === '' ? key : `${path}.${key}`, into);
  } else {
    into.set(path, value === null || value === undefined ? '' : String(value));
  }
  return into;
}

export function changes(before: Json, after: Json): Change[] {
  const [a, b] = [leaves(before), leaves(after)];
  const out: Change[] = [];
  for (const field of new Set([...a.keys(), ...b.keys()])) {
    const [x, y] = [a.get(field) ?? '', b.get(field) ?? ''];
    if (x !== y) out.push({ field, before: x, after: y });
  }
  return out;
}
