// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Waters to be mixed as they are typed, and as the computation is told them.
import { get } from '../../api/client';
import { readFile, type Table } from '../../lib/toml';
import { list, text } from '../recipes/target';
import { waterFile } from '../waters/waters';
import type { Given } from '../recipes/given';

export interface MixedWater {
  amount: string;
  unit: string;
  /** "typed", or the id of a water with a composition of its own. */
  of: string;
  holds: string;
  u: string;
  /** "" for practical salinity, " g/kg". */
  scale: string;
  celsius: string;
}
export const kTyped = 'typed';

export function ready(water: MixedWater): boolean {
  return water.amount !== '' && (water.of !== kTyped || water.holds !== '');
}

/** "600 L of 30 +- 0.1, at 20 degC" */
export function phrase(water: MixedWater): string {
  const u = water.u === '' ? '' : ` +- ${water.u}`;
  const at = water.celsius === '' ? '' : `, at ${water.celsius} degC`;
  return `${water.amount} ${water.unit} of ${water.holds}${u}${water.scale}${at}`;
}

interface MixGiven {
  files: Record<string, Given>;
  given: Record<string, string | string[]>;
}

async function textOf(one: Given[number]): Promise<string> {
  return one.document === undefined ? (one.text ?? '') : (await get('/api/v1/document', { id: one.document })).text;
}

/** A material may stand once in all files: what several recipes share goes along once, if it is the same in them. */
async function shelf(files: Given): Promise<Given> {
  const apart = [...new Map(files.map((one) => [JSON.stringify(one), one])).values()];
  if (apart.length < 2) return apart;
  const tables = await Promise.all(apart.map(async (one) => readFile(await textOf(one))));
  const named = new Map<string, Table>();
  for (const material of tables.flatMap((table) => list(table, 'material'))) {
    const name = text(material['name']);
    const before = named.get(name);
    if (before && JSON.stringify(before) !== JSON.stringify(material)) {
      throw new Error(`${name} has other values in one of these recipes than in another: give one of the waters by its salinity`);
    }
    named.set(name, material);
  }
  return [{ name: 'materials.json', text: JSON.stringify({ ...tables[0], material: [...named.values()] }) }];
}

/** In a phrase a file is known by the end of its name, so it goes along as text under a name of ours. */
async function named(one: Given[number], name: string, lead: string): Promise<Given[number]> {
  const its = await textOf(one);
  return { name: `${name}${its.trimStart().startsWith('{') ? '.json' : '.toml'}`, text: its, lead };
}

/** What is asked. */
export async function mixGiven(waters: MixedWater[], celsius: string, salt: { recipe: Given; materials: Given }): Promise<MixGiven> {
  const own = waters.filter((water) => water.of !== kTyped);
  const files = await Promise.all(own.map((water) => waterFile(water.of, '35')));
  const led = await Promise.all(files.flatMap(({ file }, i) => file.map((one) => named(one, `water ${waters.indexOf(own[i]!) + 1}`, `${own[i]?.amount} ${own[i]?.unit} of `))));
  const materials = await shelf([...salt.materials, ...files.flatMap((one) => one.materials)]);
  const out: MixGiven = {
    files: { water: salt.recipe, materials, ...(led.length > 0 && { WATER: led }) },
    given: { at: `${celsius || '25'} degC` },
  };
  const typed = waters.filter((water) => water.of === kTyped);
  if (typed.length > 0) out.given['WATER'] = typed.map(phrase);
  return out;
}

/** Which of the waters a refusal speaks of, by its phrase in quotes. */
export function waterOf(message: string, waters: MixedWater[]): number {
  return waters.findIndex((water) => water.of === kTyped && message.startsWith(`'${phrase(water)}'`));
}
