// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Addresses: every page has one that can be sent, the back button works, filters live in the question part.
import type { Component } from 'svelte';

export interface Route {
  /** "/batches/:id/weigh"; a last ":id*" takes the rest with its slashes. */
  path: string;
  title: string;
  area: string;
  /** Pages are given `of`, the named parts of the address; some need none. */
  page: () => Promise<{ default: Component<any> }>;
}
export interface Found {
  route: Route;
  of: Record<string, string>;
}

export function match(routes: Route[], path: string): Found | undefined {
  const parts = path.replace(/\/+$/, '').split('/').slice(1);
  for (const route of routes) {
    const of = fits(route.path.replace(/\/+$/, '').split('/').slice(1), parts);
    if (of) return { route, of };
  }
  return undefined;
}

function fits(pattern: string[], parts: string[]): Record<string, string> | undefined {
  const of: Record<string, string> = {};
  for (const [at, name] of pattern.entries()) {
    if (name.startsWith(':') && name.endsWith('*')) {
      if (parts.length <= at) return undefined;
      of[name.slice(1, -1)] = parts.slice(at).map(decoded).join('/');
      return of;
    }
    const part = parts[at];
    if (part === undefined || part === '') return undefined;
    if (name.startsWith(':')) of[name.slice(1)] = decoded(part);
    else if (name !== part) return undefined;
  }
  return parts.length === pattern.length ? of : undefined;
}

function decoded(part: string): string {
  try {
    return decodeURIComponent(part);
  } catch {
    return part;
  }
}

class Place {
  path = $state('/');
  query = $state(new URLSearchParams());
  /** Counts moves, so that a page can tell a move from a filter. */
  moves = $state(0);

  #take(): void {
    const path = location.pathname;
    this.query = new URLSearchParams(location.search);
    if (path !== this.path) {
      this.path = path;
      this.moves += 1;
    }
  }
  start(): void {
    this.#take();
    addEventListener('popstate', () => this.#take());
    document.addEventListener('click', (event) => this.#clicked(event));
  }
  go(address: string, replace = false): void {
    if (address === location.pathname + location.search) return;
    history[replace ? 'replaceState' : 'pushState'](null, '', address);
    const path = this.path;
    this.#take();
    if (this.path !== path) scrollTo(0, 0);
  }
  /** One filter of the address; an empty one is left out. */
  filter(name: string): string {
    return this.query.get(name) ?? '';
  }
  setFilter(name: string, value: string): void {
    const next = new URLSearchParams(this.query);
    if (value === '') next.delete(name);
    else next.set(name, value);
    const text = next.toString();
    this.go(location.pathname + (text === '' ? '' : `?${text}`), true);
  }
  #clicked(event: MouseEvent): void {
    if (event.defaultPrevented || event.button !== 0 || event.metaKey || event.ctrlKey || event.shiftKey || event.altKey) return;
    const link = (event.target as Element | null)?.closest('a');
    if (!link || link.target !== '' || link.hasAttribute('download') || link.origin !== location.origin) return;
    if (link.pathname.startsWith('/api/')) return;
    if (link.hash !== '' && link.pathname === location.pathname) return;
    event.preventDefault();
    this.go(link.pathname + link.search);
  }
}

export const place = new Place();
