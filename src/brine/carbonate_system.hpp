// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <cstddef>
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "base/result.hpp"
#include "brine/seawater_constants.hpp"
#include "num/dual.hpp"
#include "unit/quantity.hpp"

/// The stoichiometric route to the carbon dioxide system of a seawater: total concentrations,
/// constants measured in seawater, and two known quantities.
namespace bw::brine {

/// What can be known of the system. mol (or eq) per kg of solution; pH on the total scale; uatm.
enum class CarbonateQuantity : std::uint8_t {
    Alkalinity,       ///< eq/kg
    InorganicCarbon,  ///< mol/kg, CO2 + HCO3 + CO3
    PhTotal,
    PartialPressure,  ///< of CO2 in air at one atmosphere, uatm
    Fugacity,         ///< of CO2, uatm
    Bicarbonate,      ///< mol/kg
    Carbonate,        ///< mol/kg
};

/// Two different quantities and the totals. Any pair is taken but these: partial pressure with
/// fugacity (they are one quantity), alkalinity with carbonate and inorganic carbon with
/// bicarbonate (two waters fit each).
template <class Scalar>
struct CarbonateInputOf {
    CarbonateQuantity first_kind{}, second_kind{};
    Scalar first{}, second{};
    SeawaterTotalsOf<Scalar> totals;
};
using CarbonateInput = CarbonateInputOf<double>;

/// The solved system. mol per kg of solution unless named otherwise.
template <class Scalar>
struct CarbonateStateOf {
    Scalar ph_total{}, ph_free{}, ph_sws{}, ph_nbs{};
    Scalar h_free{}, oh{};
    Scalar co2{}, hco3{}, co3{};  ///< co2 is dissolved CO2 and H2CO3 together
    Scalar boh3{}, boh4{};
    Scalar hso4{}, so4{}, hf{}, f{};
    Scalar h3po4{}, h2po4{}, hpo4{}, po4{};
    Scalar sioh4{}, siooh3{};
    Scalar nh4{}, nh3{};
    Scalar alkalinity{}, inorganic_carbon{};
    /// Parts of the alkalinity, eq/kg; they sum to it. `other` is NH3 - H - HSO4 - HF.
    Scalar alk_carbonate{}, alk_borate{}, alk_hydroxide{}, alk_phosphate{}, alk_silicate{},
        alk_other{};
    Scalar pco2_uatm{}, fco2_uatm{};
    Scalar omega_calcite{}, omega_aragonite{};
    Scalar revelle{};  ///< d ln fCO2 / d ln DIC at constant alkalinity; 1 without carbon
};
using CarbonateState = CarbonateStateOf<double>;

/// Why a system has no solution.
enum class CarbonateFault : std::uint8_t {
    None,
    NotFinite,    ///< an input, total or constant is not a number, or infinite
    BadConstant,  ///< a constant is not positive
    NegativeTotal,
    OutsideRange,          ///< a known quantity that no water has
    SamePair,              ///< the same quantity twice, or partial pressure with fugacity
    TwoSolutions,          ///< two waters fit the pair
    TooLittleAlkali,       ///< at this pH the other bases alone exceed the alkalinity
    TooMuchCarbonDioxide,  ///< more CO2 than inorganic carbon
    TooMuchCarbonate,      ///< more CO3 than inorganic carbon
    NoCarbon,              ///< one quantity needs carbon, and the other says there is none
    NotConverged,          ///< a fault of the program
};

/// One sentence on a fault, for the user.
[[nodiscard]] std::string describe(CarbonateFault fault, const CarbonateInput& input);

/// Solves the system without allocating.
///
/// Definition   mass balances of the totals; the constants as defined at SeawaterConstantsOf; total
///              alkalinity = HCO3 + 2 CO3 + B(OH)4 + OH + HPO4 + 2 PO4 + SiO(OH)3 + NH3 - H - HSO4
///              - HF - H3PO4 with free H; [H] total = [H] free (1 + ST/KS).
/// Inputs       see CarbonateInputOf; totals of the water itself; constants of the same S and t,
///              corrected by the caller where the composition is far from natural.
/// Valid        alkalinity -1 to 1 eq/kg; carbon, bicarbonate and carbonate 0 to 1 mol/kg; pH -1 to
///              15; pressure 0 to 1e8 uatm.
/// Accuracy     the equations to 1e-12 in pH; within 1e-6 in pH and 1e-6 relative in Omega of an
///              independent implementation (test/golden/seawater_carbonate.json). The pH of a
///              natural water from alkalinity and carbon is uncertain by about 0.01 because of the
///              constants.
/// Errors       returned; `state` is then untouched.
/// Source       [dickson-2007-guide] chapter 2; alkalinity after [dickson-1981].
/// Deviates     none.
/// Complexity   4 to 6 evaluations of the balance where pH is unknown; never more than 200.
[[nodiscard]] CarbonateFault solve_carbonate(const CarbonateInput& input,
                                             const SeawaterConstants& constants,
                                             CarbonateState& state);

/// The same with a sentence for what is wrong.
///
/// Errors   OutOfRange: a quantity, total or constant outside what waters have, or not a number.
///          BadInput: a pair that is impossible or has two solutions.
[[nodiscard]] Result<CarbonateState> solve_carbonate(const CarbonateInput& input,
                                                     const SeawaterConstants& constants);

/// Places of the derivatives in a CarbonateGradient.
enum class CarbonateVariable : std::uint8_t {
    First,
    Second,
    Boron,
    Sulfate,
    Fluoride,
    Phosphate,
    Silicate,
    Calcium,
    Ammonia,
    Salinity,     ///< through the constants; totals held
    Temperature,  ///< degC, through the constants; totals held
};
inline constexpr int kCarbonateVariables = 11;
using CarbonateDual = num::Dual<kCarbonateVariables>;

/// Every quantity of the state with its exact partial derivatives, g[i] by CarbonateVariable i.
using CarbonateGradient = CarbonateStateOf<CarbonateDual>;

/// The system of a water and its exact first derivatives.
///
/// Definition   implicit differentiation of the balance. Where totals follow salinity, the whole
///              derivative by S is the one by Salinity plus those by the totals times d total / dS.
/// Inputs       as solve_carbonate and seawater_constants.
/// Accuracy     round-off; tested against the complex step (test/unit/carbonate_system_test.cpp).
/// Errors       as solve_carbonate and seawater_constants.
/// Deviates     none.
[[nodiscard]] Result<CarbonateGradient> carbonate_gradient(const CarbonateInput& input,
                                                           unit::PracticalSalinity salinity,
                                                           unit::Celsius temperature,
                                                           const SeawaterFits& fits = {});

/// Many waters, one array per quantity; all arrays of one length.
struct CarbonateBatch {
    CarbonateQuantity first_kind{}, second_kind{};
    std::span<const double> first, second;
    std::span<const double> salinity, celsius;
    /// mol/kg; empty: as natural_totals() has them.
    std::span<const double> boron, sulfate, fluoride, calcium;
    /// mol/kg; empty: 0.
    std::span<const double> phosphate, silicate, ammonia;
    SeawaterFits fits;
};

/// What a batch gives, in the order of its waters. Waters without a solution are NaN, and `fault`
/// says why (`OutsideRange` also for a salinity or temperature without constants).
struct CarbonateColumns {
    std::vector<double> ph_total, alkalinity, inorganic_carbon, co2, hco3, co3, pco2_uatm,
        fco2_uatm, omega_calcite, omega_aragonite, revelle;
    std::vector<CarbonateFault> fault;
};

/// Columns of the right length for a batch, every water unsolved (NaN).
///
/// Errors     BadInput when arrays differ in length.
[[nodiscard]] Result<CarbonateColumns> columns_for(const CarbonateBatch& batch);

/// Solves the waters [begin, end) of a batch, constants included, into columns made by
/// columns_for(). Parts that do not overlap may be solved at the same time
/// (service/carbonate_batch.hpp does).
///
/// Accuracy   bit for bit the same however the batch is parted, and as the single solve.
/// Errors     none; per water in `fault`.
/// Complexity linear, about 0.6 us per water; constants are kept while S and t stay the same.
void solve_carbonate_part(const CarbonateBatch& batch, std::size_t begin, std::size_t end,
                          CarbonateColumns& columns);

}  // namespace bw::brine
