// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Computations that may be called off: by the person, or because the next one has overtaken them.
import { Lost, Problem, type Schemas } from './client';
import { heard } from './net.svelte';
import { session } from './session.svelte';

/** Thrown where the asker has called it off. */
export class CalledOff extends Error {
  constructor() {
    super('called off');
  }
}

async function once(name: string, given: Schemas['Computation'], signal: AbortSignal): Promise<Response> {
  try {
    const answer = await fetch(`/api/v1/compute/${name}`, {
      method: 'POST',
      headers: { 'Content-Type': 'application/json', 'Form-Token': session.now?.form_token ?? '' },
      body: JSON.stringify(given),
      credentials: 'same-origin',
      signal,
    });
    heard(true);
    return answer;
  } catch {
    if (signal.aborted) throw new CalledOff();
    heard(false);
    throw new Lost();
  }
}

export interface Answer<T> {
  /** false where the answer is no. */
  yes: boolean;
  result: T;
}

/** Asks one computation; an ended session is renewed first, as everywhere. */
export async function computed<T>(name: string, given: Schemas['Computation'], signal: AbortSignal): Promise<Answer<T>> {
  let renewed = false;
  for (;;) {
    const answer = await once(name, given, signal);
    try {
      if (answer.ok) {
        const command = (await answer.json()) as Schemas['Command'];
        return { yes: command.yes, result: command.result as T };
      }
      if (answer.status === 401) {
        await session.ask();
        continue;
      }
      if (answer.status === 403 && !renewed) {
        renewed = true;
        if (await session.renew()) continue;
      }
      throw new Problem((await answer.json()) as Schemas['Problem']);
    } catch (why) {
      if (signal.aborted) throw new CalledOff();
      if (why instanceof SyntaxError) throw new Lost();
      throw why;
    }
  }
}

/** One question at a time: each new one calls the last one off. */
export class Asker {
  #running: AbortController | undefined;
  stop(): void {
    this.#running?.abort();
    this.#running = undefined;
  }
  async ask<T>(name: string, given: Schemas['Computation']): Promise<Answer<T>> {
    this.stop();
    const mine = new AbortController();
    this.#running = mine;
    return computed<T>(name, given, mine.signal);
  }
}
