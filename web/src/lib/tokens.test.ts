// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// The palettes are measured: WCAG 2.2 contrast of every pair that meets on a page.
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';

const css = readFileSync(new URL('../tokens.css', import.meta.url), 'utf8');

function palette(block: string): Map<string, string> {
  return new Map([...block.matchAll(/--([a-z-]+): (#[0-9a-f]{6});/g)].map((m) => [m[1]!, m[2]!]));
}
const blocks = [...css.matchAll(/\{([^{}]*--ground[^{}]*)\}/g)].map((m) => palette(m[1]!));
const [light, asSystem, dark] = blocks as [Map<string, string>, Map<string, string>, Map<string, string>];

function luminance(hex: string): number {
  const part = (at: number) => {
    const c = parseInt(hex.slice(at, at + 2), 16) / 255;
    return c <= 0.04045 ? c / 12.92 : ((c + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * part(1) + 0.7152 * part(3) + 0.0722 * part(5);
}
function contrast(a: string, b: string): number {
  const [x, y] = [luminance(a), luminance(b)].sort((p, q) => q - p) as [number, number];
  return (x + 0.05) / (y + 0.05);
}

const grounds = ['ground', 'surface', 'raised'];
const texts = ['ink', 'quiet', 'link', 'wrong'].flatMap((t) => grounds.map((g) => [t, g] as const));
const fills = ['good', 'close', 'bad', 'hold', 'info', 'none'].map((t) => [`${t}-ink`, `${t}-fill`] as const);
const graphics = [
  ...['edge', 'focus', 'act'].flatMap((t) => grounds.map((g) => [t, g] as const)),
  ...['ink', 'blue', 'vermilion', 'green', 'purple'].map((t) => [`line-${t}`, 'surface'] as const),
];

describe.each([
  ['light', light],
  ['dark', dark],
])('%s palette', (_, colours) => {
  const of = (name: string) => colours.get(name) ?? '#000000';
  it.each([...texts, ...fills, ['act-ink', 'act'] as const])('text %s on %s is 4.5:1', (text, ground) => {
    expect(contrast(of(text), of(ground))).toBeGreaterThanOrEqual(4.5);
  });
  it.each(graphics)('part %s on %s is 3:1', (part, ground) => {
    expect(contrast(of(part), of(ground))).toBeGreaterThanOrEqual(3);
  });
});

it('the palette of a dark system is the dark palette', () => {
  expect([...asSystem.entries()]).toEqual([...dark.entries()]);
  expect([...dark.keys()].sort()).toEqual([...light.keys()].sort());
});
