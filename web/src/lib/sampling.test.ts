// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
import { expect, test } from 'vitest';
import { belowPlan } from './sampling';

const plan = { increments: 10, increment_g: 45, where: 'the stream at discharge' };

test('what falls short of the plan is said at once, what meets it is not', () => {
  expect(belowPlan(plan, '', '')).toEqual([]);
  expect(belowPlan(plan, '10', '450')).toEqual([]);
  expect(belowPlan(plan, '12', '460.5')).toEqual([]);
  expect(belowPlan(plan, '1', '')).toEqual(['1 increment, and the plan asks for 10: it is remarked on the sample.']);
  expect(belowPlan(plan, '9', '30')).toEqual(['9 increments, and the plan asks for 10: it is remarked on the sample.', '30 g, and the plan asks for 450 g: check the mass and its unit.']);
});
