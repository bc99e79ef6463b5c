// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What the commands print with --json: numbers are decimal text, as they are kept.
import type { components } from './schema';

type Schemas = components['schemas'];

export interface Signed {
  at: string;
  person: string;
  name: string;
  duty: string;
  meaning: string;
  mark: string;
}
export interface Addition {
  step: number;
  material: string;
  lot: string;
  target_kg: string;
  tolerance_kg: string;
  scale: string;
  into: string;
  cautions: string[];
  /** How every mass of this line is written: unit, and the decimals that its scale shows. */
  unit: 'g' | 'kg';
  places: number;
  /** The target and its tolerance, so written. */
  target: string;
  tolerance: string;
  /** Weighings that the scale's capacity asks for. */
  parts: number;
  /** What the scale's display steps by, in that unit. */
  scale_step: string;
}
export interface Batch {
  number: string;
  product: string;
  recipe: string;
  size_kg: string;
  state: string;
  additions: Addition[];
  adjustment_approved?: Signed;
  blend_g_per_kg_purified_water: string;
  blended_by?: string;
  changes: Array<{ material: string; recipe_share: string; batch_share: string; why?: string }>;
  invented: boolean;
  made_on?: string;
  notices: string[];
  planned_at: string;
  planned_by: string;
  premix: Array<{ carrier_kg: string; total_kg: string }>;
  late_premix?: Array<{ carrier_kg: string; total_kg: string }>;
  premix_carrier: string;
  rework_of: string;
  state_before_hold?: string;
  water: Array<{ symbol: string; mol_per_kg: string; u_mol_per_kg: string }>;
  yield?: { packed_kg: string; packs: number; sampled_kg: string; swept_kg: string };
}
export interface Weighing {
  at: string;
  batch: string;
  by: string;
  by_hand: boolean;
  /** Asked about as far from what was wanted, and right as it is. */
  confirmed?: boolean;
  lot: string;
  material: string;
  net: string;
  net_kg: string;
  part: number;
  scale: string;
  step: number;
  tare: string;
}
export interface Departure {
  number: string;
  batch: string;
  state: string;
  what: string;
  /** What became of its subject since it was raised. */
  remarks: string[];
  about?: string;
  step?: number;
  raised_by?: string;
  raised_at?: string;
  answer?: string;
  answered_by?: string;
  closed_by?: string;
}
/** What comes next while a batch is made; the steps are those without a departure about them. */
interface MakingNext {
  act: 'approve' | 'weigh' | 'raise departure' | 'blend' | 'made';
  short_steps: number[];
  over_steps: number[];
}
/** A goal of the target beside the water that is predicted. */
export interface GoalRow {
  what: string;
  unit: string;
  target: number | null;
  low: number | null;
  high: number | null;
  achieved: number;
  u: number | null;
  /** Number in its unit per mol (eq) per kg; 0 for what is no constituent. */
  per_mol_per_kg: number;
  /** In which a certificate has it; empty for what is no constituent. */
  certificate_unit: string;
  certificate_per_mol_per_kg: number;
  inside: boolean;
  chance_inside: number | null;
  verdict: string;
}
/** How a sample of a batch is to be taken. */
export interface SamplingPlan {
  increments: number;
  increment_g: number;
  where: string;
}
export interface BatchShow {
  version: 1;
  batch: Batch;
  sampling_plan: SamplingPlan;
  next: MakingNext;
  water_against_target: GoalRow[];
  /** Which masses the water is of: planned, weighed, or some of each. */
  water_masses: string;
  /** Of a retired recipe version: that it is, and which one is in use; empty: nothing to say. */
  recipe_note: string;
  weighings: Weighing[];
  /** Weighings that were corrected, a sentence each. */
  corrections: string[];
  departures: Departure[];
}
interface Statement {
  code: string;
  text: string;
  of: string;
}
export interface PaperWeighing {
  net: string;
  tare: string;
  by: string;
  at: string;
  scale: string;
  by_hand: boolean;
  outside: boolean;
  whole: boolean;
  correction: string;
}
export interface PaperLine {
  step: string;
  material: string;
  lot: string;
  target: string;
  tolerance: string;
  unit: string;
  scale: string;
  resolution: string;
  parts: number;
  part: string;
  weighings: PaperWeighing[];
}
/** What the batch sheet in PDF says. */
export interface BatchPaper {
  trail_mark: string;
  size: string;
  safety: {
    signal_word: string;
    pictograms: Array<{ code: string; name: string; svg: string }>;
    hazards: Statement[];
    precautions: Statement[];
    cautions: string[];
    decided_by: string;
    signed_for: string[];
  };
  before_start: string[];
  additions: PaperLine[];
  premixes: Array<{ name: string; vessel: string; after: number; additions: PaperLine[]; steps: string[] }>;
  steps: Array<{ what: string; wanted: string; found: string }>;
  sampling: string[];
  yield: { in: string; out: string; samples: string; sweepings: string; unexplained: string; share: string };
  signatures: Array<{ name: string; duty: string; meaning: string; at: string }>;
}
export interface BatchSheetShow extends BatchShow {
  paper: BatchPaper;
}

