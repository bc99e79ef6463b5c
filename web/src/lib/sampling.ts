// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What a sample that is being taken down lacks against its plan, said before it is sent; the server keeps the same remarks.
import type { SamplingPlan } from '../api/views';

/** A sentence for each of: fewer increments, less mass. Fields that are empty say nothing yet. */
export function belowPlan(plan: SamplingPlan, increments: string, mass: string): string[] {
  const out: string[] = [];
  if (increments !== '' && Number(increments) < plan.increments) out.push(`${increments} ${increments === '1' ? 'increment' : 'increments'}, and the plan asks for ${plan.increments}: it is remarked on the sample.`);
  const planned = plan.increments * plan.increment_g;
  if (mass !== '' && Number(mass) < planned) out.push(`${mass} g, and the plan asks for ${planned} g: check the mass and its unit.`);
  return out;
}
