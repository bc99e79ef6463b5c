// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What is said of papers that a batch does not have, by the state that it is in.

const kEnded = ['rejected', 'rework'];

/** Of its certificate. */
export function noneYet(batch: string, state: string): string {
  if (state === 'released') return `None yet. Batch ${batch} is released: its certificate can be issued.`;
  if (kEnded.includes(state)) return `None. Batch ${batch} is ${state}: no certificate is issued of it.`;
  return `None yet. Batch ${batch} is ${state}: a certificate is issued once it is released.`;
}

/** Of its mixing sheet. */
export function sheetNotYet(batch: string, state: string): string {
  if (state === 'released') return `Not signed yet. Batch ${batch} is released: its mixing sheet can be signed.`;
  if (kEnded.includes(state)) return `None. Batch ${batch} is ${state}: no mixing sheet is signed for it.`;
  return `None yet. Batch ${batch} is ${state}: a mixing sheet is signed once it is released.`;
}
