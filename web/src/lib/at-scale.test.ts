// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { afterEach, expect, test, vi } from 'vitest';
import { AtScale } from './at-scale.svelte';

type Answered = (weighings: number[]) => void;
/** A server that answers each question about the batch when the test says so. */
function asked(): Answered[] {
  const open: Answered[] = [];
  vi.stubGlobal('fetch', (address: string) =>
    new Promise((resolve) => {
      const answer = (weighings: number[]) => resolve(new Response(JSON.stringify({ yes: true, result: { weighings: weighings.map((step) => ({ step, at: '' })) } })));
      if (address.includes('/batch/show')) open.push(answer);
    }),
  );
  return open;
}
const steps = (scale: AtScale) => scale.weighings.map((w) => w.step);
afterEach(() => vi.unstubAllGlobals());

test('an answer from before a weighing does not take it out of sight', async () => {
  const open = asked();
  const scale = new AtScale('B-1');
  const first = scale.load();
  open[0]?.([1]);
  await first;
  const early = scale.load();
  scale.add({ step: 2, lot: 'L', net: '1 kg' } as Parameters<AtScale['add']>[0], 'olga');
  const late = scale.load();
  open[1]?.([1]);
  await early;
  expect(steps(scale)).toContain(2);
  open[2]?.([1, 2, 3]);
  await late;
  expect(steps(scale)).toEqual([1, 2, 3]);
});

test('of two answers the one asked for later stays', async () => {
  const open = asked();
  const scale = new AtScale('B-1');
  const [one, two] = [scale.load(), scale.load()];
  open[1]?.([1, 2]);
  await two;
  open[0]?.([1]);
  await one;
  expect(steps(scale)).toEqual([1, 2]);
});
