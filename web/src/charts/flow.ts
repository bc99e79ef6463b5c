// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// Where each element comes from: bands from materials to elements, each element 100 %, small ones grouped.
import type { Budget } from '../api/computed';

export interface Band {
  material: string;
  element: string;
  percent: number;
  /** Not named by the material's formula: it only comes along. */
  impurity: boolean;
  /** Where it leaves and arrives, in units of 100 % of one element, from the top. */
  from: number;
  to: number;
}
interface Node {
  name: string;
  at: number;
  size: number;
}
interface Flow {
  materials: Node[];
  elements: Node[];
  bands: Band[];
  /** Of the materials' column, gaps counted. */
  tall: number;
}

export const kOthers = 'small amounts';
/** Below this share of an element a source is grouped. */
const kSmall = 1.5;
const kGap = 0.14;

/** Symbols of a formula: "MgCl2.6H2O" holds Mg, Cl, H, O. Groups are known by what they are counted as. */
export function holds(formula: string, element: string): boolean {
  const grouped: Record<string, RegExp> = {
    SO4: /SO4/, NO3: /NO3/, PO4: /PO4/, NH4: /NH4/, carbon: /CO3/, alkalinity: /CO3|OH|B4O7|O$/,
  };
  const pattern = grouped[element] ?? new RegExp(`${element}(?![a-z])`);
  return pattern.test(formula);
}

export function flow(budget: Budget[], formulas: Map<string, string>, elements: string[]): Flow {
  const wanted = elements.flatMap((symbol) => budget.filter((one) => one.symbol === symbol));
  const raw = wanted.flatMap((one) => {
    const large = one.from.filter((source) => source.share_percent >= kSmall);
    const rest = 100 - large.reduce((sum, source) => sum + source.share_percent, 0);
    const bands = large.map((source) => ({ material: source.material, element: one.symbol, percent: source.share_percent }));
    return rest > 0.05 ? [...bands, { material: kOthers, element: one.symbol, percent: rest }] : bands;
  });
  const order = elements.filter((symbol) => raw.some((band) => band.element === symbol));
  const centre = (name: string) => {
    const mine = raw.filter((band) => band.material === name);
    const weight = mine.reduce((sum, band) => sum + band.percent, 0);
    return mine.reduce((sum, band) => sum + order.indexOf(band.element) * band.percent, 0) / weight;
  };
  const names = [...new Set(raw.map((band) => band.material))].sort((a, b) => {
    if (a === kOthers || b === kOthers) return Number(a === kOthers) - Number(b === kOthers);
    return centre(a) - centre(b);
  });
  const size = (name: string) => raw.filter((band) => band.material === name).reduce((sum, band) => sum + band.percent, 0) / 100;
  let at = 0;
  const materials = names.map((name) => {
    const node = { name, at, size: size(name) };
    at += node.size + kGap;
    return node;
  });
  const tall = Math.max(at - kGap, order.length + kGap * (order.length - 1));
  const elementNodes = order.map((name, i) => ({ name, at: i * (1 + kGap), size: 1 }));
  const left = new Map(materials.map((node) => [node.name, node.at]));
  const right = new Map(elementNodes.map((node) => [node.name, node.at]));
  const bands: Band[] = [];
  for (const material of names) {
    for (const element of order) {
      const found = raw.find((band) => band.material === material && band.element === element);
      if (!found) continue;
      const from = left.get(material) ?? 0;
      const to = right.get(element) ?? 0;
      left.set(material, from + found.percent / 100);
      right.set(element, to + found.percent / 100);
      const formula = formulas.get(material) ?? '';
      const impurity = formula !== '' && !holds(formula, element);
      bands.push({ ...found, impurity, from, to });
    }
  }
  return { materials, elements: elementNodes, bands, tall };
}
