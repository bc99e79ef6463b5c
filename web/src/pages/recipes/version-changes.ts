// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What a version's target says otherwise than that of the version it replaces, key by key; numbers stay as they are kept.
import { readFile, type Table, type Value } from '../../lib/toml';

interface TargetChange {
  what: string;
  before: string;
  after: string;
}

/** The words by which an entry of a list is known in both files; its place where it has none of them. */
const kNames = ['symbol', 'name', 'ratio', 'material', 'of', 'what'];
function nameOf(entry: Value, at: number): string {
  if (typeof entry === 'object' && !Array.isArray(entry)) {
    for (const key of kNames) {
      const name = entry[key];
      if (typeof name === 'string') return name;
    }
  }
  return String(at + 1);
}
function flatten(value: Value, path: string, into: Map<string, string>): void {
  const below = (key: string) => (path === '' ? key : `${path}, ${key}`);
  if (Array.isArray(value) && value.some((one) => typeof one === 'object')) {
    const seen = new Map<string, number>();
    value.forEach((one, at) => {
      const name = nameOf(one, at);
      const times = (seen.get(name) ?? 0) + 1;
      seen.set(name, times);
      flatten(one, below(times > 1 ? `${name} (${times})` : name), into);
    });
  } else if (Array.isArray(value)) into.set(path, value.join(', '));
  else if (typeof value === 'object') for (const [key, one] of Object.entries(value as Table)) flatten(one, below(key.replaceAll('_', ' ')), into);
  else into.set(path, String(value));
}
function lines(file: string): Map<string, string> {
  const out = new Map<string, string>();
  flatten(readFile(file), '', out);
  return out;
}

/** What a part of a recipe is in two versions of it. */
interface PartChange {
  material: string;
  first_g_per_kg_purified_water: number;
  second_g_per_kg_purified_water: number;
  change_percent: number | null;
}

/** The least change that two places of a percentage show. */
export const kLeastShown_percent = 0.005;

/** The parts whose change is seen at two places, largest first as they come, and how many others change by less. */
export function partChanges<P extends PartChange>(parts: P[]): { seen: P[]; less: number } {
  const changed = parts.filter((row) => row.first_g_per_kg_purified_water !== row.second_g_per_kg_purified_water);
  const seen = changed.filter((row) => row.change_percent === null || row.second_g_per_kg_purified_water === 0 || Math.abs(row.change_percent) >= kLeastShown_percent);
  return { seen, less: changed.length - seen.length };
}

/** In the order of the new target; what is gone comes last. Throws where a file cannot be read. */
export function targetChanges(before: string, after: string): TargetChange[] {
  const [old, now] = [lines(before), lines(after)];
  const out: TargetChange[] = [];
  for (const [what, value] of now) if (old.get(what) !== value) out.push({ what, before: old.get(what) ?? '', after: value });
  for (const [what, value] of old) if (!now.has(what)) out.push({ what, before: value, after: '' });
  return out;
}
