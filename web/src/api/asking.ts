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

/** Computations of seconds: the server is asked how far they are, and told when nobody waits for them any more. */
const kLong: ReadonlySet<string> = new Set(['path/compare', 'recipe/trade', 'blend/budget']);
const kLookEach = 400; // ms

async function callOff(id: string): Promise<void> {
  const headers = { 'Content-Type': 'application/json', 'Form-Token': session.now?.form_token ?? '' };
  // What cannot be told any more has ended by itself.
  await fetch(`/api/v1/call?id=${id}`, { method: 'DELETE', headers, credentials: 'same-origin', keepalive: true }).catch(() => undefined);
}

/** Tells how far a call is until it has ended. */
function follow(id: string, onshare: (share: number) => void): () => void {
  let over = false;
  const look = async (): Promise<void> => {
    const answer = await fetch(`/api/v1/call?id=${id}`, { credentials: 'same-origin' }).catch(() => undefined);
    if (answer?.ok && !over) onshare(((await answer.json()) as { share: number }).share);
  };
  const clock = setInterval(() => void look(), kLookEach);
  return () => {
    over = true;
    clearInterval(clock);
  };
}

type OnShare = (share: number) => void;

async function once(name: string, given: Schemas['Computation'], signal: AbortSignal, onshare?: OnShare): Promise<Response> {
  const call = kLong.has(name) ? crypto.randomUUID() : undefined;
  const gone = (): void => void (call && callOff(call));
  signal.addEventListener('abort', gone, { once: true });
  const unfollow = call && onshare ? follow(call, onshare) : undefined;
  try {
    const answer = await fetch(`/api/v1/compute/${name}`, {
      method: 'POST',
      headers: {
        'Content-Type': 'application/json',
        'Form-Token': session.now?.form_token ?? '',
        ...(call ? { Call: call } : {}),
      },
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
  } finally {
    signal.removeEventListener('abort', gone);
    unfollow?.();
  }
}

export interface Answer<T> {
  /** false where the answer is no. */
  yes: boolean;
  result: T;
}

/** Asks one computation; an ended session is renewed first, as everywhere. */
export async function computed<T>(name: string, given: Schemas['Computation'], signal: AbortSignal, onshare?: OnShare): Promise<Answer<T>> {
  let renewed = false;
  for (;;) {
    const answer = await once(name, given, signal, onshare);
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
  async ask<T>(name: string, given: Schemas['Computation'], onshare?: OnShare): Promise<Answer<T>> {
    this.stop();
    const mine = new AbortController();
    this.#running = mine;
    return computed<T>(name, given, mine.signal, onshare);
  }
}
