// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string_view>

#include "base/result.hpp"
#include "unit/quantity.hpp"

/// Stoichiometric equilibrium constants of seawater: products of total concentrations, measured in
/// seawater itself. They hold for waters of natural ionic ratios; for other compositions a caller
/// corrects them first (they are plain numbers in a struct).
namespace bw::brine {

/// Which measurement of carbonic acid.
enum class CarbonicFit : std::uint8_t {
    Lueker2000,  ///< S 19-43, 2-35 degC, total scale; the field's usual choice
    Sulpis2020,  ///< S 30.7-37.6, -1.7-31.8 degC, total scale; from observations at sea
    Waters2014,  ///< S 1-50, 0-50 degC, seawater scale, converted to total
};
/// Which measurement of hydrogen fluoride.
enum class FluorideFit : std::uint8_t {
    PerezFraga1987,   ///< S 10-40, 9-33 degC
    DicksonRiley1979  ///< S 0-45, 0-45 degC; rests on three salinities
};
/// Which ratio of boron to salinity.
enum class BoronRatio : std::uint8_t { Lee2010, Uppstrom1974 };

struct SeawaterFits {
    CarbonicFit carbonic = CarbonicFit::Lueker2000;
    FluorideFit fluoride = FluorideFit::PerezFraga1987;
    BoronRatio boron = BoronRatio::Lee2010;
};

/// The constants at one salinity and temperature, one atmosphere.
///
/// Scale: total hydrogen ion scale unless said; concentrations in mol per kg of solution.
/// Scalar: double, std::complex<double> or num::Dual<N>.
template <class Scalar>
struct SeawaterConstantsOf {
    Scalar k0{};               ///< CO2(g) = CO2(aq), mol/(kg atm) of fugacity
    Scalar fugacity_factor{};  ///< fCO2 / pCO2, in air at one atmosphere
    Scalar k1{};               ///< CO2 + H2O = H + HCO3
    Scalar k2{};               ///< HCO3 = H + CO3
    Scalar kb{};               ///< B(OH)3 + H2O = H + B(OH)4
    Scalar kw{};               ///< H2O = H + OH
    Scalar ks{};               ///< HSO4 = H + SO4, FREE scale
    Scalar kf{};               ///< HF = H + F, FREE scale
    Scalar kp1{};              ///< H3PO4 = H + H2PO4
    Scalar kp2{};
    Scalar kp3{};
    Scalar ksi{};                 ///< Si(OH)4 = H + SiO(OH)3
    Scalar knh4{};                ///< NH4 = H + NH3
    Scalar ksp_calcite{};         ///< [Ca][CO3], (mol/kg)^2
    Scalar ksp_aragonite{};       ///< [Ca][CO3], (mol/kg)^2
    Scalar hydrogen_activity{1};  ///< a_H of buffers of low ionic strength / [H] of the SWS scale
};
using SeawaterConstants = SeawaterConstantsOf<double>;

/// Total concentrations that take part in the acid-base balance, mol per kg of solution.
template <class Scalar>
struct SeawaterTotalsOf {
    Scalar boron{};
    Scalar sulfate{};
    Scalar fluoride{};
    Scalar phosphate{};
    Scalar silicate{};
    Scalar calcium{};
    Scalar ammonia{};  ///< NH4 + NH3
};
using SeawaterTotals = SeawaterTotalsOf<double>;

/// Where a fit rests on measurements. Ends included.
struct FitRange {
    double low_salinity, high_salinity;
    double low_degC, high_degC;

