// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Batches whose results may be entered, and the methods that they are tested by.
import { get, type Schemas } from '../../api/client';

export interface Method {
  id: string;
  title: string;
  analytes: string[];
  unit: string;
  checks: Array<{ name: string; analyte: string; value: string }>;
}

const kMost = 200;

export async function batchesUnderTest(): Promise<Schemas['Row'][]> {
  const of = (state: string) => get('/api/v1/records', { kind: 'batch', state, limit: kMost });
  const [sampled, tested] = await Promise.all([of('sampled'), of('under test')]);
  return [...sampled.rows, ...tested.rows];
}

/** Those in service; or all, for what was tested before. */
export async function methods(which: 'in service' | 'all' = 'in service'): Promise<Method[]> {
  const found = await get('/api/v1/records', { kind: 'method', ...(which === 'all' ? {} : { state: which }), limit: kMost });
  return found.rows.map((row) => row.body as unknown as Method);
}
