// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { svelte } from '@sveltejs/vite-plugin-svelte';
import { defineConfig } from 'vitest/config';

// The server allows no inline script or style, so nothing is inlined and styles are files.
export default defineConfig({
  plugins: [svelte()],
  build: {
    target: 'es2022',
    assetsInlineLimit: 0,
    cssCodeSplit: true,
    modulePreload: { polyfill: false },
    reportCompressedSize: true,
    sourcemap: false,
  },
  server: { proxy: { '/api': 'http://127.0.0.1:8080' } },
  test: { include: ['src/**/*.test.ts'], environment: 'node' },
});
