// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// The people's days on the pages, with Debian's Chromium, against the program itself (BW_PROGRAM) over a copy of an
// invented works' books (BW_WORKS).
import { defineConfig } from '@playwright/test';

export default defineConfig({
  testDir: 'test',
  testMatch: process.env.BW_BENCH ? '*.bench.mjs' : '*.spec.mjs',
  fullyParallel: true,
  workers: process.env.BW_BENCH ? 1 : 2,  // what is timed runs alone
  timeout: 90_000,
  expect: { timeout: 15_000 },
  retries: 0,
  reporter: [['list']],
  outputDir: process.env.BW_LOOKS ?? '../build/pages_looks',
  use: {
    browserName: 'chromium',
    viewport: { width: 1440, height: 900 },
    launchOptions: { executablePath: process.env.BW_CHROMIUM ?? '/usr/bin/chromium', args: ['--no-sandbox', '--disable-component-update', '--disable-sync', '--force-color-profile=srgb'] },
  },
});
