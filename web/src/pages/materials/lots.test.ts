// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { describe, expect, it } from 'vitest';
import { left, lotFile, stated } from './lots';

describe('lots', () => {
  it('says what is left in decimal, never below nought', () => {
    expect(left({ body: { received_kg: '25', used_kg: '0.9137000000000001' } })).toBe('24.086');
    expect(left({ body: { received_kg: '1', used_kg: '1.0004' } })).toBe('0.000');
  });
  it('says what certificates state, and what they do not', () => {
    expect(stated({ value: '99.2 %', u: '0.3 %' })).toBe('99.2 % ± 0.3 %');
    expect(stated({ value: '99.2 %' })).toBe('99.2 %, u not stated');
    expect(stated({ below: '1 mg/kg' })).toBe('not found, below 1 mg/kg');
    expect(stated({ low: '97.0 %', high: '103.0 %' })).toBe('97.0 % to 103.0 %');
    expect(stated({ high: '5 ug/kg' })).toBe('at most 5 µg/kg');
    expect(stated(undefined)).toBe('not stated');
  });
  it('leaves out what was not typed', () => {
    const lot = { material: 'm', number: ' L1 ', supplier: 's', quantity: '25', useBy: '', assay: '99.5', assayU: '', moisture: '' };
    expect(JSON.parse(lotFile(lot)).lot).toEqual([{ material: 'm', number: 'L1', supplier: 's', stock: '25 kg', assay: { value: '99.5 %' } }]);
  });
});
