// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Whether the server answers. Every question tells it; between questions a small one is asked: every 0.8 s where
// `watch` was called (weighing) or where the line is down, else every ten seconds. Hidden pages ask nothing.

const kWatched = 800;
const kElsewhere = 10_000;
const kPatience = 900;

class Net {
  lost = $state(false);
  since = $state<Date>();
  watchers = 0;
}
export const net = new Net();
const back: Array<() => void> = [];

/** Called when the server answers again. */
export function onBack(act: () => void): void {
  back.push(act);
}

export function heard(answered: boolean): void {
  if (answered === !net.lost) return;
  net.lost = !answered;
  net.since = answered ? undefined : new Date();
  if (answered) for (const act of back) act();
}

async function ask(): Promise<void> {
  try {
    const answer = await fetch('/api/v1/works', { cache: 'no-store', signal: AbortSignal.timeout(kPatience) });
    heard(answer.status < 502 || answer.status > 504);
  } catch {
    heard(false);
  }
}

let last = 0;
async function beat(): Promise<void> {
  const pause = net.watchers > 0 || net.lost ? kWatched : kElsewhere;
  if (document.visibilityState === 'visible' && Date.now() - last >= pause) {
    last = Date.now();
    await ask();
  }
}

/** While this is held the server is asked each second; call what it returns to let go. */
export function watch(): () => void {
  net.watchers += 1;
  return () => {
    net.watchers -= 1;
  };
}

export function startListening(): void {
  setInterval(() => void beat(), 200);
  addEventListener('offline', () => heard(false));
  addEventListener('online', () => void ask());
}
