// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Solves after each change. First quickly, with free shares and few draws; once the changes rest, whole: weighing steps,
// packages, other recipes. The last answer wins; what is shown before it comes is stale and says so.
import { Asker, CalledOff } from '../../api/asking';
import type { Solved } from '../../api/computed';
import { materialsGiven, type DraftState } from './draft.svelte';
import type { Table } from '../../lib/toml';

const kAfterKey = 5;
const kRest = 350;
/** An answer that is quicker than this changes what is in sight once, not twice. */
const kLate = 120;
const kQuick = { 'free-shares': true, brief: true, draws: 200 };
/** The server refuses an empty list of materials in words of its own; this spares the question. */
const kNoMaterials = 'Every material is off: put at least one on';

export type Stage = 'none' | 'quick' | 'whole';

export class Solver {
  answer = $state.raw<Solved>();
  /** The newest whole answer: pictures and comparisons wait for it, tables do not. */
  whole = $state.raw<Solved>();
  /** How the answer in sight was found. */
  stage = $state<Stage>('none');
  /** The answer belongs to an earlier draft. */
  stale = $state(false);
  /** And so it has been for so long that it is told. */
  late = $state(false);
  /** The whole answer is being worked out. */
  working = $state(false);
  fault = $state.raw<unknown>();
  /** From the change to the quick answer, in ms; and to the whole one, the rest before it is begun included. */
  tookQuick = $state<number>();
  tookWhole = $state<number>();
  #quick = new Asker();
  #whole = new Asker();
  #timer: ReturnType<typeof setTimeout> | undefined;
  #later: ReturnType<typeof setTimeout> | undefined;
  #telling: ReturnType<typeof setTimeout> | undefined;

  follow(state: DraftState, materials: Table): void {
    clearTimeout(this.#timer);
    clearTimeout(this.#later);
    this.#whole.stop();
    this.working = false;
    this.stale = this.answer !== undefined;
    this.tookQuick = this.tookWhole = undefined;
    this.#telling ??= setTimeout(() => (this.late = this.stale), kLate);
    const changed = performance.now();
    this.#timer = setTimeout(() => void this.#first(state, materials, changed), this.stage === 'none' ? 0 : kAfterKey);
    this.#later = setTimeout(() => void this.#rest(state, materials, changed), kRest);
  }
  stop(): void {
    clearTimeout(this.#timer);
    clearTimeout(this.#later);
    this.#told();
    this.#quick.stop();
    this.#whole.stop();
    this.working = false;
  }

  #files(state: DraftState, materials: Table) {
    if (state.off.length > 0 && state.off.length >= (materials['material'] as unknown[]).length) throw new Error(kNoMaterials);
    return {
      TARGET: [{ name: 'target', text: JSON.stringify(state.target) }],
      materials: [materialsGiven(state, materials)],
    };
  }
  async #first(state: DraftState, materials: Table, changed: number): Promise<void> {
    try {
      const answer = await this.#quick.ask<Solved>('recipe/solve', { files: this.#files(state, materials), given: kQuick });
      if (this.stage === 'whole' && !this.stale) return;
      this.tookQuick = Math.round(performance.now() - changed);
      this.#show(answer.result, 'quick');
    } catch (why) {
      this.#failed(why);
    }
  }
  async #rest(state: DraftState, materials: Table, changed: number): Promise<void> {
    this.working = true;
    try {
      const answer = await this.#whole.ask<Solved>('recipe/solve', { files: this.#files(state, materials), given: {} });
      this.#quick.stop();
      this.tookWhole = Math.round(performance.now() - changed);
      this.#show(answer.result, 'whole');
      this.working = false;
    } catch (why) {
      this.#failed(why);
    }
  }
  #show(answer: Solved, stage: Stage): void {
    this.answer = answer;
    this.stage = stage;
    if (stage === 'whole') this.whole = answer;
    this.stale = false;
    this.#told();
    this.fault = undefined;
  }
  #told(): void {
    clearTimeout(this.#telling);
    this.#telling = undefined;
    this.late = false;
  }
  #failed(why: unknown): void {
    if (why instanceof CalledOff) return;
    this.working = false;
    this.late = this.stale;
    this.fault = why;
  }
}
