// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What the charts share: inks with their own dash and marker, ticks, labels that do not cover one another.
import type { Column } from '../lib/columns';
import { shown } from '../lib/quantity';

export type Ink = 'ink' | 'blue' | 'vermilion' | 'green' | 'purple';
export const kInks: Ink[] = ['ink', 'blue', 'vermilion', 'green', 'purple'];

/** A column of the table twin; cells are plain digits or words. */
export interface Head {
  head: string;
  unit?: string;
  kind?: Column<string[]>['kind'];
}

/** One line of a chart. */
export interface Series {
  name: string;
  ink: Ink;
  points: Array<{ x: number; y: number | null }>;
  /** No line between the points. */
  dots?: boolean;
}
/** A row of a dot plot: up to two values. */
export interface Dot {
  label: string;
  values: Array<number | null>;
  /** The value may be so much larger or smaller. */
  factor?: number;
}
/** A row of bars. */
export interface Bar {
  label: string;
  /** One length for each part. */
  values: number[];
  /** Beside the bar: the value with its unit. */
  said: string;
  mark?: number;
}

export function dashOf(ink: Ink): string {
  return { ink: '', blue: '7 3', vermilion: '2 3', green: '10 3 2 3', purple: '5 2 1 2' }[ink];
}

/** The outline of a marker around (0, 0). */
export function markerOf(ink: Ink, r = 4): string {
  const d = r * 1.2;
  const circle = `M${-r} 0a${r} ${r} 0 1 0 ${2 * r} 0a${r} ${r} 0 1 0 ${-2 * r} 0z`;
  return {
    ink: circle,
    blue: `M${-r} ${-r}h${2 * r}v${2 * r}h${-2 * r}z`,
    vermilion: `M0 ${-d}L${d} ${d * 0.8}H${-d}z`,
    green: `M0 ${-d}L${d} 0L0 ${d}L${-d} 0z`,
    purple: `M0 ${d}L${d} ${-d * 0.8}H${-d}z`,
  }[ink];
}

/** Powers of ten within a range, and 2 and 5 of each where there are few. */
export function logTicks(low: number, high: number, most = 7): number[] {
  const from = Math.floor(Math.log10(low));
  const to = Math.ceil(Math.log10(high));
  const decades = Array.from({ length: to - from + 1 }, (_, i) => from + i);
  const step = Math.max(1, Math.ceil(decades.length / most));
  const few = decades.length <= 3;
  const all = decades.filter((d) => few || (d - from) % step === 0).flatMap((d) => (few ? [1, 2, 5] : [1]).map((m) => m * 10 ** d));
  return all.filter((value) => value >= low * 0.999 && value <= high * 1.001).map((value) => Number(value.toPrecision(12)));
}

export function tick(value: number): string {
  const size = Math.abs(value);
  if (size !== 0 && (size < 1e-3 || size >= 1e6)) {
    const power = Math.floor(Math.log10(size));
    const head = Number((value / 10 ** power).toPrecision(3));
    const raised = String(power).replace(/[-0-9]/g, (c) => (c === '-' ? '⁻' : ('⁰¹²³⁴⁵⁶⁷⁸⁹'[Number(c)] ?? c)));
    return head === 1 ? `10${raised}` : `${head}·10${raised}`;
  }
  return shown(value, 4);
}

const kMinute = 60; // s
const kHour = 3600;
const kDay = 86_400;
const kClear = [1, 2, 5, 10, 20, 30].flatMap((n) => [n, n * kMinute]).concat([1, 2, 5, 10, 24].map((n) => n * kHour), [2, 5, 10, 20, 50, 100, 200].map((n) => n * kDay));

/** Times in hours that a clock would name, evenly apart on a logarithmic axis and at most `most`. */
export function timeTicks(low: number, high: number, most = 7): number[] {
  const within = kClear.map((seconds) => seconds / kHour).sort((a, b) => a - b).filter((h) => h >= low * 0.999 && h <= high * 1.001);
  const gap = Math.log(high / low) / most;
  return within.reduce<number[]>((kept, h) => (kept.length === 0 || Math.log(h / (kept.at(-1) ?? h)) >= gap ? [...kept, h] : kept), []);
}

/** Two digits, the nought behind kept: "8.0". */
export function two(value: number): string {
  return value >= 100 || value < 0.001 ? shown(value, 2) : shown(value.toPrecision(2));
}

/** A time in words: "10 s", "5 min", "2 h", "3 days". */
export function time(hours: number): string {
  const seconds = hours * 3600;
  if (seconds < 0.5) return '0 s';
  if (seconds < 60) return `${shown(seconds, 2)} s`;
  if (hours < 1) return `${shown(hours * 60, 2)} min`;
  if (hours < 48) return `${shown(hours, 2)} h`;
  if (hours >= 8760) return 'over a year';
  return `${shown(hours / 24, 2)} days`;
}

/** Moves places apart that lie nearer than `gap`, as little as may be, within 0 and `most`. */
export function apart(places: number[], gap: number, most: number): number[] {
  const order = places.map((_, i) => i).sort((a, b) => (places[a] ?? 0) - (places[b] ?? 0));
  const out = [...places];
  for (let turn = 0; turn < 60; turn += 1) {
    let moved = false;
    for (let i = 1; i < order.length; i += 1) {
      const [a, b] = [order[i - 1] ?? 0, order[i] ?? 0];
      const missing = gap - ((out[b] ?? 0) - (out[a] ?? 0));
      if (missing > 0.01) {
        out[a] = (out[a] ?? 0) - missing / 2;
        out[b] = (out[b] ?? 0) + missing / 2;
        moved = true;
      }
    }
    order.forEach((i) => (out[i] = Math.min(most, Math.max(0, out[i] ?? 0))));
    if (!moved) break;
  }
  return out;
}
