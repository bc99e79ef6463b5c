// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import example from '../../../examples/laboratory/alkalinity.csv?raw';
import table from '../../../examples/laboratory/calcium.toml?raw';
import { emptyHead, fileName, missingOf, readPoints, saysItself, withHead } from './titration-head';

test('a file with a head says itself what it is, bare points do not', () => {
  expect(saysItself(example)).toBe(true);
  expect(saysItself(table)).toBe(true);
  expect(saysItself('4.10,187.56\n4.15,190.25')).toBe(false);
  expect(saysItself('acid mL\tpotential mV\n4,10\t187,56')).toBe(false);
  expect([fileName(example), fileName(table), fileName('{"kind": "titration"}')]).toEqual(['curve.csv', 'curve.toml', 'curve.json']);
});

test('points are pairs that go forward', () => {
  expect(readPoints('V\tE\n4,10\t187,56\n4,15\t190,25\n4,2\t192\n4,25\t194\n4,3\t196')).toEqual({ points: 5, wrong: '', turned: true });
  expect(readPoints('1,2\n2,x').wrong).toMatch(/row 2, “2 x”, is not two numbers/);
  expect(readPoints('1,2\n1,3').wrong).toBe('row 2: the titrant does not grow from the row above');
  expect(readPoints('1,2\n2,3').wrong).toMatch(/^2 points; 5 or more/);
});

test('the head is written as files take it', () => {
  const head = { ...emptyHead(), name: 'a "b"', sample: '150.38', sample_u: '0.01', titrant: '0.10021', density: '1.0237' };
  expect(missingOf(head)).toBe('');
  expect(missingOf({ ...head, density: '' })).toMatch(/density is missing/);
  const text = withHead('4,10\t187,56\n4,15\t190,25', head);
  expect(text).toContain('# name = "a \\"b\\""\n');
  expect(text).toContain('# sample = { value = "150.38 g", u = "0.01 g" }\n');
  expect(text).toContain('# titrant = "0.10021 mol/kg"\n');
  expect(text.endsWith('titrant,signal\n4.10,187.56\n4.15,190.25\n')).toBe(true);
});
