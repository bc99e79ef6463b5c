// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Hazard and precautionary statements as sentences, as the papers have them.

/** "May damage the unborn child (H360FD): boric acid." A phrase of two sentences has one stop at its end, after its code. */
export function phraseOf(statement: { code: string; text: string; of?: string }): string {
  const text = statement.text.replace(/\.$/, '');
  return `${text}${statement.code === '' ? '' : ` (${statement.code})`}${statement.of ? `: ${statement.of}` : ''}.`;
}
