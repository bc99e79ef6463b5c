// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <array>
#include <optional>
#include <span>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "brine/ion_interaction.hpp"
#include "unit/quantity.hpp"

namespace bw::blend {

/// The ions of a film on dry salts, as far as the brine set reaches to dryness. Calcium is not
/// among them: no parameters of this house hold in saturated calcium chloride.
inline constexpr std::array<brine::Species, 6> kFilmIons{brine::Species::Na,  brine::Species::K,
                                                         brine::Species::Mg,  brine::Species::Cl,
                                                         brine::Species::SO4, brine::Species::HCO3};
using PerFilmIon = std::array<double, kFilmIons.size()>;

/// A solid that can lie in such a film.
struct FilmSolid {
    std::string_view formula, name;
    PerFilmIon ions{};  ///< mol per mol of solid
    double waters = 0;
    double ln_k = 0;  ///< ion activity product at equilibrium
    std::string_view source;
};

/// A film: a brine with the solids it is saturated with.
struct Film {
    double water_activity = 1;
    double ionic_strength_mol_per_kg_water = 0;
    PerFilmIon mol_per_kg_water{};
    std::vector<FilmSolid> solids;
};

/// Films on dry salts at one temperature.
///
/// Definition   activities by the brine set of ion-interaction parameters, strong ions alone: no
/// acid,
///              no base, no pair is formed. Solids of ref::minerals() and ref::film_solids().
/// Inputs       temperature.
/// Valid        5 to 40 degC; saturated films of chlorides, sulfates and hydrogencarbonate of
/// sodium,
///              potassium and magnesium. Their ionic strength, up to 18 mol/kg-water, is far above
///              the 8 up to which waters are worked out: the set was fitted to the solubility of
///              these very salts, and test/check/dry_bag.toml holds it against measured humidities.
/// Accuracy     1 % relative humidity at 25 to 40 degC where checked, 1.5 % at 10 degC; double
/// salts whose constant has no
///              temperature law keep that of 25 degC.
/// Errors       OutOfRange: temperature.
/// Source       [plummer-1988], [appelo-2015]
class FilmModel {
public:
    [[nodiscard]] static Result<FilmModel> at(unit::Celsius temperature);

    /// Index of the solid with this formula.
    [[nodiscard]] std::optional<std::size_t> find(std::string_view formula) const;

    /// The film that one or two salts make when each dissolves whole and nothing else comes out.
    /// Nothing where no such film exists or the search fails.
    [[nodiscard]] std::optional<Film> shared(std::span<const std::size_t> salts) const;

    /// The last film before a mixture of these ions is dry, all solids free to form: the lowest
    /// humidity at which the mixture at rest holds any liquid. Amounts in mol, neutral together.
    /// Nothing where fewer than two ions are there or no film of the table's solids is stable.
    [[nodiscard]] std::optional<Film> last(const PerFilmIon& mol) const;

private:
    [[nodiscard]] double ln_saturation(const FilmSolid& solid, const brine::Excess<double>& a,
                                       const PerFilmIon& ln_m) const;
    [[nodiscard]] brine::Excess<double> activities(const PerFilmIon& molality) const;
    [[nodiscard]] std::optional<Film> at_rest(const std::vector<std::size_t>& ions,
                                              const std::vector<std::size_t>& solids) const;
    [[nodiscard]] bool is_stable(const Film& film) const;  ///< no solid is supersaturated
    [[nodiscard]] Film film(const PerFilmIon& molality) const;

    brine::InteractionParameters<double> parameters_;
    std::vector<FilmSolid> solids_;
};

}  // namespace bw::blend
