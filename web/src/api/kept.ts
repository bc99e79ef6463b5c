// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What this browser keeps of the books, so that weighing goes on and a reload works while the server is away: who is
// signed in (name and duties; neither the session nor its form token) and the batch sheets that they read last. It goes
// when the person signs out, when the server says that nobody is signed in, when somebody else is, and after the time
// that a session lasts at most.
import type { Schemas } from './client';

interface KeptPerson {
  person: Schemas['Person'];
  device: string;
  works: Schemas['Works'];
}
interface KeptAnswer {
  address: string;
  /** When the server gave it. */
  at: string;
  answer: unknown;
}
interface Store extends KeptPerson {
  version: 1;
  /** When the server last said that this person is signed in. */
  heard: string;
  answers: KeptAnswer[];
}

export const kPlace = 'brinewright.kept';
export const kLongest = 12 * 3_600_000;
export const kMost = 8;
let turn = 0;

function read(now: number): Store | undefined {
  try {
    const store = JSON.parse(localStorage.getItem(kPlace) ?? 'null') as Store | null;
    if (store?.version === 1 && now - Date.parse(store.heard) < kLongest) return store;
  } catch {
    // A store that cannot be read is none.
  }
  return undefined;
}
function write(store: Store): void {
  try {
    localStorage.setItem(kPlace, JSON.stringify(store));
  } catch {
    forget();
  }
}

export function forget(): void {
  turn += 1;
  localStorage.removeItem(kPlace);
}

/** The server has said who is signed in; what was kept for somebody else goes. */
export function keepPerson({ person, device, works }: KeptPerson, now = Date.now()): void {
  const before = read(now);
  const same = before?.person.id === person.id;
  if (!same) forget();
  write({ version: 1, person, device, works, heard: new Date(now).toISOString(), answers: same ? before.answers : [] });
}
export function keptPerson(now = Date.now()): KeptPerson | undefined {
  return read(now);
}

/** Call before asking; what it returns keeps the answer, unless the person has gone meanwhile. */
export function keeper(address: string): (answer: unknown, now?: number) => void {
  const mine = turn;
  return (answer, now = Date.now()) => {
    const store = read(now);
    if (mine !== turn || !store) return;
    const others = store.answers.filter((one) => one.address !== address).slice(-(kMost - 1));
    write({ ...store, answers: [...others, { address, at: new Date(now).toISOString(), answer }] });
  };
}
export function keptAnswer(address: string, now = Date.now()): KeptAnswer | undefined {
  return read(now)?.answers.find((one) => one.address === address);
}
