// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// The one address of each record.

const kOwnPages: Record<string, string> = {
  batch: '/batches/',
  run: '/tests/runs/',
  sample: '/tests/samples/',
  release: '/release/',
  lot: '/materials/lots/',
  recipe: '/recipes/',
  material: '/materials/',
  supplier: '/materials/suppliers/',
};
const kWithPages = new Set<string>(['batch', 'run', 'sample', 'release', 'material', 'supplier']);

/** Says which kinds have pages of their own; the areas call it as their pages are there. */
export function hasPage(...kinds: string[]): void {
  for (const kind of kinds) kWithPages.add(kind);
}

export function escaped(id: string): string {
  return id.split('/').map(encodeURIComponent).join('/');
}

export function addressOfRecord(kind: string, id: string): string {
  const own = kWithPages.has(kind) ? kOwnPages[kind] : undefined;
  return own ? own + escaped(id) : `/records/${encodeURIComponent(kind)}/${escaped(id)}`;
}

/** "test_portion" as it is said. */
export function kindInWords(kind: string): string {
  return kind.replace(/_/g, ' ');
}

export function paper(name: 'batch-sheet' | 'sample-labels' | 'certificate' | 'mixing-sheet', key: string, id: string): string {
  return `/api/v1/paper/${name}?${key}=${encodeURIComponent(id)}`;
}
