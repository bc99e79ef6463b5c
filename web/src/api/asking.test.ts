// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { webcrypto } from 'node:crypto';
import { afterEach, describe, expect, it, vi } from 'vitest';
import { Asker, CalledOff, computed } from './asking';
import { Problem } from './client';

// Browsers have it, and Node.js from 19 on; Debian 12 has 18.
globalThis.crypto ??= webcrypto as Crypto;

type Fetch = (address: string, init: RequestInit) => Promise<Response>;
const json = (body: unknown, status = 200) =>
  new Response(JSON.stringify(body), { status, headers: { 'Content-Type': status === 200 ? 'application/json' : 'application/problem+json' } });
function answers(act: Fetch): void {
  vi.stubGlobal('fetch', vi.fn(act));
}
afterEach(() => vi.unstubAllGlobals());

describe('computations that may be called off', () => {
  it('lets only the last question of an asker through', async () => {
    answers(
      (_, init) =>
        new Promise((resolve, reject) => {
          init.signal?.addEventListener('abort', () => reject(new DOMException('gone', 'AbortError')));
          setTimeout(() => resolve(json({ yes: true, result: JSON.parse(String(init.body)) })), 5);
        }),
    );
    const asker = new Asker();
    const first = asker.ask('recipe/solve', { given: { draws: 1 } });
    const second = asker.ask<{ given: { draws: number } }>('recipe/solve', { given: { draws: 2 } });
    await expect(first).rejects.toBeInstanceOf(CalledOff);
    expect((await second).result.given.draws).toBe(2);
  });
  it('names a long computation, tells how far it is and calls it off in the server', async () => {
    const asked: { address: string; method: string; call?: string }[] = [];
    answers((address, init = {}) => {
      const heads = (init.headers ?? {}) as Record<string, string>;
      asked.push({ address, method: init.method ?? 'GET', ...(heads.Call ? { call: heads.Call } : {}) });
      if (init.method === 'DELETE') return Promise.resolve(json({ called_off: true }));
      if (!init.method) return Promise.resolve(json({ share: 0.25, called_off: false }));
      return new Promise((_, reject) => init.signal?.addEventListener('abort', () => reject(new DOMException('gone', 'AbortError'))));
    });
    const asker = new Asker();
    const shares: number[] = [];
    const asking = asker.ask('path/compare', {}, (share) => shares.push(share));
    await new Promise((resolve) => setTimeout(resolve, 900));
    asker.stop();
    await expect(asking).rejects.toBeInstanceOf(CalledOff);
    const call = asked[0]?.call ?? '';
    expect(call).toMatch(/^[0-9a-f-]{36}$/);
    expect(shares).toContain(0.25);
    expect(asked.at(-1)).toEqual({ address: `/api/v1/call?id=${call}`, method: 'DELETE' });
  });
  it('tells a refusal in the sentence of the server', async () => {
    answers(async () => json({ title: 'low of Ca is above its high', status: 400, code: 'bad_input' }, 400));
    const why = await computed('recipe/solve', {}, new AbortController().signal).catch((caught: unknown) => caught);
    expect(why).toBeInstanceOf(Problem);
    expect((why as Problem).message).toBe('low of Ca is above its high');
  });
  it('tells a "no" from a refusal', async () => {
    answers(async () => json({ yes: false, result: { feasible: false } }));
    expect(await computed('recipe/solve', {}, new AbortController().signal)).toEqual({ yes: false, result: { feasible: false } });
  });
});
