// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Typed questions to the server over the generated paths. A lost connection, a refusal and an ended session are three
// different things: Lost, Problem, and a sign-in dialog after which the question is asked again.
import { keeper, keptAnswer } from './kept';
import type { components, paths } from './schema';

export type Schemas = components['schemas'];
type Gets = { [P in keyof paths]: paths[P] extends { get: { responses: { 200: unknown } } } ? P : never }[keyof paths];
type Answer<O> = O extends { responses: { 200: { content: { 'application/json': infer A } } } } ? A : never;
type Query<O> = O extends { parameters: { query: infer Q } }
  ? Q
  : O extends { parameters: { query?: infer Q } }
    ? Exclude<Q, undefined>
    : never;

/** The server's own sentence, with the field it speaks of. */
export class Problem extends Error {
  readonly status: number;
  readonly code: string;
  readonly field: string | undefined;
  readonly line: number | undefined;
  constructor(body: Schemas['Problem']) {
    super(body.title);
    this.status = body.status;
    this.code = body.code;
    this.field = body.field;
    this.line = body.line;
  }
}

/** No answer came. Whether the server acted is not known. */
export class Lost extends Error {
  constructor() {
    super('The server does not answer');
  }
}

interface Door {
  /** Asks the person to sign in again; resolves when they have. */
  signIn: () => Promise<void>;
  token: () => string;
  /** Fetches the form token anew; whether it is another one. */
  renew: () => Promise<boolean>;
  heard: (answered: boolean) => void;
}
let door: Door = { signIn: () => Promise.reject(new Error('no session')), token: () => '', renew: async () => false, heard: () => {} };
export function setDoor(next: Door): void {
  door = next;
}

const kPatience = 30_000;

async function once(method: string, address: string, body: unknown, patience: number): Promise<Response> {
  const head: Record<string, string> = { Accept: 'application/json, application/problem+json' };
  if (method !== 'GET') head['Form-Token'] = door.token();
  if (body !== undefined) head['Content-Type'] = 'application/json';
  let answer: Response;
  try {
    answer = await fetch(address, {
      method,
      headers: head,
      body: body === undefined ? undefined : JSON.stringify(body),
      credentials: 'same-origin',
      signal: AbortSignal.timeout(patience),
    });
  } catch {
    door.heard(false);
    throw new Lost();
  }
  if ([502, 503, 504].includes(answer.status) && !isProblem(answer)) {
    door.heard(false);
    throw new Lost();
  }
  door.heard(true);
  return answer;
}

function isProblem(answer: Response): boolean {
  return (answer.headers.get('Content-Type') ?? '').includes('problem+json');
}

async function problem(answer: Response): Promise<Problem> {
  if (isProblem(answer)) return new Problem((await answer.json()) as Schemas['Problem']);
  return new Problem({ title: `The server answered ${answer.status}`, status: answer.status, code: 'unknown' });
}

export interface Way {
  /** An ended session is told to the caller instead of asked for: sign-in itself, first look. */
  asIs?: boolean;
  patience?: number;
}

/** One question or order; after an ended session it is asked again once somebody has signed in. */
export async function call<T>(method: string, address: string, body?: unknown, way: Way = {}): Promise<T> {
  let renewed = false;
  for (;;) {
    const answer = await once(method, address, body, way.patience ?? kPatience);
    if (answer.ok) return (answer.status === 204 ? undefined : await answer.json()) as T;
    if (answer.status === 401 && !way.asIs) {
      await door.signIn();
      continue;
    }
    const why = await problem(answer);
    if (why.status === 403 && method !== 'GET' && !way.asIs && !renewed) {
      renewed = true;
      if (await door.renew()) continue;
    }
    throw why;
  }
}

export function addressOf(path: string, query?: Record<string, unknown>): string {
  const pairs = Object.entries(query ?? {}).filter(([, value]) => value !== undefined && value !== '');
  const text = new URLSearchParams(pairs.map(([key, value]) => [key, String(value)])).toString();
  return text === '' ? path : `${path}?${text}`;
}

/** GET one of the described addresses. */
export function get<P extends Gets>(path: P, query?: Query<paths[P]['get']>, way?: Way): Promise<Answer<paths[P]['get']>> {
  return call('GET', addressOf(path, query as Record<string, unknown>), undefined, way);
}

/** What a command prints with --json, for the views and the computations. */
export async function view<T>(path: Gets & `/api/v1/view/${string}`, query: Record<string, unknown>): Promise<T> {
  const answer = await call<Schemas['Command']>('GET', addressOf(path, query));
  return answer.result as T;
}

export interface Read<T> {
  answer: T;
  /** When the server gave it. */
  at: string;
  /** The server is away: this is what it gave last. */
  kept: boolean;
}

/** A view that is kept in this browser while the person is signed in: what weighing needs when the server is away. */
export async function keptView<T>(path: Gets & `/api/v1/view/${string}`, query: Record<string, unknown>): Promise<Read<T>> {
  const address = addressOf(path, query);
  const keep = keeper(address);
  try {
    const answer = await view<T>(path, query);
    keep(answer);
    return { answer, at: new Date().toISOString(), kept: false };
  } catch (why) {
    const found = why instanceof Lost ? keptAnswer(address) : undefined;
    if (!found) throw why;
    return { answer: found.answer as T, at: found.at, kept: true };
  }
}

export function compute(
  name: string,
  given: Schemas['Computation'],
  way?: Way,
): Promise<Schemas['Command']> {
  return call('POST', `/api/v1/compute/${name}`, given, way);
}

/** Made once for one intention; also where the page came over plain HTTP from another machine. */
export function requestNumber(): string {
  if (typeof crypto.randomUUID === 'function') return crypto.randomUUID();
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return [...bytes].map((b) => b.toString(16).padStart(2, '0')).join('');
}
