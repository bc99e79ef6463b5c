import { expect, test } from './desk.mjs';
test('latency', async ({ at }) => {
  test.setTimeout(200000);
  const page = await at('fenna').catch(() => null);
});
