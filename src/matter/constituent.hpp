// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstddef>
#include <cstdint>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "matter/formula.hpp"
#include "ref/tables.hpp"

namespace bw::matter {

/// A constituent of a water: a row of data/constituents.toml.
class Constituent {
public:
    constexpr Constituent() = default;
    constexpr explicit Constituent(std::size_t index) : index_(static_cast<std::uint16_t>(index)) {}
    [[nodiscard]] constexpr std::size_t index() const { return index_; }
    [[nodiscard]] const ref::ConstituentRow& row() const { return ref::constituents()[index_]; }
    [[nodiscard]] std::string_view symbol() const { return row().symbol; }
    /// Charge of the form that neither gives nor takes alkalinity; -1 for alkalinity itself, 0 for
    /// carbon and boron.
    [[nodiscard]] int charge() const { return row().charge; }
    [[nodiscard]] bool is_alkalinity() const;
    constexpr auto operator<=>(const Constituent&) const = default;

private:
    std::uint16_t index_ = 0;
};

[[nodiscard]] std::size_t constituent_count();
[[nodiscard]] std::optional<Constituent> find_constituent(std::string_view symbol);
/// For symbols written in the program; aborts when the table lacks it.
[[nodiscard]] Constituent constituent(std::string_view symbol);
/// Errors   UnknownName, with the nearest known symbol.
[[nodiscard]] Result<Constituent> require_constituent(std::string_view symbol);

/// Amount of each constituent, in mol (eq for alkalinity) per something that the holder names.
class Amounts {
public:
    Amounts() : values_(constituent_count(), 0.0) {}
    [[nodiscard]] double operator[](Constituent c) const { return values_[c.index()]; }
    [[nodiscard]] double& operator[](Constituent c) { return values_[c.index()]; }
    [[nodiscard]] std::span<const double> values() const { return values_; }
    void add(const Amounts& other, double times);
    void scale(double times);
    /// Sum of charge times amount, alkalinity included: 0 for anything neutral [eq].
    [[nodiscard]] double charge() const;
    /// Half of all charges, alkalinity included: that of the cations of anything neutral [eq].
    [[nodiscard]] double half_of_charges() const;
    /// More positive than negative charge, in % of half of all charges; 0 for nothing.
    [[nodiscard]] double charge_imbalance_percent() const;
    /// Total alkalinity that the other constituents imply by charge balance [eq].
    [[nodiscard]] double alkalinity_by_charge() const;
    /// Mass of sea salt, on the scale of Reference-Composition Seawater [g].
    [[nodiscard]] double dissolved_mass_g() const;

private:
    std::vector<double> values_;
};

/// What one mole of a neutral or charged compound brings when dissolved: constituents, and water.
///
/// Definition   Elements map to constituents; S, N and C by their groups (SO4, S2O3, NH4, NO3, NO2,
/// CO3). A few
///              organic compounds (tris, EDTA, citrates) are known by their atoms. Alkalinity is
///              the charge balance of the conservative ions: sum of charge * amount, less the
///              charge of the formula itself, so borax brings 2 eq, boric acid 0, Na2CO3 2, NaHCO3
///              1, Mg(OH)2 2, FePO4 -1.
/// Errors       BadFormula when an element has no constituent, or S, N or C is in a form that is
/// not known. Source       [wolf-gladrow-2007] eq. 32; [dickson-2007-guide] chapter 2.
struct Dissolved {
    Amounts per_mol;          ///< mol (eq) per mol of formula
    double water_mol = 0;     ///< hydrate water per mol of formula
    double molar_mass_g = 0;  ///< of the formula, 2021 weights
};
[[nodiscard]] Result<Dissolved> dissolve(const Formula& formula);

/// Molar mass that a mass of the constituent counts, e.g. 96.06 for SO4 [g/mol]; for
/// alkalinity 50.04 g/eq, as CaCO3.
[[nodiscard]] double counted_molar_mass_g(Constituent c);

/// Mass that a mole of the constituent adds to the dissolved salt, see Amounts::dissolved_mass_g
/// [g/mol or g/eq].
[[nodiscard]] double dissolved_molar_mass_g(Constituent c);

/// Constituent amounts of Reference-Composition Seawater of the given salinity [mol/kg of
/// seawater].
///
/// Inputs   Reference salinity in g/kg.
/// Source   [millero-2008] mole fractions; totals are sums over species, e.g. carbon = CO2 + HCO3 +
/// CO3.
[[nodiscard]] Amounts reference_seawater(double reference_salinity_g_per_kg);

/// Natural amount at practical salinity 35: from the Reference Composition or the table of traces.
///
/// Errors   UnknownName when neither has it.
struct NaturalAmount {
    double mol_per_kg;
    bool trace;  ///< from data/natural_traces.toml, a typical value, not a constant proportion
    std::string_view checked;  ///< how the trace value is known
};
[[nodiscard]] Result<NaturalAmount> natural_amount_at_35(Constituent c);

}  // namespace bw::matter
