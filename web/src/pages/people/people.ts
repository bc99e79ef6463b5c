// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Duties in words, and what a password is to be.

export interface PersonBody {
  id: string;
  name: string;
  duties: string[];
  state: string;
}

export const kDuties = [
  { name: 'formulator', does: 'drafts recipes, plans batches, approves lot adjustments' },
  { name: 'receiving', does: 'receives lots, keeps suppliers and materials' },
  { name: 'operator', does: 'plans, weighs and closes batches, takes samples' },
  { name: 'analyst', does: 'judges lots, keeps methods, enters and checks results' },
  { name: 'quality manager', does: 'approves recipes and limits, decides, issues certificates' },
  { name: 'administrator', does: 'people and their duties' },
] as const;

const kFewest = 15;
const kMost = 1024;

/** What is wrong with a new password beside the current one, and with its second typing; empty where nothing is. */
export function newPasswordFault(current: string, next: string, again: string): { next: string; again: string } {
  return {
    next: next === '' ? '' : next === current ? 'This is the one you have: choose another' : passwordFault(next),
    again: again !== '' && again !== next ? 'This is not the same as above' : '',
  };
}

/** What is wrong with a password; it is counted in bytes, as the books do. */
export function passwordFault(password: string): string {
  const bytes = new TextEncoder().encode(password).length;
  if (bytes < kFewest) return `${kFewest} characters or more; this has ${bytes}`;
  return bytes > kMost ? `${kMost} characters at most` : '';
}
