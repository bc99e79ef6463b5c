// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// One computation as a page holds it. The answer in sight stays until the next has come; a new question calls the last off.
import { Asker, CalledOff } from './asking';
import type { Schemas } from './client';

export class Question<T, Of = undefined> {
  answer = $state.raw<T>();
  /** What the answer in sight was asked of. */
  of = $state.raw<Of>();
  fault = $state.raw<unknown>();
  running = $state(false);
  /** How far it is, from 0 to 1, where the server tells. */
  share = $state(0);
  /** The person has called it off. */
  stopped = $state(false);
  #asker = new Asker();
  #turn = 0;

  /** Belongs to the component that makes it, and is called off with it. */
  constructor(private readonly name: string) {
    $effect(() => () => this.#asker.stop());
  }
  /** Asks as somebody types: what is wrong stays in sight until an answer has come. What cannot be asked is a fault too. */
  async ask(make: () => Schemas['Computation'] | Promise<Schemas['Computation']>, of?: Of): Promise<T | undefined> {
    this.#asker.stop();
    const turn = (this.#turn += 1);
    this.running = true;
    this.share = 0;
    this.stopped = false;
    try {
      const given = await make();
      if (turn !== this.#turn) return undefined;
      const { result } = await this.#asker.ask<T>(this.name, given, (share) => (this.share = share));
      this.answer = result;
      this.of = of;
      this.fault = undefined;
      this.running = false;
      return result;
    } catch (why) {
      if (why instanceof CalledOff || turn !== this.#turn) return undefined;
      this.fault = why;
      this.running = false;
      return undefined;
    }
  }
  /** Asks at the press of a button: what was wrong before goes at once. */
  run(make: () => Schemas['Computation'] | Promise<Schemas['Computation']>, of?: Of): Promise<T | undefined> {
    this.fault = undefined;
    return this.ask(make, of);
  }
  stop(): void {
    this.#turn += 1;
    this.#asker.stop();
    this.running = false;
    this.stopped = true;
  }
  /** Nothing is asked any more, and nothing stands answered. */
  forget(): void {
    this.stop();
    this.answer = undefined;
    this.fault = undefined;
  }
}
