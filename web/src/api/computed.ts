// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What the computations answer: the documents that the commands print with --json. See docs/reference/commands.md.

export interface Part {
  material: string;
  lot?: string;
  formula?: string;
  g_per_kg_purified_water: number;
  share_percent: number;
  cost_per_t_blend: number | null;
  weighing_kg?: number;
}
export interface Constituent {
  symbol: string;
  unit: string;
  target: number | null;
  low: number | null;
  high: number | null;
  achieved: number;
  inside: boolean;
  deviation_percent: number | null;
  standard_uncertainty: number;
  chance_inside: number;
  asked: boolean;
}
export interface Ratio {
  of: string;
  basis: string;
  low: number | null;
  high: number | null;
  achieved: number;
  inside: boolean;
  standard_uncertainty: number;
  chance_inside: number;
}
export interface Ceiling {
  symbol: string;
  unit: string;
  high: number;
  expected: number;
  worst: number;
  inside: boolean;
}
export interface Source {
  material: string;
  share_percent: number;
}
export interface Budget {
  symbol: string;
  from: Source[];
}
interface Alternative {
  without: string;
  cost_change_percent: number;
  takes_up: string[];
  parts: Array<{ material: string; g_per_kg_purified_water: number }>;
}
interface Limit {
  limit: string;
  held: boolean;
  leaned_on: boolean;
  temperature_degC: number;
  trusted_within_factor: number;
  solid?: string;
  highest?: number;
  omega?: number;
  least_h?: number;
  use_within_h?: number;
}
export interface Solved {
  target: string;
  feasible: boolean;
  parts: Part[];
  constituents: Constituent[];
  ratios: Ratio[];
  ceilings: Ceiling[];
  charge_balance_percent: number;
  cost_per_t_blend: number | null;
  currency: string | null;
  dissolved_g_per_kg: number;
  purified_water_kg_per_kg: number;
  conflicts: string[];
  notices: string[];
  smallest_conflict?: string[];
  smallest_conflict_proven?: boolean;
  would_free?: string[];
  all_inside_probability?: number;
  draws?: number;
  budget?: Budget[];
  sensitivities?: string[];
  alternatives?: Alternative[];
  limits?: Limit[];
  limit_sentences?: string[];
  /** Of an adjustment to lots. */
  changes?: Array<{ material: string; lot?: string | null; standing_g_per_kg_purified_water: number | null; adjusted_g_per_kg_purified_water: number | null }>;
}
export interface Compared {
  first: string;
  second: string;
  parts: Array<{
    material: string;
    first_g_per_kg_purified_water: number;
    second_g_per_kg_purified_water: number;
    change_percent: number | null;
  }>;
}
export interface Solid {
  phase: string;
  omega: number;
  trusted_within_factor: number;
  in_range: boolean;
  verdict: string;
  forms_when: string;
}
export interface WaterShown {
  name: string;
  closed_by: string;
  temperature_degC: number;
  salinity_g_per_kg: number;
  practical_salinity: number | null;
  ionic_strength_mol_per_kg_water: number;
  density_kg_per_m3: number | null;
  conductivity_25C_mS_per_cm: number | null;
  pH: { total: number; free: number; nbs: number };
  alkalinity_meq_per_kg: { total: number; carbonate: number; borate: number; other: number };
  carbon_mmol_per_kg: number;
  pCO2_uatm: number;
  charge_balance_percent: number;
  constituents: Array<{ symbol: string; mmol_per_kg: number; mg_per_kg: number; mg_per_L: number | null }>;
  solids: Solid[];
  notices: string[];
}
export interface WatersCompared {
  first: WaterShown;
  second: WaterShown;
  differences: Array<{
    quantity: string;
    unit: string;
    first: number | null;
    second: number | null;
    difference: number | null;
    relative_percent: number | null;
    within_uncertainty: boolean | null;
  }>;
}
interface SafeTime {
  hours: number;
  factor: number;
  use_within_h: number;
  over_a_year: boolean;
  by_growth_on_seed: boolean;
  in_evidence: boolean;
}
export interface CoursePoint {
  h: number;
  celsius: number;
  dissolved_percent: number;
  ph_total: number | null;
  fugacity_co2_uatm: number | null;
  omega_aragonite: number | null;
  omega_gypsum: number | null;
  omega_brucite: number | null;
  omega_celestite: number | null;
  omega_strontianite: number | null;
  caco3_mg_per_kg_water: number | null;
  alkalinity_lost_percent: number | null;
}
export interface PathRun {
  recipe: string;
  invented: boolean;
  risk: string;
  reasons: string[];
  instructions: string[];
  safe_time: SafeTime;
  use_within_h: number;
  /** False: another solid is in the vat before the safe time is over. */
  time_counts: boolean;
  /** The names of those solids. */
  other_solids: string[];
  /** At which temperatures the vat may be counted on, in one sentence. */
  temperature_words: string;
  stir_h: number;
  keep_h: number;
  complete: boolean;
  reached_h: number;
  marks_h: { dissolved: number | null; onset: number | null; lost_1_percent: number | null; lost_5_percent: number | null };
  course: CoursePoint[];
  exposures: Array<{ solid: string; peak_omega: number; peak_at_h: number; trusted_within_factor: number; hours_over: number }>;
  temperatures: Array<{ celsius: number; risk: string; safe_time: SafeTime; omega_aragonite: number; complete: boolean }>;
  with_dust: { seed_mg_per_kg_water: number; risk: string; safe_time: SafeTime } | null;
  bag: string | null;
  undissolved_percent: Record<string, number>;
  at_rest_with_air: { ph_total: number; omega_aragonite: number } | null;
  notices: string[];
}
export interface Way {
  name: string;
  reached: boolean;
  risk: string;
  safe_h: number;
  factor: number;
  over_a_year: boolean;
  in_evidence: boolean;
  peak_omega_aragonite: number;
  end_omega_aragonite: number;
  worst_solid: string;
  worst_peak_omega: number;
}
export interface PathCompared {
  findings: string[];
  salt_into_water: Way;
  water_onto_salt: Way;
  cool_then_warm: Way;
  warm_from_start: Way;
  open: Way;
  closed: Way;
  orders: Way[];
  temperatures: Way[];
  carbonate: Way[];
  vats: Array<Way & { order: string; celsius: number; seed_mg_per_kg: number }>;
  pile: Array<{ kg_water_per_kg_salt: number; in_model: boolean; omega_aragonite?: number; omega_gypsum?: number; omega_celestite?: number }>;
  notices: string[];
}
export interface Shows {
  conductivity_mS_per_cm: number | null;
  conductivity_25C_mS_per_cm: number | null;
  sg_20_20: number | null;
  sg_25_25: number | null;
  density_kg_per_m3: number | null;
  refractive_index: number | null;
  nacl_scale_ppt: number | null;
  nacl_scale_sg_20_20: number | null;
  hydrometer_20_20: number | null;
  hydrometer_25_25: number | null;
}
export interface GivenReading {
  instrument: string;
  kind: string;
  shown: number;
  unit: string;
  temperature_degC: number;
  salinity_g_per_kg: number;
  practical_salinity: number | null;
  standard_uncertainty_g_per_kg: number;
  residual_g_per_kg: number;
  expected: number | null;
  budget: Record<string, number>;
}
export interface Converted {
  salt: string;
  temperature_degC: number;
  practical_salinity: number | null;
  salinity_g_per_kg: number;
  standard_uncertainty_g_per_kg: number;
  readings: Shows;
  given?: GivenReading[];
  consistent?: boolean;
  probability?: number;
  odd_reading?: number | null;
  causes?: Array<{ code: string; text: string; reading: number | null; reconciles: boolean; salinity_g_per_kg: number | null }>;
  decisive?: boolean;
  notices: string[];
}
export interface VatPlan {
  temperature_degC: number;
  practical_salinity: number | null;
  salinity_g_per_kg: number;
  anhydrous_percent: number;
  anhydrous_from: string;
  blend_kg: number;
  blend_standard_uncertainty_kg: number;
  purified_water_kg: number;
  purified_water_standard_uncertainty_kg: number;
  purified_water_L: number;
  bound_water_kg: number;
  finished_kg: number;
  finished_L: number;
  density_kg_per_m3: number;
  g_per_kg_purified_water: number;
  g_per_L_purified_water: number;
  g_per_L_finished: number;
  rate_per_purified_standard_uncertainty_percent: number;
  rate_per_finished_standard_uncertainty_percent: number;
  notices: string[];
}
export interface VatCorrect {
  vat_kg: number;
  vat_L: number;
  temperature_degC: number;
  practical_salinity: number | null;
  salinity_g_per_kg: number;
  wanted_practical_salinity?: number | null;
  wanted_salinity_g_per_kg?: number;
  anhydrous_percent?: number;
  anhydrous_from?: string;
  ways?: Array<{
    way: string;
    drain_kg: number;
    drain_L: number;
    add_kg: number;
    add_standard_uncertainty_kg: number;
    add_L?: number | null;
    after_kg: number;
    after_L: number;
  }>;
  after_loss?: { practical_salinity: number | null; salinity_g_per_kg: number; vat_kg: number };
  top_up_kg?: number;
  top_up_L?: number;
  notices: string[];
}
export interface Fluid {
  instrument: string;
  fluid: string;
  temperature_degC: number;
  practical_salinity: number | null;
  salinity_g_per_kg: number;
  strength_percent: number;
  strength_standard_uncertainty_percent: number;
  salt_g: number;
  salt_standard_uncertainty_g: number;
  purified_water_g: number;
  shows: number;
  shows_unit: string;
  stands_for_standard_uncertainty_g_per_kg: number;
  budget: Record<string, number>;
  notices: string[];
}
export interface VatMix {
  temperature_degC: number;
  practical_salinity: number | null;
  salinity_g_per_kg: number;
  standard_uncertainty_g_per_kg: number;
  mixed_kg: number;
  mixed_L: number;
  practical_salinity_weighted_by_volume: number | null;
  /** Where one of the waters has a composition of its own; alkalinity in eq/kg. */
  mol_per_kg?: Record<string, number>;
  notices: string[];
}
export interface Traded {
  target: string;
  limits: string[];
  units: { magnesium: string; calcium: string; alkalinity: string };
  points: Array<{
    magnesium: number;
    calcium: number;
    alkalinity: number | null;
    omega_aragonite: number | null;
    safe_h: number | null;
    use_within_h: number | null;
    cost_per_t_blend: number | null;
  }>;
  currency: string | null;
  notes: string[];
}
/** A relative humidity, in %, and how it is known. */
export interface Humidity {
  low_percent: number;
  high_percent: number;
  mark: string;
  source: string;
}
export interface HydrateStep {
  salt: string;
  from_waters: number;
  to_waters: number;
  g_per_kg_blend: number;
  slow: boolean;
  step_humidity: Humidity;
}
export interface DryBag {
  recipe: string;
  verdict: string;
  stays_dry: boolean;
  reason: string;
  temperature_degC: number;
  bag_kg: number;
  days: number;
  room_humidity_percent: number | null;
  humidity: {
    lowest: Humidity;
    lowest_of: string;
    pairs: Array<{ salts: string[]; humidity: Humidity }>;
    singles: Array<{ salt: string; humidity: Humidity }>;
    at_rest: { humidity_percent: number; solids: string[] } | null;
  };
  water: {
    loose_g_per_kg_blend: number;
    released_g_per_kg_blend: number;
    released_slowly_g_per_kg_blend: number;
    ingress_g_per_kg_blend: number;
    capacity_g_per_kg_blend: number;
    left_g_per_kg_blend: number;
    givers: HydrateStep[];
    takers: HydrateStep[];
  };
  wettings: Array<{ giver: string; taker: string; gives_below: Humidity; wet_above: Humidity }>;
  reactions: {
    hydrogencarbonate_mol: number;
    carbonate_mol: number;
    calcium_mol: number;
    sulfate_mol: number;
    finished_water_kg: number;
    losses: Array<{
      loss_percent: number;
      co2_L: number;
      calcium_carbonate_g: number;
      seed_mg_per_kg_water: number;
      alkalinity_lost_meq_per_kg_water: number;
      calcium_lost_mmol_per_kg_water: number;
    }>;
    gypsum_per_percent: { g: number; mg_per_kg_water: number } | null;
    co2_pressure_mbar: number | null;
  };
  advice: Array<{ text: string; basis: string }>;
  notices: string[];
}
/** A relative standard deviation, and what the stated sizes leave open. */
interface Bounded {
  expected: number;
  low: number;
  high: number;
}
/** Thirds of a container against the blend, relative. */
export interface Thirds {
  top: number;
  middle: number;
  bottom: number;
}
export interface ScatterRemedy {
  material: string;
  median_mm: number | null;
  finer_median_mm: number | null;
  all_grains_times: number | null;
  carrier: string;
  /** Why there is none. */
  no_carrier: string;
  relative_sd_on_carrier: number | null;
  portion_kg: number | null;
}
export interface ScatteredConstituent {
  symbol: string;
  mol_per_kg_blend: number;
  /** By portion, the smallest first. */
  relative_sd: Bounded[];
  outside: number[];
  from: Array<{ material: string; share: number }>;
  /** Where the smallest portion is outside too often. */
  remedy: ScatterRemedy | null;
  /** Not known where no grain sizes are stated. */
  shaken: Thirds | null;
  sorted: Thirds | null;
}
export interface SortingMaterial {
  material: string;
  share: number;
  sorting: { median_to_bed: number; rises: number; falls: number; sifts: number; clings: number; risk: string } | null;
}
export interface Scatter {
  recipe: string;
  invented: boolean;
  portions_kg: number[];
  container_kg: number;
  batch_kg: number;
  wanted: number;
  bed_median_mm: number | null;
  constituents: ScatteredConstituent[];
  materials: SortingMaterial[];
  notices: Array<{ code: string; text: string }>;
}
export interface PremixPlan {
  /** Of what draws water or must not lie with carbonates. */
  late: boolean;
  carrier: string;
  parts: Array<{ material: string; kg: number; equal_grains_for_one_batch: number; relative_sd_of_parts: number }>;
  stages: Array<{ carrier_kg: number; total_kg: number }>;
}
/** What samples of one mass can show of a constituent; figures are relative. */
export interface SampleProof {
  by_chance: number;
  with_analysis: number;
  /** Not known where no number proves the promise. */
  samples: number | null;
  factor: number | null;
  none_for: '' | 'grains' | 'analysis' | 'over 10000';
}
export interface MixedConstituent {
  symbol: string;
  unmixed: number;
  repeatability: number;
  /** By mass of the samples, the smallest first. */
  samples: SampleProof[];
  large_enough_kg: number;
  increments: number | null;
}
export interface Mixing {
  recipe: string;
  invented: boolean;
  batch_kg: number;
  premix_for: number;
  samples_kg: number[];
  results: number;
  wanted: number;
  confidence: number;
  /** Scatter of results above which nothing proves the promise. */
  provable: number;
  proven: boolean;
  premixes: PremixPlan[];
  alone: Array<{ material: string; kg: number }>;
  constituents: MixedConstituent[];
  notices: Array<{ code: string; text: string }>;
}
/** What one constituent comes to at one place, relative to the recipe. */
export interface BudgetResult {
  mean: number;
  standard_uncertainty: number;
  low_95: number;
  high_95: number;
  inside: number;
  inside_standard_error: number;
  steps: Array<{ step: string; first_order: number; first_order_standard_error: number; total: number; total_standard_error: number }>;
}
export interface LotToReef {
  recipe: string;
  invented: boolean;
  batch_kg: number;
  sample_kg: number;
  container_kg: number;
  portion_kg: number;
  mixed_before_use: boolean;
  /** Not known where no grain sizes are stated. */
  layered: number | null;
  reading_standard_uncertainty: number;
  premix_standard_deviation: number;
  draws: number;
  seed: number;
  all_inside_vat: number;
  all_inside_release: number;
  constituents: Array<{ symbol: string; band: number; vat: BudgetResult; release: BudgetResult }>;
  changes: Array<{ what: string; least_inside: number; least_inside_of: string; all_inside: number }>;
  kept: boolean;
  /** More changes would help, and were not tried. */
  stopped: boolean;
  reached: boolean;
  still_outside: string[];
  notices: Array<{ code: string; text: string }>;
}
