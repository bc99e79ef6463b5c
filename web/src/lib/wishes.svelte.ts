// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What a person wishes of the pages in this browser: light or dark, decimal sign. And one voice for readers of screens.
import type { Sign } from './reading';

export type Theme = 'system' | 'light' | 'dark';

function kept<T extends string>(name: string, allowed: readonly T[], otherwise: T): T {
  const text = localStorage.getItem(`brinewright.${name}`) as T | null;
  return text !== null && allowed.includes(text) ? text : otherwise;
}

class Wishes {
  theme = $state<Theme>('system');
  sign = $state<Sign>('.');

  start(): void {
    this.setTheme(kept('theme', ['system', 'light', 'dark'], 'system'));
    this.sign = kept('sign', ['.', ','], new Intl.NumberFormat().format(0.5).includes(',') ? ',' : '.');
  }
  setTheme(theme: Theme): void {
    this.theme = theme;
    localStorage.setItem('brinewright.theme', theme);
    if (theme === 'system') document.documentElement.removeAttribute('data-theme');
    else document.documentElement.setAttribute('data-theme', theme);
  }
  setSign(sign: Sign): void {
    this.sign = sign;
    localStorage.setItem('brinewright.sign', sign);
  }
}
export const wishes = new Wishes();

class Voice {
  text = $state('');
}
export const voice = new Voice();

/** Says one sentence: seen for a moment at the foot of the page, and read aloud by readers of screens. */
export function say(text: string): void {
  voice.text = '';
  setTimeout(() => (voice.text = text), 50);
}
