// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "base/notice.hpp"
#include "base/result.hpp"
#include "brine/aqueous_species.hpp"
#include "brine/equilibrium_model.hpp"
#include "matter/constituent.hpp"
#include "ref/brine_tables.hpp"
#include "unit/quantity.hpp"

namespace bw::brine {

/// Temperatures between which the model holds.
inline constexpr unit::Celsius kModelColdest{0};
inline constexpr unit::Celsius kModelWarmest{40};

/// A water as its maker states it.
struct WaterInput {
    /// Constituents; alkalinity and carbon among them are read only where `closing` says so.
    matter::Amounts mol_per_kg;
    unit::Celsius temperature{25};
    struct Statement {
        Closure kind;
        double value;  ///< eq/kg, mol/kg, atm (fugacity), or pH
    };
    /// Two statements that close the acid-base balance.
    std::array<Statement, 2> closing{};
    SeawaterFits fits;
};

/// How far a solid is from saturation.
struct SaturationState {
    const ref::MineralRow* solid = nullptr;
    double omega = 0;      ///< ion activity product over K; 0 where an ion is absent
    double factor = 1;     ///< trusted within this factor
    bool in_range = true;  ///< temperature within the range of K
};

/// One constituent's forms.
struct ConstituentState {
    matter::Constituent constituent;
    double total_mol_per_kg = 0;
    double free_fraction = 1;               ///< share that is the bare ion
    double free_activity_coefficient = 1;   ///< molal
    double total_activity_coefficient = 1;  ///< molal, free coefficient times free fraction
    bool stand_in = false;  ///< coefficient of an ion of like charge: an approximation
};

/// Difference between routes: the model's own measure of doubt.
struct RouteSpread {
    double ph = 0;  ///< joined less ion interaction alone
    double ln_omega_calcite = 0, ln_omega_aragonite = 0;
    double ln_activity_coefficient = 0;  ///< largest among Na K Mg Ca Cl SO4, the two sets
};

/// Everything that chemistry says of a water. Molalities are per kg of water, totals per kg of
/// solution.
struct WaterState {
    unit::Celsius temperature;
    double dissolved_g_per_kg = 0;
    double formal_strength_mol_per_kg_water = 0;
    double ionic_strength_mol_per_kg_water = 0;
    double ph_total = 0, ph_free = 0;
    std::optional<double> ph_nbs;  ///< nothing where its coefficient is not known
    double alkalinity_eq_per_kg = 0;
    double alkalinity_carbonate_eq_per_kg = 0;  ///< HCO3 + 2 CO3, pairs included
    double alkalinity_borate_eq_per_kg = 0;
    double alkalinity_other_eq_per_kg =
        0;  ///< hydroxide, phosphate, silicate, less H and its pairs
    double carbon_mol_per_kg = 0;
    double fugacity_co2_atm = 0, partial_pressure_co2_atm = 0;
    double water_activity = 1, osmotic_coefficient = 1, osmolality_mol_per_kg_water = 0;
    PerSpecies<double> molality{};
    PerSpecies<double> ln_gamma{};
    std::vector<ConstituentState> constituents;  ///< those present, in the table's order
    std::vector<SaturationState> saturation;     ///< in the order of ref::minerals()
    double charge_balance_percent = 0;  ///< of the constituents with alkalinity, of half the charge
    double brine_share = 0, field_share = 0;  ///< which set and route hold
    std::optional<RouteSpread> spread;
    base::Notices notices;
    int rounds = 0;
    double residual = 0;
};

/// The chemistry of waters of one temperature.
///
/// Definition   sets of ion-interaction parameters joined by ionic strength (seawater set below
///              1 mol/kg-water, brine set above 2), acid and calcium carbonate constants anchored
///              to those that the field measured in seawater; see docs/explanation/water.md.
/// Valid        0 to 40 degC; formal ionic strength up to 8 mol/kg-water.
/// Accuracy     near seawater: pH 0.01, Omega of calcite and aragonite 10 %, activity coefficients
///              3 %; elsewhere by the spread of the routes and the factor of each solid.
/// Errors       OutOfRange, BadInput: one sentence.
/// Complexity   preparing about 0.7 ms, a water some 20 us. May be shared between threads.
class WaterModel {
public:
    /// Errors   OutOfRange: temperature.
    [[nodiscard]] static Result<WaterModel> at(unit::Celsius temperature,
                                               const SeawaterFits& fits = {});

    /// The state of one water, which must be of this model's temperature. With `spread` the other
    /// routes are solved too, at three times the cost.
    [[nodiscard]] Result<WaterState> state(const WaterInput& input, bool spread = false) const;

    [[nodiscard]] const EquilibriumModel<double>& equations() const { return *model_; }
    [[nodiscard]] unit::Celsius temperature() const { return temperature_; }

private:
    std::shared_ptr<const EquilibriumModel<double>> model_;
    unit::Celsius temperature_;
};

/// Prepares a model and solves one water.
[[nodiscard]] Result<WaterState> water_state(const WaterInput& input, bool spread = false);

/// The state together with its exact derivatives.
struct WaterDerivatives {
    /// Columns: temperature [per K], the totals in the order of Total [per mol/kg], the two closing
    /// values. Totals change at constant mass of the rest.
    static constexpr std::size_t kInputs = 1 + kTotals + 2;
    using Row = std::array<double, kInputs>;
    Row ph_total{}, ln_fugacity{}, carbon{}, alkalinity{}, ln_water_activity{}, osmotic{};
    PerSpecies<Row> ln_gamma{};
    PerSpecies<Row> ln_molality{};
    std::vector<Row> ln_omega;  ///< in the order of ref::minerals()
};
[[nodiscard]] Result<WaterDerivatives> water_derivatives(const WaterInput& input);
/// The same without the column of temperature, which stays 0, in a model that is at hand.
[[nodiscard]] Result<WaterDerivatives> water_derivatives(const WaterModel& model,
                                                         const WaterInput& input);

}  // namespace bw::brine
