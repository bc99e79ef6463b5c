// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Which shape and fill a word of the books has. The word comes first; shape and fill repeat it.

export type Tone = 'good' | 'close' | 'bad' | 'hold' | 'info' | 'none' | 'way' | 'ended';

const kTones: Record<Exclude<Tone, 'way'>, string[]> = {
  good: ['within limits', 'released', 'release', 'accepted', 'in use', 'counted', 'signed', 'issued', 'closed', 'in service', 'approved', 'active', 'balanced', 'alike', 'saved', 'within tolerance', 'good', 'whole'],
  close: ['too close to call', 'due', 'on watch', 'waits', 'late'],
  bad: ['outside limits', 'rejected', 'reject', 'refused', 'outside', 'out of service', 'stopped', 'withdrawn', 'outside tolerance', 'not balanced', 'not alike', 'not saved', 'too far'],
  hold: ['on hold', 'hold', 'rework'],
  info: ['for information', 'ready', 'offered', 'answered', 'judged', 'checked', 'open'],
  none: ['not tested', 'planned', 'draft', 'received', 'listed', 'not weighed', 'not started'],
  ended: ['retired', 'used up', 'replaced', 'set aside', 'spent'],
};

export function toneOf(word: string): Tone {
  for (const [tone, words] of Object.entries(kTones)) if (words.includes(word)) return tone as Tone;
  return 'way';
}

/** Batch states in the order they are passed. */
export const kBatchStates = ['planned', 'weighing', 'blended', 'sampled', 'under test', 'ready', 'released', 'on hold', 'rejected'];
