// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "blend/film.hpp"

#include <algorithm>
#include <cmath>
#include <functional>
#include <numbers>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "brine/temperature_function.hpp"
#include "matter/constituent.hpp"
#include "num/linear_solve.hpp"
#include "ref/dry_bag_tables.hpp"

namespace bw::blend {
namespace {

using brine::Species;
using Vector = std::vector<double>;

constexpr double kZeroCelsius = 273.15;
constexpr std::size_t kIons = kFilmIons.size();
constexpr std::array<std::string_view, kIons> kSymbols{"Na", "K", "Mg", "Cl", "SO4", "HCO3"};

/// Newton's search in logarithms, steps held to a factor of e^0.5.
bool search(const std::function<void(const Vector&, Vector&)>& residual, Vector& y) {
    constexpr int kMostRounds = 200;
    constexpr double kMostStep = 0.5;
    constexpr double kDone = 1e-9;
    constexpr double kProbe = 1e-6;
    constexpr double kFar = 30;  // ln of a molality: nothing is found there
    const std::size_t n = y.size();
    Vector r(n), probe(n), slopes(n * n);
    for (int round = 0; round < kMostRounds; ++round) {
        residual(y, r);
        double worst = 0;
        for (const double x : r) {
            worst = std::isfinite(x) ? std::max(worst, std::abs(x)) : HUGE_VAL;
        }
        if (worst < kDone) {
            return true;
        }
        if (worst == HUGE_VAL) {
            return false;
        }
        for (std::size_t j = 0; j < n; ++j) {
            Vector moved = y;
            moved[j] += kProbe;
            residual(moved, probe);
            for (std::size_t i = 0; i < n; ++i) {
                slopes[i * n + j] = (probe[i] - r[i]) / kProbe;
            }
        }
        if (!num::solve_dense(n, slopes, r)) {
            return false;
        }
        double longest = 0;
        for (const double x : r) {
            longest = std::max(longest, std::abs(x));
        }
        const double scale = longest > kMostStep ? kMostStep / longest : 1;
        for (std::size_t i = 0; i < n; ++i) {
            y[i] -= scale * r[i];
            if (std::abs(y[i]) > kFar) {
                return false;
            }
        }
    }
    return false;
}

std::optional<std::size_t> place(Species species) {
    const auto* const at = std::find(kFilmIons.begin(), kFilmIons.end(), species);
    return at == kFilmIons.end() ? std::nullopt
                                 : std::optional<std::size_t>(at - kFilmIons.begin());
}

/// Nothing for a mineral with other ions than those of films.
std::optional<FilmSolid> of_mineral(const ref::MineralRow& row, double kelvin) {
    FilmSolid out{row.formula, row.name, {}, 0, 0, row.source};
    for (const ref::ReactionTerm& term : row.dissolves_to) {
        if (term.species.empty()) {
            break;
        }
        if (term.species == "H2O") {
            out.waters += term.coefficient;
            continue;
        }
        const auto species = brine::find_species(term.species);
        const auto ion = species ? place(*species) : std::nullopt;
        if (!ion || *species == Species::HCO3) {
            return std::nullopt;
        }
        out.ions.at(*ion) += term.coefficient;
    }
    const double k = brine::evaluate(row.log_k_brine, kelvin);
    out.ln_k = row.natural_log ? k : k * std::numbers::ln10;
    return out;
}

FilmSolid of_row(const ref::FilmSolidRow& row, double kelvin) {
    const auto formula = matter::parse_formula(row.formula);
    const auto dissolved = matter::dissolve(formula.value());  // a test reads every row
    FilmSolid out{row.formula, row.name, {}, dissolved.value().water_mol, 0, row.source};
    for (std::size_t i = 0; i < kIons; ++i) {
        const std::string_view symbol = kSymbols.at(i) == "HCO3" ? "carbon" : kSymbols.at(i);
        out.ions.at(i) = dissolved->per_mol[matter::constituent(symbol)];
    }
    out.ln_k = row.log_k * std::numbers::ln10 - row.heat_kJ_per_mol /
                                                    brine::temperature::kGasConstant_kJ_per_mol_K *
                                                    (1 / kelvin - 1 / brine::temperature::kT25);
    return out;
}

double charge(std::size_t ion) { return brine::facts(kFilmIons.at(ion)).charge; }

/// The places of those of these solids that together hold just these ions; nothing when some amount
/// would be negative. Fewer than all where the ions lie on the edge between two mixtures.
std::optional<std::vector<std::size_t>> holding(const std::vector<FilmSolid>& all,
                                                const std::vector<std::size_t>& solids,
                                                const std::vector<std::size_t>& ions,
                                                const PerFilmIon& mol) {
    const std::size_t n = solids.size();
    Vector a(n * n), b(n);
    double total = 0;
    for (std::size_t i = 0; i < n; ++i) {  // the last ion follows from the charges
        b[i] = mol.at(ions[i]);
        total += b[i];
        for (std::size_t j = 0; j < n; ++j) {
            a[i * n + j] = all[solids[j]].ions.at(ions[i]);
        }
    }
    if (!num::solve_dense(n, a, b)) {
        return std::nullopt;
    }
    constexpr double kNone = 1e-9;
    std::vector<std::size_t> out;
    for (std::size_t j = 0; j < n; ++j) {
        if (b[j] < -kNone * total) {
            return std::nullopt;
        }
        if (b[j] > kNone * total) {
            out.push_back(solids[j]);
        }
    }
    return out;
}

/// Whether a solid is made of these ions alone.
bool is_of(const FilmSolid& solid, const PerFilmIon& ions) {
    for (std::size_t i = 0; i < kIons; ++i) {
        if (solid.ions.at(i) > 0 && !(ions.at(i) > 0)) {
            return false;
        }
    }
    return true;
}

/// The next choice of k out of n places, in order; false after the last.
bool next_choice(std::vector<std::size_t>& choice, std::size_t n) {
    const std::size_t k = choice.size();
    for (std::size_t i = k; i-- > 0;) {
        if (choice[i] < n - k + i) {
            ++choice[i];
            for (std::size_t j = i + 1; j < k; ++j) {
                choice[j] = choice[j - 1] + 1;
            }
            return true;
        }
    }
    return false;
}

}  // namespace

Result<FilmModel> FilmModel::at(unit::Celsius temperature) {
    constexpr double kColdest = 5;
    constexpr double kWarmest = 40;
    const double t = temperature.value();
    if (!(t >= kColdest && t <= kWarmest)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("{} degC is outside 5 to 40 degC, where the films of dry salts are "
                                "known: give a temperature between them",
                                base::format_exact(t)));
    }
    FilmModel out;
    const double kelvin = t + kZeroCelsius;
    out.parameters_ = brine::interaction_parameters(ref::InteractionSet::Brine, kelvin);
    for (const ref::MineralRow& row : ref::minerals()) {
        if (const auto solid = of_mineral(row, kelvin)) {
            out.solids_.push_back(*solid);
        }
    }
    for (const ref::FilmSolidRow& row : ref::film_solids()) {
        out.solids_.push_back(of_row(row, kelvin));
    }
    return out;
}

