// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Keeps the pages themselves (first page, scripts, styles), so that a reload works while the server is away. It keeps
// nothing of the books: questions and acts under /api/ pass it by untouched. vite.config.ts writes the list of files and
// the digest of their bytes, so another build is another worker with a store of its own.
const kFiles = __FILES__;
const kLead = 'brinewright-pages-';
const kStore = kLead + '__DIGEST__';
const kFirstPage = '/index.html';
/** So long a page of the server is waited for before the kept one is shown. */
const kPatience = 3_000;

async function fill() {
  const store = await caches.open(kStore);
  // Names under /assets/ change with their bytes; the others are asked for anew.
  await store.addAll(kFiles.map((path) => new Request(path, { cache: path.startsWith('/assets/') ? 'default' : 'reload' })));
  await self.skipWaiting();
}

async function clear() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name.startsWith(kLead) && name !== kStore).map((name) => caches.delete(name)));
  await self.clients.claim();
}

async function kept(path) {
  const store = await caches.open(kStore);
  return store.match(path);
}

async function page(request) {
  try {
    return await fetch(request, { signal: AbortSignal.timeout(kPatience) });
  } catch (why) {
    const first = await kept(kFirstPage);
    if (first) return first;
    throw why;
  }
}

async function file(request, path) {
  return (await kept(path)) ?? fetch(request);
}

self.addEventListener('install', (event) => event.waitUntil(fill()));
self.addEventListener('activate', (event) => event.waitUntil(clear()));
self.addEventListener('fetch', (event) => {
  const { request } = event;
  const address = new URL(request.url);
  if (request.method !== 'GET' || address.origin !== self.location.origin || address.pathname.startsWith('/api/')) return;
  if (request.mode === 'navigate') event.respondWith(page(request));
  else if (kFiles.includes(address.pathname)) event.respondWith(file(request, address.pathname));
});
