// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// The lines of a batch sheet in their order, as parts: what goes into the blender, and each premix where it is made.
import type { Addition, Batch } from '../api/views';

type Stage = Batch['premix'][number];
interface Carried {
  /** From 1. */
  stage: number;
  /** What is in the vessel after it, in kg. */
  total_kg: string;
}
export interface SheetPart {
  into: string;
  lines: Addition[];
  /** Of a premix: by the step of the sheet, the stage that this line of carrier is. */
  stages: Map<number, Carried>;
  premix: boolean;
}

const kPremixes: Array<{ into: string; carrier: string; stages: (batch: Batch) => Stage[] }> = [
  { into: 'premix', carrier: 'premix carrier', stages: (batch) => batch.premix },
  { into: 'late premix', carrier: 'late premix carrier', stages: (batch) => batch.late_premix ?? [] },
];

export function partsOf(batch: Batch): SheetPart[] {
  const out: SheetPart[] = [];
  for (const line of batch.additions) {
    const premix = kPremixes.find((one) => line.into === one.into || line.into === one.carrier);
    const into = premix?.into ?? line.into;
    let part = out.at(-1);
    if (part?.into !== into) {
      part = { into, lines: [], stages: new Map(), premix: premix !== undefined };
      out.push(part);
    }
    part.lines.push(line);
    const stage = premix && line.into === premix.carrier ? premix.stages(batch)[part.stages.size] : undefined;
    if (stage) part.stages.set(line.step, { stage: part.stages.size + 1, total_kg: stage.total_kg });
  }
  return out;
}
