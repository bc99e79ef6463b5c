// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// The draft on the workbench: a target that may be changed, materials on or off, prices. Every change can be undone;
// the draft is kept in this browser for the person who made it, and named drafts beside it.
import { get } from '../../api/client';
import { session } from '../../api/session.svelte';
import { readFile, type Table } from '../../lib/toml';
import { list, text } from './target';

export interface DraftState {
  name: string;
  targetId: string;
  materialsId: string;
  target: Table;
  off: string[];
  prices: Record<string, string>;
}
interface KeptDraft {
  at: string;
  state: DraftState;
}

const kMostSteps = 200;
/** Changes of one field within this time are one step of undo. */
const kOneStep = 1500;

const clone = (state: DraftState): DraftState => JSON.parse(JSON.stringify(state)) as DraftState;
const place = (what: string) => `brinewright.workbench.${session.person?.id ?? ''}.${what}`;

function kept<T>(what: string): T | undefined {
  try {
    return JSON.parse(localStorage.getItem(place(what)) ?? 'null') ?? undefined;
  } catch {
    return undefined;
  }
}

/** What can be undone and done again, kept for this tab: a reload is no end of it, another tab's change is. */
interface Steps {
  of: string;
  past: DraftState[];
  future: DraftState[];
}
function keptSteps(state: DraftState): Steps | undefined {
  try {
    const steps = JSON.parse(sessionStorage.getItem(place('steps')) ?? 'null') as Steps | null;
    return steps && steps.of === JSON.stringify(state) ? steps : undefined;
  } catch {
    return undefined;
  }
}

export class Draft {
  state = $state.raw<DraftState>();
  /** The materials file as it was fetched; undefined until it is there. */
  materials = $state.raw<Table>();
  named = $state.raw<Record<string, KeptDraft>>({});
  /** Whether this browser could keep the draft. */
  keeps = $state(true);
  #past = $state.raw<DraftState[]>([]);
  #future = $state.raw<DraftState[]>([]);
  #last = { field: '', at: 0 };

  get canUndo(): boolean {
    return this.#past.length > 0;
  }
  get canRedo(): boolean {
    return this.#future.length > 0;
  }
  get changed(): boolean {
    return this.canUndo;
  }

  /** The draft that was left, with its materials; whether there was one. */
  async takeUp(): Promise<boolean> {
    this.named = kept<Record<string, KeptDraft>>('drafts') ?? {};
    const left = kept<DraftState>('now');
    if (!left?.target) return false;
    const steps = keptSteps(left);
    await this.#open(left);
    if (steps) {
      this.#past = steps.past;
      this.#future = steps.future;
      this.#keepSteps();
    }
    return true;
  }
  /** A new draft from a target and materials of the server. */
  async start(targetId: string, materialsId: string): Promise<void> {
    const document = await get('/api/v1/document', { id: targetId });
    const target = readFile(document.text);
    await this.#open({ name: '', targetId, materialsId, target, off: [], prices: {} });
  }
  async open(name: string): Promise<void> {
    const found = this.named[name];
    if (found) await this.#open(clone(found.state));
  }
  async #open(state: DraftState): Promise<void> {
    const document = await get('/api/v1/document', { id: state.materialsId });
    this.materials = readFile(document.text);
    this.#past = [];
    this.#future = [];
    this.state = state;
    this.#save();
  }

  /** One change; changes of the same field shortly after one another are undone together. */
  change(field: string, act: (state: DraftState) => void): void {
    if (!this.state) return;
    const next = clone(this.state);
    act(next);
    if (JSON.stringify(next) === JSON.stringify(this.state)) return;
    const now = Date.now();
    const goesOn = field === this.#last.field && now - this.#last.at < kOneStep && this.canUndo;
    if (!goesOn) this.#past = [...this.#past.slice(-kMostSteps), this.state];
    this.#last = { field, at: now };
    this.#future = [];
    this.state = next;
    this.#save();
  }
  undo(): void {
    const before = this.#past.at(-1);
    if (!before || !this.state) return;
    this.#future = [...this.#future, this.state];
    this.#past = this.#past.slice(0, -1);
    this.#go(before);
  }
  redo(): void {
    const after = this.#future.at(-1);
    if (!after || !this.state) return;
    this.#past = [...this.#past, this.state];
    this.#future = this.#future.slice(0, -1);
    this.#go(after);
  }
  #go(state: DraftState): void {
    this.#last = { field: '', at: 0 };
    this.state = state;
    this.#save();
  }

  keepAs(name: string): void {
    if (!this.state) return;
    this.change('name', (state) => (state.name = name));
    this.named = { ...this.named, [name]: { at: new Date().toISOString(), state: clone(this.state) } };
    this.#write('drafts', this.named);
  }
  drop(name: string): void {
    const { [name]: gone, ...rest } = this.named;
    if (gone) this.named = rest;
    this.#write('drafts', this.named);
  }
  close(): void {
    this.state = undefined;
    this.materials = undefined;
    localStorage.removeItem(place('now'));
    sessionStorage.removeItem(place('steps'));
  }
  #save(): void {
    this.#write('now', this.state);
    this.#keepSteps();
  }
  /** As many of the last steps as the browser has room for. */
  #keepSteps(): void {
    for (let most = kMostSteps; most >= 1; most = Math.floor(most / 4)) {
      const steps: Steps = { of: JSON.stringify(this.state), past: this.#past.slice(-most), future: this.#future.slice(-most) };
      try {
        sessionStorage.setItem(place('steps'), JSON.stringify(steps));
        return;
      } catch {
        sessionStorage.removeItem(place('steps'));
      }
    }
  }
  #write(what: string, value: unknown): void {
    try {
      localStorage.setItem(place(what), JSON.stringify(value));
      this.keeps = true;
    } catch {
      this.keeps = false;
    }
  }
}

/** The materials that are used, with the prices of the draft: as a file, or the server's own where nothing differs. */
export function materialsGiven(state: DraftState, materials: Table): { document: string } | { name: string; text: string } {
  if (state.off.length === 0 && Object.keys(state.prices).length === 0) return { document: state.materialsId };
  const used = list(materials, 'material')
    .filter((material) => !state.off.includes(text(material['name'])))
    .map((material) => {
      const price = state.prices[text(material['name'])];
      return price === undefined ? material : { ...material, price };
    });
  return { name: 'materials', text: JSON.stringify({ ...materials, material: used }) };
}