std::optional<std::size_t> FilmModel::find(std::string_view formula) const {
    const auto at = std::find_if(solids_.begin(), solids_.end(),
                                 [&](const FilmSolid& s) { return s.formula == formula; });
    return at == solids_.end() ? std::nullopt : std::optional<std::size_t>(at - solids_.begin());
}

brine::Excess<double> FilmModel::activities(const PerFilmIon& molality) const {
    brine::PerSpecies<double> all{};
    for (std::size_t i = 0; i < kIons; ++i) {
        all[brine::index(kFilmIons.at(i))] = molality.at(i);
    }
    brine::Excess<double> out{};
    brine::excess(parameters_, all, out);
    return out;
}

double FilmModel::ln_saturation(const FilmSolid& solid, const brine::Excess<double>& a,
                                const PerFilmIon& ln_m) const {
    double sum = solid.waters * a.ln_water_activity - solid.ln_k;
    for (std::size_t i = 0; i < kIons; ++i) {
        if (solid.ions.at(i) > 0) {
            sum += solid.ions.at(i) * (ln_m.at(i) + a.ln_gamma[brine::index(kFilmIons.at(i))]);
        }
    }
    return sum;
}

Film FilmModel::film(const PerFilmIon& molality) const {
    const brine::Excess<double> a = activities(molality);
    return {std::exp(a.ln_water_activity), a.ionic_strength, molality, {}};
}

