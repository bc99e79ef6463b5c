// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Orders on their way to the books. An order is kept in the browser before it is sent and until the server has
// answered; a lost one is sent again with the same request number, so it acts once. It survives a reload. Orders are
// sent under the name of whoever made them, and by nobody else. A signed order carries a password and is not kept.
import { kNeverKept, type ActName, type Orders } from './acts';
import { call, Lost, Problem, requestNumber, type Schemas } from './client';
import { onBack } from './net.svelte';
import { session } from './session.svelte';

export type Receipt = Schemas['Receipt'];
export interface Waiting {
  request: string;
  act: ActName;
  order: unknown;
  why: string;
  /** What it is, in the words of the page: "12.480 kg of lot L25-0317-X into batch B25-0142-K". */
  what: string;
  person: string;
  made: string;
  state: 'sending' | 'waits' | 'refused';
  said: string;
}
export interface More {
  why?: string;
  /** The same number as before, where the same order is sent again. */
  request?: string;
}
type Sent = { state: 'saved'; receipt: Receipt } | { state: 'waits'; request: string };

const kPlace = 'brinewright.outbox';
const kAgain = 3_000;
/** From here on the server failed at it and may have acted: it stays in sight, to be sent again with its number. */
const kFault = 500;
const kLater = new Set([429, 503]);

class Outbox {
  entries = $state<Waiting[]>([]);
  #listeners: Array<(entry: Waiting, receipt: Receipt) => void> = [];
  #flushing = false;

  constructor() {
    this.#read();
    onBack(() => void this.flush());
    session.onSignIn(() => void this.flush());
    if (typeof addEventListener === 'function') {
      addEventListener('storage', (event) => event.key === kPlace && this.#read());
      setInterval(() => void this.flush(), kAgain);
    }
  }
  #read(): void {
    try {
      const kept = JSON.parse(localStorage.getItem(kPlace) ?? '[]') as Waiting[];
      this.entries = kept.map((entry) => (entry.state === 'sending' ? { ...entry, state: 'waits' } : entry));
    } catch {
      this.entries = [];
    }
  }
  #write(): void {
    localStorage.setItem(kPlace, JSON.stringify(this.entries));
  }
  get waiting(): Waiting[] {
    return this.entries.filter((entry) => entry.state === 'waits');
  }
  get refused(): Waiting[] {
    return this.entries.filter((entry) => entry.state === 'refused');
  }
  /** Called for each order saved late, after it had waited. */
  onSaved(act: (entry: Waiting, receipt: Receipt) => void): () => void {
    this.#listeners.push(act);
    return () => {
      this.#listeners = this.#listeners.filter((other) => other !== act);
    };
  }

  /**
   * Sends an order. Answers `saved` with the receipt, or `waits` where no answer came; throws what was refused.
   * Orders that are not kept (kNeverKept, or too large for the browser) throw Lost instead of waiting: send them again with the same `request`.
   */
  async send<A extends ActName>(act: A, order: Orders[A], what: string, more: More = {}): Promise<Sent> {
    const request = more.request ?? requestNumber();
    const why = more.why ?? '';
    const body = { request, why, order: $state.snapshot(order) };
    const person = session.person?.id ?? '';
    if (kNeverKept.has(act)) return { state: 'saved', receipt: await postAs(person, act, body) };
    const made = new Date().toISOString();
    this.entries.push({ ...body, act, what, person, made, state: 'sending', said: '' });
    try {
      this.#write();
    } catch {
      // More than the browser keeps: it is sent all the same, and what waits already is left as it is.
      this.entries = this.entries.filter((entry) => entry.request !== request);
      return { state: 'saved', receipt: await postAs(person, act, body) };
    }
    try {
      const receipt = await postAs(person, act, body);
      this.drop(request);
      return { state: 'saved', receipt };
    } catch (why) {
      if (mayPass(why)) {
        this.#mark(request, 'waits', '');
        return { state: 'waits', request };
      }
      if (why instanceof Problem && why.status >= kFault) this.#mark(request, 'refused', why.message);
      else this.drop(request);
      throw why;
    }
  }

  /** Everything of this person that waits, in the order it was made. */
  async flush(): Promise<void> {
    if (this.#flushing || !session.person) return;
    this.#flushing = true;
    try {
      if (!(await session.confirm())) return;
      for (const entry of this.entries.filter((e) => e.state === 'waits' && e.person === session.person?.id)) {
        if (!(await this.#again(entry))) break;
      }
    } finally {
      this.#flushing = false;
    }
  }
  async #again(entry: Waiting): Promise<boolean> {
    try {
      const receipt = await post(entry.act, { request: entry.request, why: entry.why, order: entry.order });
      this.drop(entry.request);
      for (const act of this.#listeners) act(entry, receipt);
      return true;
    } catch (why) {
      if (why instanceof Problem && why.status === 401) {
        void session.ask();
        return false;
      }
      if (mayPass(why)) return false;
      this.#mark(entry.request, 'refused', why instanceof Error ? why.message : String(why));
      return true;
    }
  }
  #mark(request: string, state: Waiting['state'], said: string): void {
    this.entries = this.entries.map((entry) => (entry.request === request ? { ...entry, state, said } : entry));
    this.#write();
  }
  /** Saved, or given up by the person. */
  drop(request: string): void {
    this.entries = this.entries.filter((entry) => entry.request !== request);
    this.#write();
  }
  tryAgain(request: string): void {
    this.#mark(request, 'waits', '');
    void this.flush();
  }
}

/** Somebody else signed in while an order of the first waited: it is not sent under another name. */
class OtherPerson extends Error {}

/** The line is down, the server is busy or another person is at the desk: the same order may be taken later. */
function mayPass(why: unknown): boolean {
  return why instanceof Lost || why instanceof OtherPerson || (why instanceof Problem && kLater.has(why.status));
}

function post(act: ActName, body: object): Promise<Receipt> {
  return call('POST', `/api/v1/act/${act}`, body, { asIs: true });
}

/** Waits for a sign-in where the session has ended, then sends under the same name or not at all. */
async function postAs(person: string, act: ActName, body: object): Promise<Receipt> {
  for (let renewed = false; ; ) {
    try {
      return await post(act, body);
    } catch (why) {
      if (!(why instanceof Problem)) throw why;
      if (why.status === 403 && !renewed) {
        renewed = true;
        if (await session.renew().catch(() => false)) continue;
      }
      if (why.status !== 401) throw why;
    }
    await session.ask();
    if (session.person?.id !== person) throw new OtherPerson('Another person has signed in; this was not sent');
  }
}

/** A signed act: the password goes with it and is kept nowhere. Give the same `request` when it is tried again. */
export function sign<A extends ActName>(
  act: A,
  order: Orders[A],
  password: string,
  why: string,
  request: string,
): Promise<Receipt> {
  return postAs(session.person?.id ?? '', act, { request, why, order, signing: { password } });
}

export const outbox = new Outbox();