    [[nodiscard]] constexpr bool contains(unit::PracticalSalinity s, unit::Celsius t) const {
        return s.value() >= low_salinity && s.value() <= high_salinity && t.value() >= low_degC &&
               t.value() <= high_degC;
    }
};

/// The constants by name, for ranges and sources.
enum class SeawaterConstant : std::uint8_t {
    Solubility,
    FugacityFactor,
    Carbonic,
    Boric,
    Water,
    Bisulfate,
    Fluoride,
    Phosphoric,
    Silicic,
    Ammonium,
    Calcite,
    Aragonite,
    HydrogenActivity,
};
inline constexpr int kSeawaterConstantCount = 13;

/// The range of the fit that `fits` names for a constant.
///
/// Source      the work of each constant, see fit_source(). Ranges of water, phosphoric, silicic
///             acid and of the activity of hydrogen ion are not printed as sharp limits; those here
///             are where their data lie.
[[nodiscard]] FitRange fit_range(SeawaterConstant which, const SeawaterFits& fits = {});

/// Key in data/sources.toml of the work behind a constant.
[[nodiscard]] std::string_view fit_source(SeawaterConstant which, const SeawaterFits& fits = {});

/// Whether a fit covers this water.
[[nodiscard]] bool in_range(SeawaterConstant which, unit::PracticalSalinity salinity,
                            unit::Celsius temperature, const SeawaterFits& fits = {});

/// Every fit covers this water.
[[nodiscard]] bool all_in_range(unit::PracticalSalinity salinity, unit::Celsius temperature,
                                const SeawaterFits& fits = {});

/// The stoichiometric constants of seawater at one atmosphere.
///
/// Definition   each as its source fits it; formulas and numbers in src/brine/seawater_fits.hpp.
///              Per kg of water becomes per kg of solution by the factor 1 - 0.001005 S; the
///              seawater scale becomes total by (1 + ST/KS) / (1 + ST/KS + FT/KF) with sulfate ST
///              and fluoride FT of natural seawater of the same salinity.
/// Inputs       practical salinity; temperature in degC (ITS-90); which fits.
/// Valid        0 < S <= 50 and -2 <= t <= 50 degC; the single fits are narrower: in_range().
/// Accuracy     one standard deviation of the fits, from memory of the sources: pK1 0.006, pK2
///              0.010, pKB 0.004, ln KS and ln KF 0.02, pKW 0.01, pKP and pKSi 0.02, ln K0 0.002,
///              pKsp 0.01; the activity of hydrogen ion makes pH(NBS) uncertain by 0.05. Formulas
///              agree with an independent implementation to 1e-9
///              (test/golden/seawater_carbonate.json).
/// Errors       OutOfRange.
/// Source       [lueker-2000] [sulpis-2020] [waters-2014] [dickson-1990-boric] [millero-1995]
///              [dickson-1990-bisulfate] [perez-fraga-1987] [dickson-riley-1979] [yao-millero-1995]
///              [weiss-1974] [mucci-1983] [clegg-whitfield-1995] [takahashi-1982].
/// Deviates     [dickson-2007-guide] moves water, phosphoric and silicic acid from the seawater to
///              the total scale by subtracting 0.015 from ln K; here the conversion is carried out,
///              which at S = 35, 25 degC subtracts 0.0233. The same work counts [perez-fraga-1987]
///              as on the total scale; here it is free (pK of water 0.003 apart): so read it lies
///              4 % from [dickson-riley-1979] at S = 35, 25 degC, and 25 % the other way.
/// Complexity   closed form, 16 exponentials.
[[nodiscard]] Result<SeawaterConstants> seawater_constants(unit::PracticalSalinity salinity,
                                                           unit::Celsius temperature,
                                                           const SeawaterFits& fits = {});

/// Boron, sulfate, fluoride and calcium of natural seawater; the other totals are 0.
///
/// Definition   proportional to chlorinity, Cl = S / 1.80655. In g per g Cl: sulfate 0.1400,
///              fluoride 6.7e-5, calcium 0.02128, boron 2.32e-4 [uppstrom-1974]; or boron 432.6
///              umol/kg at S = 35 [lee-2010].
/// Inputs       practical salinity.
/// Valid        0 <= S <= 50.
/// Accuracy     boron ratios 0.4 % (Lee) and 2 % (Uppstrom), and they differ by 4 %; calcium 0.1 %.
/// Errors       OutOfRange.
/// Source       [morris-riley-1966] [riley-1965] [riley-tongudai-1967] [lee-2010] [uppstrom-1974].
/// Deviates     none; Uppstrom's boron is often rounded to 415.7 umol/kg at S = 35, 1.4e-4 below.
[[nodiscard]] Result<SeawaterTotals> natural_totals(unit::PracticalSalinity salinity,
                                                    BoronRatio boron = BoronRatio::Lee2010);

enum class PhScale : std::uint8_t {
    Free,      ///< [H+]
    Total,     ///< [H+] (1 + ST/KS)
    Seawater,  ///< [H+] (1 + ST/KS + FT/KF)
    Nbs,       ///< activity by buffers of low ionic strength
};

/// pH on another scale.
///
/// Definition   [H] on each scale is [H+] free times the factor shown at PhScale; NBS adds
///              -log10 of hydrogen_activity.
/// Inputs       pH; from and to; totals and constants of the water.
/// Accuracy     exact by definition between free, total and seawater; NBS 0.05, and for S 20 to 40
///              only: the activity of hydrogen ion is an empirical fit that includes the liquid
///              junction of the electrodes [takahashi-1982], and has no meaning in brackish water.
/// Errors       none; not finite inputs give NaN.
/// Source       [dickson-2007-guide].
/// Deviates     none.
[[nodiscard]] double ph_on_scale(double ph, PhScale from, PhScale to, const SeawaterTotals& totals,
                                 const SeawaterConstants& constants);

}  // namespace bw::brine
