// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Remarks of the books as whole sentences on a page: they are kept as parts of longer ones.

/** A number's minus is U+2212; a hyphen within a name or a day stays. */
export function withMinus(text: string): string {
  return text.replace(/(^|[\s(±])-(?=\d)/g, '$1\u2212');
}

/** Words with commas, and "and" before the last. */
export function joined(words: string[]): string {
  return words.length < 2 ? words.join('') : `${words.slice(0, -1).join(', ')} and ${words.at(-1)}`;
}

/** With a full stop at its end, and one only. */
export function stopped(text: string): string {
  const plain = text.trimEnd();
  return /[.!?]$/.test(plain) ? plain.replace(/\.+$/, '.') : `${plain}.`;
}

/** Begins with a capital where it begins with a word; "pH" and "mg/L" stay as they are. */
export function sentence(text: string): string {
  const plain = withMinus(stopped(text.trimStart()));
  return /^[a-z]+[\s,:;.]/.test(plain) && !/^(pH|mg|ug|kg|g|u|nm)\b/.test(plain) ? plain[0]!.toUpperCase() + plain.slice(1) : plain;
}
