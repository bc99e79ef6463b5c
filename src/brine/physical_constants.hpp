// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once

/// Constants of the International System, [si-2019]; exact but for the permittivity.
namespace bw::brine {

inline constexpr double kAvogadro_per_mol = 6.02214076e23;
inline constexpr double kBoltzmann_J_per_K = 1.380649e-23;
inline constexpr double kElementaryCharge_C = 1.602176634e-19;
inline constexpr double kGasConstant_J_per_mol_K = kAvogadro_per_mol * kBoltzmann_J_per_K;
inline constexpr double kFaraday_C_per_mol = kAvogadro_per_mol * kElementaryCharge_C;
inline constexpr double kVacuumPermittivity_F_per_m = 8.8541878128e-12;
inline constexpr double kAtmosphere_bar = 1.01325;
inline constexpr double kAngstromPerMetre = 1e10;
inline constexpr double kCm3PerM3 = 1e6;

}  // namespace bw::brine
