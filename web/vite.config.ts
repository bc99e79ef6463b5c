// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { createHash } from 'node:crypto';
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import type { Plugin } from 'vite';
import { defineConfig } from 'vitest/config';

const kWorker = 'service-worker.js';

/** Writes the worker that keeps the pages: the files it keeps by their paths, and a digest of all their bytes. */
function keepPages(): Plugin {
  let out = '';
  return {
    name: 'keep-pages',
    apply: 'build',
    configResolved: (config) => {
      out = config.build.outDir;
    },
    closeBundle: () => {
      const entries = readdirSync(out, { recursive: true, withFileTypes: true });
      const files = entries
        .filter((entry) => entry.isFile() && entry.name !== kWorker)
        .map((entry) => join(entry.parentPath ?? entry.path, entry.name).slice(join(out).length).replaceAll('\\', '/'))
        .sort();
      const digest = createHash('sha256');
      for (const file of files) digest.update(file).update('\0').update(readFileSync(join(out, file)));
      const worker = readFileSync(join('src/worker', kWorker), 'utf8')
        .replace('__FILES__', () => JSON.stringify(files))
        .replace('__DIGEST__', digest.digest('hex').slice(0, 16));
      writeFileSync(join(out, kWorker), worker);
    },
  };
}

// The server allows no inline script or style, so nothing is inlined and styles are files.
export default defineConfig({
  plugins: [svelte(), keepPages()],
  build: {
    target: 'es2022',
    assetsInlineLimit: 0,
    cssCodeSplit: true,
    modulePreload: { polyfill: false },
    reportCompressedSize: true,
    sourcemap: false,
  },
  // The host stays as the browser says it: the server refuses writes of a page from another host.
  server: { proxy: { '/api': { target: 'http://127.0.0.1:8080', changeOrigin: false } } },
  test: { include: ['src/**/*.test.ts'], environment: 'node' },
});
