// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// A batch at the scale: its sheet from the server (or as it was last seen, while the line is down), and its weighings
// with those that still wait to be saved.
import type { Orders } from '../api/acts';
import { addressOf, keptView, Lost } from '../api/client';
import { keeper } from '../api/kept';
import { outbox, type Waiting } from '../api/outbox.svelte';
import { session } from '../api/session.svelte';
import type { BatchSheetShow, BatchShow, Weighing } from '../api/views';
import { decimal, plain } from './decimal';
import { massIn, readNumber } from './reading';

const kSheet = '/api/v1/view/batch/show';
type Line = Orders['batch/weigh']['weighings'][number];
type Seen = Pick<Weighing, 'step' | 'net_kg' | 'by' | 'at' | 'lot'> & { saved: boolean };

export class AtScale {
  shown = $state.raw<BatchShow>();
  /** The server is away: the sheet is as it was at this instant. Empty where it is as the books have it. */
  asOf = $state('');
  why = $state.raw<unknown>();
  #at = '';
  #sheetKept = false;
  /** Counts questions and weighings; an answer to a question from before what is in sight is passed over. */
  #turn = 0;
  #inSight = 0;

  constructor(readonly batch: string) {}

  async load(): Promise<void> {
    const turn = (this.#turn += 1);
    try {
      const read = await keptView<BatchShow>(kSheet, { batch: this.batch });
      if (turn < this.#inSight) return;
      this.#inSight = turn;
      if (!read.kept || !this.shown) this.shown = read.answer;
      this.#at = read.at;
      this.asOf = read.kept ? read.at : '';
      this.why = undefined;
      if (!read.kept && !this.#sheetKept) void this.#keepSheet();
    } catch (why) {
      if (turn < this.#inSight) return;
      if (why instanceof Lost && this.shown) this.asOf = this.#at;
      else this.why = why;
    }
  }

  /** The whole sheet is read once beside it, so that it can be looked at while the line is down. */
  async #keepSheet(): Promise<void> {
    this.#sheetKept = true;
    try {
      await keptView<BatchSheetShow>('/api/v1/view/batch/sheet', { batch: this.batch });
    } catch {
      this.#sheetKept = false; // it is tried again with the next look
    }
  }

  /** A weighing that the server has just saved, until the sheet is asked for again; kept, lest it is weighed twice. */
  add(line: Line, by = session.person?.id ?? '', at = new Date().toISOString()): void {
    if (!this.shown) return;
    this.#inSight = this.#turn += 1;
    const seen = { ...line, by, at, net_kg: kgOf(line.net) } as unknown as Weighing;
    this.shown = { ...this.shown, weighings: [...this.shown.weighings, seen] };
    keeper(addressOf(kSheet, { batch: this.batch }))(this.shown);
  }
  /** The same for one that had waited. */
  took(entry: Waiting): void {
    const order = entry.order as Orders['batch/weigh'];
    if (entry.act !== 'batch/weigh' || order.batch !== this.batch) return;
    for (const line of order.weighings) this.add(line, entry.person, entry.made);
  }

  /** Saved weighings, then those of this browser that wait. */
  get weighings(): Seen[] {
    const saved = (this.shown?.weighings ?? []).map((w) => ({ ...w, saved: true })).sort((a, b) => a.at.localeCompare(b.at));
    const waiting = outbox.entries.flatMap((entry) => {
      const order = entry.order as Orders['batch/weigh'];
      if (entry.act !== 'batch/weigh' || entry.state !== 'waits' || order.batch !== this.batch) return [];
      return order.weighings.map((w) => ({ step: w.step, lot: w.lot, by: entry.person, at: entry.made, net_kg: kgOf(w.net), saved: false }));
    });
    return [...saved, ...waiting];
  }
}

/** "12.34 kg" or "17.19 g" as plain kilograms. */
function kgOf(net: string): string {
  const read = readNumber(net, '.');
  if (read.kind !== 'number') return '0';
  const d = decimal(massIn(read.plain, read.unit || 'kg', 'kg') ?? '0');
  return d ? plain(d) : '0';
}

/** Keeps the tablet's screen awake while it is held. */
export function stayAwake(): () => void {
  let lock: WakeLockSentinel | undefined;
  const ask = () => {
    if (document.visibilityState === 'visible') void navigator.wakeLock?.request('screen').then((got) => (lock = got), () => {});
  };
  ask();
  document.addEventListener('visibilitychange', ask);
  return () => {
    document.removeEventListener('visibilitychange', ask);
    void lock?.release();
  };
}
