// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "path/vat.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include "path/onset.hpp"

namespace bw::path {
namespace {

using brine::Total;

// Places of the unknowns behind the grain classes.
using Place = std::size_t;
constexpr Place kCo2 = 0, kWaited = 1, kFace = 2, kCelsius = 3, kPlaces = 4;

constexpr double kSecondsPerHour = 3600;
constexpr double kMicro = 1e-6;
constexpr double kMilli = 1e-3;

double at(std::span<const double> y, Place place) { return y[y.size() - kPlaces + place]; }

/// What the film of a grain sees in the bulk [kg of its solid per m3]: what the part itself has
/// brought, or for a solid that the water can saturate the strength with the same saturation.
double bulk_kg_per_m3(const Part& part, double own, const VatState& state) {
    const DissolvingSolid& solid = part.solid;
    return solid.mineral && !state.ln_omega.empty()
               ? solid.saturation_kg_per_m3 * std::exp(state.ln_omega[*solid.mineral] / solid.ions)
               : own;
}

/// A remaining share within its bounds.
double share(double w) { return std::clamp(w, 0.0, 1.0); }

double omega_aragonite(const VatState& state) {
    static const std::size_t kPlace = ref::mineral_place("aragonite");
    return std::exp(state.ln_omega[kPlace]);
}

double omega_calcite(const VatState& state) {
    static const std::size_t kPlace = ref::mineral_place("calcite");
    return std::exp(state.ln_omega[kPlace]);
}

/// Crystals that are in the vat from the start: dust, and parts that are calcium carbonate
/// themselves, with the faces of their grains.
std::vector<Crystals> seeds_of(const VatPlan& plan, CarbonateSolid carbonate) {
    constexpr double kGramPerKg = 1000;
    std::vector<Crystals> out;
    if (plan.seed_mg_per_kg > 0) {
        out.push_back(seed(plan.seed_mg_per_kg * kMicro, kSeedArea_m2_per_g, carbonate));
    }
    for (const Part& part : plan.parts) {
        const auto mineral = part.solid.mineral;
        if (!mineral || !ref::minerals()[*mineral].formula.starts_with("CaCO3")) {
            continue;
        }
        for (const GrainClass& g : part.grains) {
            constexpr double kFaces = 6;  // area of a sphere over its volume, times its diameter
            const double m2_per_g =
                kFaces / (part.solid.density_kg_per_m3 * g.diameter_m) / kGramPerKg;
            out.push_back(seed(part.kg_per_kg_water * g.mass_share, m2_per_g, carbonate));
        }
    }
    return out;
}

/// Of the carbonates, the one that falls from the finished water.
CarbonateSolid carbonate_of(const VatPlan& plan) {
    double calcium = 0;
    double magnesium = 0;
    for (const Part& part : plan.parts) {
        calcium += part.brings.mol[brine::index(Total::Ca)];
        magnesium += part.brings.mol[brine::index(Total::Mg)];
    }
    OnsetWater water;
    water.magnesium_per_calcium = calcium > 0 ? magnesium / calcium : water.magnesium_per_calcium;
    return onset(water).solid;
}

}  // namespace

Vat::Vat(const VatPlan& plan)
    : plan_(plan), carbonate_(carbonate_of(plan)), settled_share_(plan.parts.size(), 0) {
    for (std::size_t p = 0; p < plan.parts.size(); ++p) {
        for (const GrainClass& g : plan.parts[p].grains) {
            classes_.push_back({p, g});
        }
        salt_kg_ += plan.parts[p].kg_per_kg_water;
        alkalinity_eq_ += plan.parts[p].brings.alkalinity_eq;
    }
    for (const Crystals& seeds : seeds_of(plan, carbonate_)) {
        generations_.push_back({seeds, 0});
    }
    if (!generations_.empty() && alkalinity_eq_ > 0) {
        face_of_loss_um_ = face_of_loss();
    }
    start_.assign(classes_.size() + kPlaces, 0);
    std::fill_n(start_.begin(), classes_.size(), 1.0);
    start_[classes_.size() + kCelsius] = plan.start_celsius;
    start_[classes_.size() + kCo2] = carbon_of_purified_water();
}

/// Carbon in purified water that is in balance with its CO2: what is dissolved as such, and the
/// little that has become ions.
double Vat::carbon_of_purified_water() {
    constexpr int kRounds = 20;
    Dissolved water;
    double carbon = 0;
    if (const VatState* pure = water_.at({}, plan_.start_celsius)) {
        carbon = plan_.water_co2_atm / std::exp(pure->ln_fugacity_per_co2);
    }
    for (int i = 0; i < kRounds && carbon > 0; ++i) {
        water.carbon_mol = carbon;
        const VatState* state = water_.at(water, plan_.start_celsius);
        if (state == nullptr) {
            break;
        }
        carbon *= plan_.water_co2_atm / state->fugacity_co2_atm();
    }
    return carbon;
}

std::vector<double> Vat::tolerances() const {
    constexpr double kGrains = 1e-5;
    std::vector<double> out(classes_.size(), kGrains);
    out.insert(out.end(), {1e-9, 1e-6, 1e-6, 1e-4});  // mol/kg, 1, um, K
    return out;
}

void Vat::add(const Addition& addition, std::span<double> y) {
    for (std::size_t k = 0; k < classes_.size(); ++k) {
        if (classes_[k].part == addition.part) {
            classes_[k].added = true;
            y[k] = addition.dissolved_before ? 0 : 1;
        }
    }
}

double Vat::most_left(std::span<const double> y) const {
    double most = 0;
    for (std::size_t k = 0; k < classes_.size(); ++k) {
        most = std::max(most, classes_[k].added ? share(y[k]) : 0.0);
    }
    return most;
}

void Vat::drop_gone(std::vector<double>& y) {
    std::vector<Class> left;
    std::vector<double> rest;
    for (std::size_t k = 0; k < classes_.size(); ++k) {
        const Class& c = classes_[k];
        if (!c.added || y[k] > kGone) {
            left.push_back(c);
            rest.push_back(y[k]);
            continue;
        }
        const Part& part = plan_.parts[c.part];
        settled_.add(part.brings, c.grains.mass_share);
        settled_water_kg_ += c.grains.mass_share * part.water_kg_per_kg;
        settled_share_[c.part] += c.grains.mass_share;
    }
    rest.insert(rest.end(), y.end() - kPlaces, y.end());
    classes_ = std::move(left);
    y = std::move(rest);
}

void Vat::start_crystals(std::span<const double> y) {
    generations_.push_back({crystals_at_onset(carbonate_), at(y, kFace)});
    own_crystals_ = true;
}

double Vat::solid_share(std::span<const double> y) const {
    double solid = 0;
    for (std::size_t k = 0; k < classes_.size(); ++k) {
        solid += share(y[k]) * classes_[k].grains.mass_share *
                 plan_.parts[classes_[k].part].kg_per_kg_water;
    }
    return solid / salt_kg_;
}

std::vector<double> Vat::left(std::span<const double> y) const {
    std::vector<double> out(plan_.parts.size(), 0);
    for (std::size_t k = 0; k < classes_.size(); ++k) {
        out[classes_[k].part] += share(y[k]) * classes_[k].grains.mass_share;
    }
    return out;
}

double Vat::waited(std::span<const double> y) const { return own_crystals_ ? 0 : at(y, kWaited); }

double Vat::grown_mol(std::span<const double> y) const {
    double out = 0;
    for (const Generation& g : generations_) {
        const double by = std::max(0.0, at(y, kFace) - g.face_at_start_um) * kMicro;
        out += grown(g.at_start, by).mol_per_kg(carbonate_) - g.at_start.mol_per_kg(carbonate_);
    }
    return out;
}

double Vat::alkalinity_lost_share(std::span<const double> y) const {
    return alkalinity_eq_ > 0 ? 2 * grown_mol(y) / alkalinity_eq_ : 0;
}

double Vat::face_um(std::span<const double> y) const { return at(y, kFace); }

/// By bisection on the logarithm: what crystals take rises with the way of their faces.
double Vat::face_of_loss() const {
    constexpr double kLeast = 1e-9;  // um
    constexpr double kMost = 1e6;
    constexpr int kHalvings = 60;
    double low = std::log(kLeast);
    double high = std::log(kMost);
    std::vector<double> y(kPlaces, 0);
    for (int i = 0; i < kHalvings; ++i) {
        const double middle = (low + high) / 2;
        y[kFace] = std::exp(middle);
        (alkalinity_lost_share(y) < kLostShare ? low : high) = middle;
    }
    return std::exp(high);
}

Dissolved Vat::dissolved(std::span<const double> y) const {
    Dissolved out = settled_;
    for (std::size_t k = 0; k < classes_.size(); ++k) {
        out.add(plan_.parts[classes_[k].part].brings,
                (1 - share(y[k])) * classes_[k].grains.mass_share);
    }
    // A part that just begins to dissolve has less calcium than the crystals of the last step took.
    const double fallen = grown_mol(y);
    out.carbon_mol = std::max(0.0, out.carbon_mol + at(y, kCo2) - fallen);
    out.mol[brine::index(Total::Ca)] = std::max(0.0, out.mol[brine::index(Total::Ca)] - fallen);
    out.alkalinity_eq -= 2 * fallen;
    return out;
}

Dissolved Vat::per_kg_water(const Dissolved& d, std::span<const double> y) const {
    double water = 1 + settled_water_kg_;
    for (std::size_t k = 0; k < classes_.size(); ++k) {
        water += (1 - share(y[k])) * classes_[k].grains.mass_share *
                 plan_.parts[classes_[k].part].water_kg_per_kg;
    }
    Dissolved out;
    out.add(d, 1 / water);
    return out;
}

double Vat::warming_per_h(double h, double celsius) const {
    if (plan_.heating && h >= plan_.heating->from_h) {
        constexpr double kNear = 0.2;  // K from the end the heater slows down
        return plan_.heating->celsius_per_h *
               std::tanh((plan_.heating->to_celsius - celsius) / kNear);
    }
    return plan_.drift_per_h * (plan_.room_celsius - celsius);
}

/// Films are made anew when the water has changed enough to matter.
bool Vat::set_films(double celsius, double salt_g_per_kg) {
    constexpr double kDegrees = 0.5;
    constexpr double kGrams = 2;
    if (!films_.empty() && std::abs(celsius - films_celsius_) < kDegrees &&
        std::abs(salt_g_per_kg - films_salt_) < kGrams) {
        return true;
    }
    const auto liquid = liquid_of(unit::GramPerKg(salt_g_per_kg), unit::Celsius(celsius));
    if (!liquid) {
        return false;
    }
    liquid_ = *liquid;
    films_.clear();
    for (const Part& part : plan_.parts) {
        const auto film = film_of(part.solid, liquid_, plan_.stirring);
        if (!film) {
            return false;
        }
        films_.push_back(*film);
    }
    films_celsius_ = celsius;
    films_salt_ = salt_g_per_kg;
    return true;
}

/// Fills the grains' slopes; gives the heat taken from the water [J per kg and h].
double Vat::dissolve(std::span<const double> y, const VatState& state, std::span<double> dy) const {
    std::vector<double> gone = settled_share_;  // of each part
    for (std::size_t k = 0; k < classes_.size(); ++k) {
        gone[classes_[k].part] += (1 - share(y[k])) * classes_[k].grains.mass_share;
    }
    double heat = 0;
    for (std::size_t k = 0; k < classes_.size(); ++k) {
        const Part& part = plan_.parts[classes_[k].part];
        dy[k] = 0;
        if (!classes_[k].added) {
            continue;
        }
        const double bulk = bulk_kg_per_m3(
            part, gone[classes_[k].part] * part.kg_per_kg_water * liquid_.density_kg_per_m3, state);
        dy[k] =
            kSecondsPerHour * mass_fraction_rate_per_s(films_[classes_[k].part],
                                                       classes_[k].grains.diameter_m, y[k], bulk);
        const double mol = part.kg_per_kg_water / (part.solid.molar_mass_g_per_mol * kMilli);
        heat -= dy[k] * classes_[k].grains.mass_share * mol * part.solid.heat_of_solution_J_per_mol;
    }
    return heat;
}

double Vat::growth_m_per_h(const VatState& state, unit::Celsius t, double magnesium_share) const {
    const double umol_per_m2_h =
        carbonate_ == CarbonateSolid::Aragonite
            ? aragonite_growth_umol_per_m2_h(omega_aragonite(state), t)
            : calcite_growth_umol_per_m2_h(omega_calcite(state), t, magnesium_share);
    return face_speed_m_per_h(umol_per_m2_h, carbonate_);
}

bool Vat::slope(double h, std::span<const double> y, std::span<double> dy) {
    const double celsius = std::min(at(y, kCelsius), kModelEnds);
    const Dissolved water = per_kg_water(dissolved(y), y);
    const double salt = water.salt_kg();
    constexpr double kGramPerKg = 1000;
    const VatState* state = water_.at(water, celsius);
    if (state == nullptr || at(y, kCelsius) > kWarmest ||
        !set_films(celsius, kGramPerKg * salt / (1 + salt))) {
        return false;
    }
    const double heat = dissolve(y, *state, dy);
    const auto d = dy.last(kPlaces);
    d[kCo2] = plan_.kla_per_h * (plan_.air_co2_atm / std::exp(state->ln_fugacity_per_co2) -
                                 state->co2_mol_per_kg_water);
    const double omega = omega_aragonite(*state);
    const unit::Celsius t(celsius);
    OnsetWater sees;
    sees.omega_aragonite = omega;
    sees.temperature = t;
    sees.magnesium_share = magnesium_share(water.mol[brine::index(Total::Mg)]);
    sees.sulfate_share = sulfate_share(water.mol[brine::index(Total::SO4)]);
    const double calcium = water.mol[brine::index(Total::Ca)];
    sees.magnesium_per_calcium =
        calcium > 0 ? water.mol[brine::index(Total::Mg)] / calcium : sees.magnesium_per_calcium;
    sees.particles = plan_.particles;
    d[kWaited] = own_crystals_ ? 0 : onset_per_h(sees);
    d[kFace] = generations_.empty() ? 0 : growth_m_per_h(*state, t, sees.magnesium_share) / kMicro;
    d[kCelsius] =
        -heat / (liquid_.heat_capacity_J_per_kg_K * (1 + salt)) + warming_per_h(h, at(y, kCelsius));
    return true;
}

bool Vat::jacobian(double h, std::span<const double> y, std::span<double> j) {
    const std::size_t n = y.size();
    const std::size_t grains = classes_.size();
    std::vector<double> moved(y.begin(), y.end());
    std::vector<double> before(n);
    std::vector<double> after(n);
    if (!slope(h, y, before)) {
        return false;
    }
    const Dissolved water = per_kg_water(dissolved(y), y);
    const VatState state = *water_.at(water, std::min(at(y, kCelsius), kModelEnds));
    const double heat = dissolve(y, state, after);
    const double heat_capacity = liquid_.heat_capacity_J_per_kg_K * (1 + water.salt_kg());
    // One part after another: a part's grains see each other through its own concentration, or
    // through the water that they saturate.
    for (std::size_t k = 0; k < grains; ++k) {
        constexpr double kStep = 1e-6;
        moved[k] = y[k] > 0.5 ? y[k] - kStep : y[k] + kStep;
        if (!plan_.parts[classes_[k].part].solid.mineral) {
            const double warmed = heat - dissolve(moved, state, after);
            j[grains + kCelsius + k * n] = warmed / heat_capacity / (moved[k] - y[k]);
        } else if (!slope(h, moved, after)) {
            return false;
        }
        for (std::size_t i = 0; i < grains; ++i) {
            if (classes_[i].part == classes_[k].part) {
                j[i + k * n] = (after[i] - before[i]) / (moved[k] - y[k]);
            }
        }
        moved[k] = y[k];
    }
    // mol/kg, 1, um, K; downwards, for the model ends at 40 degC
    constexpr std::array<double, kPlaces> kSteps{1e-8, 1e-4, 1e-4, -1e-3};
    for (std::size_t place = 0; place < kPlaces; ++place) {
        const std::size_t k = grains + place;
        moved[k] = y[k] + kSteps[place];
        if (!slope(h, moved, after)) {
            return false;
        }
        for (std::size_t i = grains; i < n; ++i) {
            j[i + k * n] = (after[i] - before[i]) / kSteps[place];
        }
        moved[k] = y[k];
    }
    return true;
}

Moment Vat::moment(double h, std::span<const double> y) {
    constexpr double kCarbonateMgPerMol = 100'087;  // CaCO3
    Moment out;
    out.h = h;
    out.celsius = at(y, kCelsius);
    out.dissolved_share = 1 - solid_share(y);
    out.dissolved = dissolved(y);
    out.co2_taken_mol = at(y, kCo2);
    out.caco3_mg = kCarbonateMgPerMol * grown_mol(y);
    out.alkalinity_lost_share = alkalinity_lost_share(y);
    if (const VatState* state =
            water_.at(per_kg_water(out.dissolved, y), std::min(out.celsius, kModelEnds))) {
        out.water = *state;
        out.omega_aragonite = omega_aragonite(*state);
    }
    return out;
}

}  // namespace bw::path
