// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What every day begins with: a server of its own, and people who sign in on its pages or ask it beside them.
import { test as base, expect } from '@playwright/test';
import { Person, passwordOf, startServer } from './server.mjs';

export { expect };

export const test = base.extend({
  works: async ({}, use) => {
    const server = await startServer(process.env.BW_PROGRAM, process.env.BW_WORKS);
    await use({ base: server.base, away: server.away, back: server.back, ask: (id) => new Person(server.base, id).signIn() });
    await server.stop();
  },
  /** Signs somebody in on a page of their own; faults of scripts and foreign requests fail the day. */
  at: async ({ works, browser }, use, info) => {
    const contexts = [];
    const faults = [];
    await use(async (id, options = {}) => {
      const context = await browser.newContext({ baseURL: works.base, ...info.project.use, ...options });
      contexts.push(context);
      const page = await context.newPage();
      page.on('pageerror', (error) => faults.push(`${id}: ${error.message}`));
      page.on('dialog', (dialog) => {
        faults.push(`${id}: a script spoke: ${dialog.message()}`);
        void dialog.dismiss();
      });
      page.on('console', (message) => {
        const refused = /^Failed to load resource/.test(message.text()); // what the days provoke: refusals, a server that is away
        if (message.type() === 'error' && !refused) faults.push(`${id}: ${message.text()}`);
      });
      page.on('request', (request) => {
        if (!request.url().startsWith(works.base) && !/^(data|blob):/.test(request.url())) faults.push(`${id}: asked ${request.url()}`);
      });
      await page.goto('/');
      await signIn(page, id);
      return page;
    });
    expect(faults).toEqual([]);
    for (const context of contexts) await context.close();
  },
});

export async function signIn(page, id) {
  const name = page.getByLabel('Your short name');
  await name.fill(id);
  await page.getByLabel('Password').fill(passwordOf(id));
  await page.getByRole('button', { name: 'Sign in' }).click();
  await expect(page.getByLabel('Password')).toHaveCount(0);
}

/** Signs in a dialog, with a reason where it asks for one. */
export async function sign(page, id, why = 'as the evidence proposes') {
  const reason = page.getByRole('dialog').getByLabel('Reason');
  if (await reason.count()) await reason.fill(why);
  await page.getByRole('dialog').getByLabel(/password/i).fill(passwordOf(id));
  await page.getByRole('dialog').getByRole('button', { name: /^sign/i }).click();
}
