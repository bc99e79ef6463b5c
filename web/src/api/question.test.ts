// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { afterEach, describe, expect, it, vi } from 'vitest';
import { Problem } from './client';
import { Question } from './question.svelte';

type Asked = { given: { at: string } };
const json = (body: unknown, status = 200) => new Response(JSON.stringify(body), { status });
/** A server that says back what it is asked, or refuses it. */
function echoes(): void {
  vi.stubGlobal('fetch', (_: string, init: RequestInit) => {
    const asked = JSON.parse(String(init.body)) as Asked;
    return new Promise((resolve, reject) => {
      init.signal?.addEventListener('abort', () => reject(new DOMException('gone', 'AbortError')));
      const answer = asked.given.at === 'boiling' ? json({ title: 'too hot', status: 400, code: 'bad_input' }, 400) : json({ yes: true, result: asked });
      setTimeout(() => resolve(answer), 5);
    });
  });
}
const at = (what: string) => () => ({ given: { at: what } });
afterEach(() => vi.unstubAllGlobals());

describe('a question that a page asks again and again', () => {
  it('is answered by the last one asked, and says of what', async () => {
    echoes();
    const question = new Question<Asked, string>('water/show');
    const first = question.ask(at('20'), 'first');
    const second = question.ask(at('25'), 'second');
    expect(await first).toBeUndefined();
    expect(question.running).toBe(true);
    expect((await second)?.given.at).toBe('25');
    expect([question.answer?.given.at, question.of, question.running]).toEqual(['25', 'second', false]);
  });
  it('is not overtaken by one whose files came late', async () => {
    echoes();
    const question = new Question<Asked>('water/show');
    let come = (_: { given: { at: string } }): void => undefined;
    const late = question.ask(() => new Promise((resolve) => (come = resolve)));
    await question.ask(at('25'));
    come({ given: { at: '20' } });
    expect(await late).toBeUndefined();
    expect(question.answer?.given.at).toBe('25');
  });
  it('keeps its answer beside what is wrong with the next; a button clears what was wrong, typing does not', async () => {
    echoes();
    const question = new Question<Asked>('water/show');
    await question.ask(at('25'));
    expect(await question.ask(at('boiling'))).toBeUndefined();
    expect([question.answer?.given.at, (question.fault as Problem).message, question.running]).toEqual(['25', 'too hot', false]);
    const typed = question.ask(at('26'));
    expect(question.fault).toBeInstanceOf(Problem);
    await typed;
    expect(question.fault).toBeUndefined();
    await question.ask(at('boiling'));
    const pressed = question.run(at('27'));
    expect(question.fault).toBeUndefined();
    await pressed;
  });
  it('tells what cannot even be asked', async () => {
    const question = new Question<Asked>('water/show');
    await question.ask(() => {
      throw new Error('every material is off');
    });
    expect((question.fault as Error).message).toBe('every material is off');
  });
  it('is called off without a word, and forgets', async () => {
    echoes();
    const question = new Question<Asked>('water/show');
    await question.ask(at('25'));
    const next = question.run(at('26'));
    question.stop();
    expect(await next).toBeUndefined();
    expect([question.answer?.given.at, question.fault, question.running, question.stopped]).toEqual(['25', undefined, false, true]);
    question.forget();
    expect(question.answer).toBeUndefined();
  });
});
