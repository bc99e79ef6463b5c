// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Who is at the desk. When a session ends in the middle of something, `asking` opens the sign-in dialog over the page;
// nothing typed is lost, and what was asked is asked again.
import { call, get, Lost, setDoor, type Schemas } from './client';
import { forget, keepPerson, keptPerson } from './kept';
import { heard, onBack } from './net.svelte';

/** Where somebody was at this desk before, a server that hangs is not waited for longer. */
const kPatience = 4_000;

type Duty = Schemas['Person']['duties'][number];

class Session {
  works = $state<Schemas['Works']>();
  now = $state<Schemas['Session']>();
  /** The dialog is open: a question waits for somebody to sign in. */
  asking = $state(false);
  /** The first look has been taken. */
  known = $state(false);
  /** The server is away; this is who was signed in here when it last answered. */
  remembered = $state(false);
  #waiting: { promise: Promise<void>; done: () => void } | undefined;
  #heard: Array<() => void> = [];

  get person(): Schemas['Person'] | undefined {
    return this.now?.person;
  }
  may(...duties: Duty[]): boolean {
    return duties.some((duty) => this.person?.duties.includes(duty) ?? false);
  }
  onSignIn(act: () => void): void {
    this.#heard.push(act);
  }

  /** At the start: whose books, and whether somebody is signed in. */
  async look(): Promise<void> {
    const left = keptPerson();
    try {
      const found = await get('/api/v1/session', undefined, { asIs: true, ...(left && { patience: kPatience }) });
      this.works = found.works;
      if ('person' in found) this.#take(found);
      else forget();
    } catch (why) {
      if (!(why instanceof Lost) || !left) throw why;
      this.works = left.works;
      this.now = { version: 1, person: left.person, device: left.device, works: left.works, form_token: '' };
      this.remembered = true;
    }
    this.known = true;
  }
  /** Whether the server has said who is here; asks it where that is not known, and for a sign-in where nobody is. */
  async confirm(): Promise<boolean> {
    if (!this.remembered) return true;
    try {
      const found = await get('/api/v1/session', undefined, { asIs: true });
      if ('person' in found) this.#take(found);
      else void this.ask();
    } catch (why) {
      if (!(why instanceof Lost)) throw why;
    }
    return !this.remembered;
  }
  async signIn(person: string, password: string, device: string): Promise<void> {
    const order: Schemas['SignIn'] = { person, password, device };
    this.#take(await call<Schemas['Session']>('POST', '/api/v1/session', order, { asIs: true }));
    this.asking = false;
    this.#waiting?.done();
    this.#waiting = undefined;
    for (const act of this.#heard) act();
  }
  async signOut(): Promise<void> {
    forget();
    await call('DELETE', '/api/v1/session', undefined, { asIs: true });
    this.now = undefined;
  }
  /** Called where an answer was 401. */
  ask(): Promise<void> {
    if (!this.#waiting) {
      let done = () => {};
      const promise = new Promise<void>((resolve) => (done = resolve));
      this.#waiting = { promise, done };
    }
    this.asking = true;
    return this.#waiting.promise;
  }
  async renew(): Promise<boolean> {
    const before = this.now?.form_token;
    const found = await get('/api/v1/session', undefined, { asIs: true });
    if (!('person' in found)) return false;
    this.#take(found);
    return found.form_token !== before;
  }
  #take(session: Schemas['Session']): void {
    this.now = session;
    this.works = session.works;
    this.remembered = false;
    keepPerson(session);
  }
}

export const session = new Session();
setDoor({
  signIn: () => session.ask(),
  token: () => session.now?.form_token ?? '',
  renew: () => session.renew(),
  heard,
});
onBack(() => void session.confirm());
