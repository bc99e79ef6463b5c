// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { readFileSync } from 'node:fs';
import { describe, expect, it } from 'vitest';
import { readFile } from '../../lib/toml';
import { waterOfTarget } from './waters';

describe('a target as a water', () => {
  it('takes what is named at its target and leaves the rest to nature', () => {
    const target = readFile(readFileSync('../examples/works/raised.toml', 'utf8'));
    expect(waterOfTarget(target)).toEqual({
      format: 'brinewright/1', kind: 'water', name: 'Raised reef salt', temperature: '25 degC', seawater: '35',
      constituents: { Ca: '445 mg/L', Mg: '1345 mg/L', alkalinity: '11.5 dKH', carbon: '3.60 mmol/kg' },
    });
  });
});
