// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "blend/humidity.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "matter/constituent.hpp"
#include "unit/factors.hpp"

namespace bw::blend {
namespace {

constexpr double kZeroCelsius = 273.15;
constexpr double k25 = 298.15;

double factor(double t_law, double celsius) {
    return std::exp(t_law * (1 / (celsius + kZeroCelsius) - 1 / k25));
}

std::string_view dry_part(std::string_view formula) { return formula.substr(0, formula.find('.')); }

/// The solid in which a salt meets a film of its own.
std::string_view film_solid(const BagSalt& salt) {
    struct Wet {
        std::string_view dry, solid;
    };
    constexpr auto kWet = std::to_array<Wet>({{"NaCl", "NaCl"},
                                              {"KCl", "KCl"},
                                              {"MgCl2", "MgCl2.6H2O"},
                                              {"MgSO4", "MgSO4.7H2O"},
                                              {"Na2SO4", "Na2SO4"},
                                              {"K2SO4", "K2SO4"},
                                              {"NaHCO3", "NaHCO3"}});
    const auto* const at =
        std::find_if(kWet.begin(), kWet.end(), [&](const Wet& w) { return w.dry == salt.dry; });
    if (at == kWet.end()) {
        return {};
    }
    constexpr double kHepta = 6.5;  // waters: else it was dried, and takes up six first
    return at->dry == "MgSO4" && salt.waters < kHepta ? "MgSO4.6H2O" : at->solid;
}

std::optional<PairHumidity> published(const BagSalt& a, const BagSalt& b) {
    for (const ref::MutualDeliquescenceRow& row : ref::mutual_deliquescence()) {
        if ((row.first == a.dry && row.second == b.dry) ||
            (row.first == b.dry && row.second == a.dry)) {
            return PairHumidity{
                a.formula, b.formula, {row.low, row.high, row.mark, row.source}, {}};
        }
    }
    return std::nullopt;
}

std::optional<PairHumidity> pair_of(const BagSalt& a, const BagSalt& b, const FilmModel& model) {
    if (auto known = published(a, b)) {
        return known;
    }
    const auto first = model.find(film_solid(a));
    const auto second = model.find(film_solid(b));
    if (!first || !second || *first == *second) {
        return std::nullopt;
    }
    const auto film = model.shared(std::array{*first, *second});
    if (!film) {
        return std::nullopt;
    }
    const double humidity = film->water_activity * unit::kPercent;
    return PairHumidity{a.formula,
                        b.formula,
                        {humidity, humidity, "model", "appelo-2015"},
                        film->ionic_strength_mol_per_kg_water};
}

PerFilmIon ions_of(const std::vector<const BagSalt*>& salts) {
    constexpr std::array<std::string_view, kFilmIons.size()> kSymbols{"Na", "K",   "Mg",
                                                                      "Cl", "SO4", ""};
    PerFilmIon out{};
    for (const BagSalt* salt : salts) {
        if (film_solid(*salt).empty() || salt->dry == "NaHCO3") {
            continue;
        }
        const auto dissolved = matter::dissolve(matter::parse_formula(salt->dry).value());
        for (std::size_t i = 0; i + 1 < out.size(); ++i) {
            out.at(i) += salt->mol_per_kg * dissolved->per_mol[matter::constituent(kSymbols.at(i))];
        }
    }
    return out;
}

void lower(BlendHumidities& out, const Humidity& humidity, const std::string& of) {
    if (out.lowest_of.empty() || humidity.low < out.lowest.low) {
        out.lowest = humidity;
        out.lowest_of = of;
    }
}

void find_lowest(BlendHumidities& out) {
    for (const auto& s : out.singles) {
        lower(out, s.humidity, s.formula);
    }
    for (const PairHumidity& p : out.pairs) {
        lower(out, p.humidity, p.first + " with " + p.second);
    }
    if (out.at_rest) {
        const double humidity = out.at_rest->water_activity * unit::kPercent;
        lower(out, {humidity, humidity, "model", "appelo-2015"},
              "all salts of sodium, potassium and magnesium together");
    }
}

}  // namespace

Humidity humidity_at(const ref::DeliquescenceRow& row, double t) {
    if (row.c0 != 0) {
        const double value = row.c0 + t * (row.c1 + t * (row.c2 + t * row.c3));
        return {value, value, row.mark, row.source};
    }
    const double times = factor(row.t_law, t);
    return {std::min(row.low * times, unit::kPercent), std::min(row.high * times, unit::kPercent),
            row.mark, row.source};
}

Humidity humidity_at(const ref::HydrateStepRow& row, double t) {
    const double times = factor(row.t_law, t);
    return {row.low * times, row.high * times, row.mark, row.source};
}

const ref::DeliquescenceRow* deliquescence_row(const BagSalt& salt) {
    const ref::DeliquescenceRow* found = nullptr;
    for (const ref::DeliquescenceRow& row : ref::deliquescence()) {
        if (row.formula == salt.formula) {
            return &row;
        }
        if (found == nullptr && dry_part(row.formula) == salt.dry) {
            found = &row;
        }
    }
    return found;
}

BlendHumidities blend_humidities(const BagSalts& bag, const FilmModel& model, double celsius) {
    BlendHumidities out;
    std::vector<const BagSalt*> salts;  // one per dry formula
    for (const BagSalt& salt : bag.salts) {
        double share = 0;
        for (const BagSalt& other : bag.salts) {
            share += other.dry == salt.dry ? other.kg_per_kg : 0;
        }
        const bool seen = std::any_of(salts.begin(), salts.end(),
                                      [&](const BagSalt* s) { return s->dry == salt.dry; });
        if (share < kTraceShare) {
            out.traces.push_back(salt.formula);
        } else if (!seen) {
            salts.push_back(&salt);
        }
    }
    for (std::size_t i = 0; i < salts.size(); ++i) {
        if (const auto* row = deliquescence_row(*salts[i])) {
            out.singles.push_back(
                {std::string(row->formula), std::string(row->name), humidity_at(*row, celsius)});
        }
        for (std::size_t j = i + 1; j < salts.size(); ++j) {
            if (auto pair = pair_of(*salts[i], *salts[j], model)) {
                out.pairs.push_back(*pair);
            }
        }
    }
    const auto by_humidity = [](const auto& a, const auto& b) {
        return a.humidity.low < b.humidity.low;
    };
    std::stable_sort(out.singles.begin(), out.singles.end(), by_humidity);
    std::stable_sort(out.pairs.begin(), out.pairs.end(), by_humidity);
    out.at_rest = model.last(ions_of(salts));
    find_lowest(out);
    return out;
}

}  // namespace bw::blend
