// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// What `sample homogeneity` and `curve read` answer.

export interface Homogeneity {
  version: 1;
  name: string;
  unit: string;
  invented: boolean;
  goal_percent: number;
  verdict: 'homogeneous' | 'not homogeneous' | 'cannot tell';
  units: number;
  mean: number;
  f: number | null;
  f_critical: number;
  significant: boolean;
  between_variance: number;
  largest_variance: number;
  sufficient: boolean;
  between_sd: number;
  /** Of units mixed as well as can be, where it was given. */
  chance_sd: number | null;
  /** What better mixing can take off. */
  mixing_sd: number | null;
  within_sd: number;
  method_good_enough: boolean;
  u_between: number;
  u_hidden: number;
  tolerance_factor: number;
  tolerance_low: number;
  tolerance_high: number;
  slope_per_unit: number;
  slope_p: number;
  unit_means: number[];
  notices: string[];
}

export interface BudgetLine {
  input: string;
  value: number;
  standard_uncertainty: number;
  contribution: number;
  share_percent: number;
}
interface CurvePoint {
  titrant: number;
  signal: number;
  /** null: the fit did not use it. */
  residual: number | null;
}
export interface EndPoint {
  volume_mL: number;
  standard_uncertainty_mL: number;
  first_derivative_mL: number;
  second_derivative_mL: number;
  step: number;
  rms: number;
}
export interface Curve {
  version: 1;
  name: string;
  invented: boolean;
  method: 'alkalinity' | 'end-point';
  passed: boolean;
  failed: string[];
  titrant_unit: string;
  signal_unit: string;
  residual_unit: string;
  points: CurvePoint[];
  budget?: BudgetLine[];
  notices: string[];
  // alkalinity
  alkalinity_umol_per_kg?: number;
  standard_uncertainty_umol_per_kg?: number;
  expanded_uncertainty_umol_per_kg?: number;
  alkalinity_meq_per_L?: number;
  alkalinity_dKH?: number;
  modified_gran_umol_per_kg?: number;
  gran_umol_per_kg?: number;
  standard_potential_mV?: number;
  rms_umol_per_kg?: number;
  sulfate_mmol_per_kg?: number;
  fluoride_mmol_per_kg?: number;
  // end point
  end_points?: EndPoint[];
  titrated?: string;
  mmol_per_kg?: number;
  standard_uncertainty_mmol_per_kg?: number;
  expanded_uncertainty_mmol_per_kg?: number;
}
