// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Who is at the desk. When a session ends in the middle of something, `asking` opens the sign-in dialog over the page;
// nothing typed is lost, and what was asked is asked again.
import { call, get, Problem, setDoor, type Schemas } from './client';
import { heard } from './net.svelte';

type Duty = Schemas['Person']['duties'][number];

class Session {
  works = $state<Schemas['Works']>();
  now = $state<Schemas['Session']>();
  /** The dialog is open: a question waits for somebody to sign in. */
  asking = $state(false);
  /** The first look has been taken. */
  known = $state(false);
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
    this.works = await get('/api/v1/works');
    try {
      this.#take(await get('/api/v1/session', undefined, { asIs: true }));
    } catch (why) {
      if (!(why instanceof Problem) || why.status !== 401) throw why;
    }
    this.known = true;
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
    this.#take(await get('/api/v1/session', undefined, { asIs: true }));
    return this.now?.form_token !== before;
  }
  #take(session: Schemas['Session']): void {
    this.now = session;
    this.works = session.works;
  }
}

export const session = new Session();
setDoor({
  signIn: () => session.ask(),
  token: () => session.now?.form_token ?? '',
  renew: () => session.renew(),
  heard,
});
