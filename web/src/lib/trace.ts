// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What a figure rests on: the lines of `trace show` as a tree, and where each of them has its page.
import { addressOfRecord, escaped } from './address';
import { when } from './when';

export interface TraceLine {
  depth: number;
  kind: string;
  id: string;
  text: string;
  /** null: no record of its own. */
  version_pinned: number | null;
  version_now: number | null;
  changed_since: boolean;
}
export interface Trace {
  version: 1;
  batch: string;
  certificate: string | null;
  /** Since the release was signed. */
  changed: string[];
  lines: TraceLine[];
}
export interface TraceNode {
  /** Its place in the list: ids repeat, for a run stands under each of its results. */
  at: number;
  line: TraceLine;
  under: TraceNode[];
}

/** A line lies under the last one before it that is less deep. */
export function treeOf(lines: TraceLine[]): TraceNode[] {
  const roots: TraceNode[] = [];
  const open: TraceNode[] = [];
  lines.forEach((line, at) => {
    const node: TraceNode = { at, line, under: [] };
    while (open.length > 0 && (open.at(-1)?.line.depth ?? 0) >= line.depth) open.pop();
    (open.at(-1)?.under ?? roots).push(node);
    open.push(node);
  });
  return roots;
}

/** The sentence of a line in its parts; instants and digests in the short form of the pages. */
export function phrases(text: string): string[] {
  return text
    .replace(/\d{4}-\d{2}-\d{2}T[\d:.]+Z/g, when)
    .replace(/\b([0-9a-f]{16})[0-9a-f]{48}\b/g, '$1…')
    .split(/; (?!$)/);
}

/** What has become of its record since it was signed; empty where it stands as it was. */
export function since(line: TraceLine): string {
  const { version_pinned: then, version_now: now } = line;
  if (then === null || now === null) return '';
  if (line.changed_since) return then === now ? 'no longer counts' : `changed since: version ${then} then, ${now} now`;
  return then === now ? '' : `version ${then} then, ${now} now; nothing that counts here changed`;
}

export function traceAddress(id: string, element = ''): string {
  return `/trace/${escaped(id)}${element === '' ? '' : `?element=${encodeURIComponent(element)}`}`;
}

/** Where a line has its page; parts of a record lead to the whole. */
export function addressOfLine(line: TraceLine, of: string): string {
  const whole = line.id.replace(/\/[^/]*$/, '');
  if (line.kind === 'element') return traceAddress(of, line.id);
  if (line.kind === 'assessment') return addressOfRecord('release', line.id);
  if (line.kind === 'spread') return traceAddress(of, line.id);
  if (line.kind === 'result') return addressOfRecord('run', whole);
  if (line.kind === 'addition') return `${addressOfRecord('batch', whole)}/sheet`;
  return addressOfRecord(line.kind, line.id);
}
