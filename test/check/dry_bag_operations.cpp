// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Films on dry salts, and what reacts in a bag.
#include <fmt/format.h>

#include "blend/bag_reactions.hpp"
#include "blend/film.hpp"
#include "check/given.hpp"
#include "check/operations.hpp"

namespace bw::check {
namespace {

constexpr double kPercent = 100;

Findings findings(const blend::Film& film) {
    return {{{"humidity_percent", film.water_activity * kPercent},
             {"ionic_strength", film.ionic_strength_mol_per_kg_water}},
            {}};
}

}  // namespace

/// The humidity over a brine saturated with one or two salts, each dissolving whole.
Result<Findings> saturated_film(const Case& c) {
    BW_CHECK(c.given->allow({"celsius", "solids"}));
    BW_TRY(celsius, required(*c.given, "celsius"));
    BW_TRY(formulas, c.given->texts("solids"));
    BW_TRY(model, blend::FilmModel::at(unit::Celsius(celsius)));
    std::vector<std::size_t> solids;
    for (const std::string& formula : formulas) {
        const auto found = model.find(formula);
        if (!found) {
            return c.given->bad("solids", fmt::format("{} is no solid of a film", formula));
        }
        solids.push_back(*found);
    }
    const auto film = model.shared(solids);
    if (!film) {
        return c.given->bad("solids", "no film was found");
    }
    return findings(*film);
}

/// The last film of a mixture of ions.
Result<Findings> last_film(const Case& c) {
    BW_CHECK(c.given->allow({"celsius", "mol"}));
    BW_TRY(celsius, required(*c.given, "celsius"));
    BW_TRY(model, blend::FilmModel::at(unit::Celsius(celsius)));
    BW_TRY(table, c.given->table("mol"));
    if (!table) {
        return c.given->bad("", "mol is missing");
    }
    blend::PerFilmIon mol{};
    for (std::size_t i = 0; i < mol.size(); ++i) {
        BW_TRY(amount, table->number(brine::facts(blend::kFilmIons.at(i)).symbol));
        mol.at(i) = amount.value_or(0);
    }
    const auto film = model.last(mol);
    if (!film) {
        return c.given->bad("mol", "no film was found");
    }
    return findings(*film);
}

Result<Findings> bag_reaction(const Case& c) {
    BW_CHECK(c.given->allow(
        {"celsius", "hydrogencarbonate_mol", "calcium_mol", "finished_kg", "loss_percent"}));
    blend::BagContents bag;
    BW_TRY(celsius, required(*c.given, "celsius"));
    BW_TRY(bicarbonate, required(*c.given, "hydrogencarbonate_mol"));
    BW_TRY(calcium, required(*c.given, "calcium_mol"));
    BW_TRY(finished, required(*c.given, "finished_kg"));
    BW_TRY(loss, required(*c.given, "loss_percent"));
    bag.celsius = celsius;
    bag.bicarbonate_mol = bicarbonate;
    bag.calcium_mol = calcium;
    bag.finished_kg = finished;
    const blend::CarbonateLoss made = blend::carbonate_loss(bag, loss / kPercent);
    return Findings{{{"co2_L", made.co2_L},
                     {"calcium_carbonate_g", made.calcium_carbonate_g},
                     {"seed_mg_per_kg", made.seed_mg_per_kg_water}},
                    {}};
}

Result<Findings> decarbonation(const Case& c) {
    BW_CHECK(c.given->allow({"celsius", "water_vapour_mbar"}));
    BW_TRY(celsius, required(*c.given, "celsius"));
    BW_TRY(vapour, required(*c.given, "water_vapour_mbar"));
    constexpr double kMilli = 1000;
    return Findings{
        {{"co2_mbar", blend::decarbonation_pressure_bar(celsius, vapour / kMilli) * kMilli}}, {}};
}

}  // namespace bw::check
