// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { afterEach, describe, expect, it, vi } from 'vitest';
import { Asker, CalledOff, computed } from './asking';
import { Problem } from './client';

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
