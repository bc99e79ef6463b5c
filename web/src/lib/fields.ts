// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Which field a refusal speaks of. Commands name their option in the sentence: "--anhydrous: …".
import { Problem } from '../api/client';

export function fieldOf(fault: unknown, name: string): string {
  if (!(fault instanceof Problem)) return '';
  if (fault.field === name) return fault.message;
  const lead = new RegExp(`^-{0,2}${name}: `, 'i');
  return lead.test(fault.message) ? fault.message.replace(lead, '') : '';
}