export function shownId(weighing: Weighing): string {
  return `${weighing.batch}/${weighing.step}.${weighing.part}`;
}

export interface TrendPoint {
  label: string;
  value: number;
  range: number | null;
  marked: string[];
  weighted_mean?: number;
}
export interface Trend {
  version: 1;
  name: string;
  unit: string;
  kind: string;
  limits_from: string;
  limits: { low: number; centre: number; high: number };
  allowed?: { low: number; high: number; from: string } | null;
  point_sigma: number;
  signals: boolean;
  points: TrendPoint[];
  capability_within: number | null;
  capability_overall: number | null;
  no_capability?: string;
  notices: string[];
}

export interface ElementVerdict {
  symbol: string;
  value: string;
  u: string;
  target: string;
  low: string;
  high: string;
  accept_low: string;
  accept_high: string;
  below_limit: boolean;
  probability: string;
  verdict: string;
  notes: string[];
  waits: string[];
  results: string[];
  methods: Array<{ method: string; mol_per_kg: string; u: string; results: number; duplicates: string }>;
}
export interface ReleaseShow {
  version: 1;
  batch: string;
  state: string;
  signed: boolean;
  changed: string[];
  notices: string[];
  open: Array<{ kind: string; text: string }>;
  /** How many are tested, and the chance that they conform at once; or that nothing is. */
  tested_together: string;
  hands: Array<{ person: string; did: string }>;
  proposal: string;
  proposal_why: string;
  /** In which a certificate has each of the elements. */
  certificate_units: Array<{ symbol: string; unit: string; per_mol_per_kg: number }>;
  mark: string;
  evidence: {
    assessment: {
      charges: { percent: string; u_percent: string; sentence: string; verdict: string };
      elements: ElementVerdict[];
      probability: string;
      sampling: string;
    };
    limits_number: number;
    product: string;
    recipe: string;
    rule: string;
    records: Array<{ kind: string; id: string; version: number; content: string }>;
    wanted_g_per_kg_water: string;
    wanted_practical_salinity: string;
  };
  decision?: { number: number; decision: string; person: string; at: string; why: string; mark: string } | null;
}
export interface Explanation {
  version: 1;
  verdict: string;
  sentences: string[];
}

export interface TestPortion {
  number: number;
  sample: string;
  batch: string;
  at: string;
  by: string;
  salt: string;
  water: string;
  strength_by: string;
  salinity: string;
  temperature_degC: string;
  set_aside?: { by: string; at: string; reason: string } | null;
}
export interface ResultRow {
  line: number;
  analyte: string;
  batch: string;
  portion: string;
  sample: string;
  method: string;
  digits: string;
  unit: string;
  dilution: string;
  blank: string;
  below_limit: boolean;
  mol_per_kg: string;
  u_percent: string;
  state: string;
  reason: string;
  entered_by: string;
  checked_by: string;
  set_aside_by: string;
  read_at: string;
}
export interface Run {
  number: string;
  state: string;
  entered_at: string;
  entered_by: string;
  file_name?: string;
  file?: string;
  approved?: Signed;
  checks: Array<{
    analyte: string;
    name: string;
    digits: string;
    unit: string;
    value: string;
    off_percent: string;
    within_percent: string;
    good: boolean;
    method: string;
    dilution: string;
    corrected_by: string;
    reason: string;
  }>;
  results: ResultRow[];
}
/** A reading of five times and more of what its batch is predicted to have, or of less than a fifth of it. */
export interface FarFromWanted {
  portion: string;
  analyte: string;
  method: string;
  times: number;
  sentence: string;
}
/** Results of one element by one method on one sample that lie further apart than the method's repeatability allows. */
export interface FarApart {
  sample: string;
  analyte: string;
  method: string;
  apart_percent: number;
  allowed_percent: number;
  sentence: string;
  results: string[];
}
export interface ResultsShow {
  version: 1;
  duplicates: FarApart[];
  far_from_wanted: FarFromWanted[];
  portions: TestPortion[];
  runs: Run[];
}

/** All that the mixing sheet says, in the words that its paper prints. */
export type MixingSheet = Schemas['MixingSheet'];

/** The data of a certificate before it is issued: it has no number, day and codes yet. */
export interface CertificateDraft {
  version: 1;
  draft: true;
  mark: string;
  certificate: {
    product: string;
    batch: string;
    issue: string;
    replaces: string;
    customer: string;
    laboratory: string;
    recipe_version: string;
    made_on: string;
    use_by: string;
    sample: string;
    sample_condition: string;
    sampled_on: string;
    received_on: string;
    sampling_plan: string;
    pack_sizes: string[];
    method_note: string[];
    methods: string[];
    departures: string[];
    coverage: string;
    results: Array<{
      quantity: string;
      value: string;
      expanded_uncertainty: string;
      unit: string;
      low: string;
      high: string;
      verdict: string;
      method: string;
      note: string;
      outside_laboratory: boolean;
    }>;
    homogeneity: string[];
    decision_rule: string[];
    lots: Array<{ material: string; lot: string; supplier: string; share: string }>;
    signatures: Array<{ name: string; duty: string; meaning: string; at: string }>;
  };
}