std::optional<Film> FilmModel::shared(std::span<const std::size_t> salts) const {
    PerFilmIon molality{};
    const auto residual = [&](const Vector& y, Vector& r) {
        molality.fill(0);
        for (std::size_t j = 0; j < salts.size(); ++j) {
            for (std::size_t i = 0; i < kIons; ++i) {
                molality.at(i) += solids_[salts[j]].ions.at(i) * std::exp(y[j]);
            }
        }
        PerFilmIon ln_m{};
        std::transform(molality.begin(), molality.end(), ln_m.begin(),
                       [](double m) { return std::log(m); });
        const brine::Excess<double> a = activities(molality);
        for (std::size_t j = 0; j < salts.size(); ++j) {
            r[j] = ln_saturation(solids_[salts[j]], a, ln_m);
        }
    };
    for (const double start : {1.0, 0.1, 4.0}) {
        Vector y(salts.size(), std::log(start));
        if (search(residual, y)) {
            Film out = film(molality);
            for (const std::size_t s : salts) {
                out.solids.push_back(solids_[s]);
            }
            return out;
        }
    }
    return std::nullopt;
}

std::optional<Film> FilmModel::at_rest(const std::vector<std::size_t>& ions,
                                       const std::vector<std::size_t>& solids) const {
    PerFilmIon molality{};
    PerFilmIon ln_m{};
    brine::Excess<double> a{};
    const auto residual = [&](const Vector& y, Vector& r) {
        double plus = 0;
        double minus = 0;
        for (std::size_t i = 0; i < ions.size(); ++i) {
            ln_m.at(ions[i]) = y[i];
            molality.at(ions[i]) = std::exp(y[i]);
            const double z = charge(ions[i]);
            (z > 0 ? plus : minus) += std::abs(z) * molality.at(ions[i]);
        }
        a = activities(molality);
        for (std::size_t j = 0; j < solids.size(); ++j) {
            r[j] = ln_saturation(solids_[solids[j]], a, ln_m);
        }
        r[solids.size()] = std::log(plus / minus);
    };
    Vector y(ions.size(), 0);
    if (!search(residual, y)) {
        return std::nullopt;
    }
    Film out = film(molality);
    for (const std::size_t s : solids) {
        out.solids.push_back(solids_[s]);
    }
    return out;
}

bool FilmModel::is_stable(const Film& film) const {
    constexpr double kStable = 1e-6;
    const brine::Excess<double> a = activities(film.mol_per_kg_water);
    PerFilmIon ln_m{};
    std::transform(film.mol_per_kg_water.begin(), film.mol_per_kg_water.end(), ln_m.begin(),
                   [](double m) { return std::log(m); });
    return std::all_of(solids_.begin(), solids_.end(), [&](const FilmSolid& solid) {
        return !is_of(solid, film.mol_per_kg_water) || ln_saturation(solid, a, ln_m) <= kStable;
    });
}

std::optional<Film> FilmModel::last(const PerFilmIon& mol) const {
    std::vector<std::size_t> ions;
    for (std::size_t i = 0; i < kIons; ++i) {
        if (mol.at(i) > 0) {
            ions.push_back(i);
        }
    }
    std::vector<std::size_t> candidates;
    for (std::size_t s = 0; s < solids_.size(); ++s) {
        if (is_of(solids_[s], mol)) {
            candidates.push_back(s);
        }
    }
    if (ions.size() < 2 || candidates.size() < ions.size() - 1) {
        return std::nullopt;
    }
    std::vector<std::size_t> choice(ions.size() - 1);
    for (std::size_t i = 0; i < choice.size(); ++i) {
        choice[i] = i;
    }
    std::optional<Film> edge;
    do {
        std::vector<std::size_t> chosen;
        chosen.reserve(choice.size());
        for (const std::size_t c : choice) {
            chosen.push_back(candidates[c]);
        }
        const auto held = holding(solids_, chosen, ions, mol);
        if (!held || held->empty()) {
            continue;
        }
        auto found = at_rest(ions, chosen);
        if (held->size() == chosen.size()) {
            if (found && is_stable(*found)) {
                return found;
            }
            continue;
        }
        // On an edge: the film of the solids that are there, dissolving whole, if that is stable;
        // else the film goes at the first corner where a solid that it leaves behind is used up.
        if (auto whole = shared(*held); whole && is_stable(*whole)) {
            return whole;
        }
        if (found && is_stable(*found) && (!edge || found->water_activity > edge->water_activity)) {
            edge = std::move(found);
        }
    } while (next_choice(choice, candidates.size()));
    return edge;
}

}  // namespace bw::blend
