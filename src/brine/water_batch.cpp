// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "brine/water_batch.hpp"

#include <algorithm>
#include <cmath>
#include <limits>

#include <fmt/format.h>

#include "brine/saturation.hpp"
#include "brine/speciation.hpp"
#include "brine/water_notices.hpp"
#include "brine/water_route.hpp"
#include "brine/water_totals.hpp"

namespace bw::brine {
namespace {

constexpr double kNone = std::numeric_limits<double>::quiet_NaN();

void put(std::span<double> to, std::size_t i, double value) {
    if (!to.empty()) {
        to[i] = value;
    }
}

class Worker {
public:
    Worker(const EquilibriumModel<double>& model, const WaterBatch& batch,
           const WaterBatchResults& results)
        : model_(model), batch_(batch), results_(results) {
        for (std::size_t t = 0; t < kTotals; ++t) {
            kg_per_mol_[t] = dissolved_kg_per_mol(static_cast<Total>(t));
        }
        closing_.kind = batch.closing;
    }

    void solve(std::size_t i) {
        const bool good = read(i) && find();
        if (good) {
            write(i, found_);
        } else {
            write_failed(i);
        }
        if (!results_.failed.empty()) {
            results_.failed[i] = good ? 0 : 1;
        }
    }

private:
    bool read(std::size_t i) {
        bool good = true;
        totals_.fill(0);
        strong_kg_ = 0;
        for (std::size_t t = 0; t < kTotals; ++t) {
            if (!batch_.mol_per_kg[t].empty()) {
                totals_[t] = batch_.mol_per_kg[t][i];
                good = good && totals_[t] >= 0;
                strong_kg_ += kg_per_mol_[t] * totals_[t];
            }
        }
        for (std::size_t k = 0; k < 2; ++k) {
            closing_.value[k] = batch_.closing_value[k][i];
            good = good && is_allowed(closing_.kind[k], closing_.value[k]);
        }
        return good;
    }

    bool find() {
        double rest_kg = stated_rest(0, 0);
        for (int pass = 0; pass < kMassPasses; ++pass) {
            const double dissolved = strong_kg_ + rest_kg;
            if (!(dissolved < 1)) {
                return false;
            }
            const Conditions<double> c = conditions(model_, totals_, dissolved);
            if (!(c.formal_strength <= kHighestStrength)) {
                return false;
            }
            auto found = speciate(model_, c, closing_, pass > 0 ? &found_ : nullptr);
            if (!found) {
                return false;
            }
            found_ = *found;
            const double before = rest_kg;
            rest_kg = stated_rest(alkalinity_sum(found_.molality) * c.water_share,
                                  carbon_sum(found_.molality) * c.water_share);
            if (std::abs(rest_kg - before) < kSteadyMass) {
                break;
            }
        }
        return true;
    }

    /// Mass of alkalinity and carbon as stated, or as given here.
    double stated_rest(double alkalinity, double carbon) const {
        for (std::size_t k = 0; k < 2; ++k) {
            alkalinity = closing_.kind[k] == Closure::Alkalinity ? closing_.value[k] : alkalinity;
            carbon = closing_.kind[k] == Closure::Carbon ? closing_.value[k] : carbon;
        }
        return kg_per_eq_ * alkalinity + kg_per_mol_carbon_ * carbon;
    }

    void write(std::size_t i, const Speciation<double>& s) {
        const double share = s.conditions.water_share;
        put(results_.ph_total, i,
            -std::log10(hydrogen_on_scale(Closure::PhTotal, s.conditions, s.molality)));
        put(results_.alkalinity_eq_per_kg, i, alkalinity_sum(s.molality) * share);
        put(results_.carbon_mol_per_kg, i, carbon_sum(s.molality) * share);
        put(results_.fugacity_co2_atm, i, std::exp(ln_fugacity(model_, s)));
        put(results_.water_activity, i, std::exp(s.activity.ln_water));
        put(results_.osmotic_coefficient, i, s.activity.osmotic);
        if (!results_.omega.empty()) {
            ln_saturation(model_, s, ln_omega_);
            for (const auto& omega : results_.omega) {
                omega.values[i] = std::exp(ln_omega_[omega.solid]);
            }
        }
    }

    void write_failed(std::size_t i) {
        for (const auto to :
             {results_.ph_total, results_.alkalinity_eq_per_kg, results_.carbon_mol_per_kg,
              results_.fugacity_co2_atm, results_.water_activity, results_.osmotic_coefficient}) {
            put(to, i, kNone);
        }
        for (const auto& omega : results_.omega) {
            omega.values[i] = kNone;
        }
    }

    const EquilibriumModel<double>& model_;
    const WaterBatch& batch_;
    const WaterBatchResults& results_;
    PerTotal<double> kg_per_mol_{};
    double kg_per_eq_ = dissolved_kg_per_mol(Closure::Alkalinity);
    double kg_per_mol_carbon_ = dissolved_kg_per_mol(Closure::Carbon);
    PerTotal<double> totals_{};
    double strong_kg_ = 0;
    Speciation<double> found_;
    Closing<double> closing_;
    std::vector<double> ln_omega_;
};

}  // namespace

Result<void> check_batch(const WaterBatch& batch, const WaterBatchResults& results) {
    bool good = true;
    for (const auto& amounts : batch.mol_per_kg) {
        good = good && (amounts.empty() || amounts.size() == batch.count);
    }
    for (const auto& values : batch.closing_value) {
        good = good && values.size() == batch.count;
    }
    for (const auto to :
         {results.ph_total, results.alkalinity_eq_per_kg, results.carbon_mol_per_kg,
          results.fugacity_co2_atm, results.water_activity, results.osmotic_coefficient}) {
        good = good && (to.empty() || to.size() == batch.count);
    }
    good = good && (results.failed.empty() || results.failed.size() == batch.count);
    for (const auto& omega : results.omega) {
        good = good && omega.values.size() == batch.count && omega.solid < ref::minerals().size();
    }
    if (!good) {
        return fail(ProblemCode::BadInput,
                    fmt::format("Every array of a batch of {} waters must have {} entries; results "
                                "and amounts may be left empty.",
                                batch.count, batch.count));
    }
    return check_closing(batch.closing[0], batch.closing[1]);
}

void solve_batch_part(const WaterModel& model, const WaterBatch& batch,
                      const WaterBatchResults& results, std::size_t begin, std::size_t end) {
    base::expect(begin <= end && end <= batch.count, "a part lies inside its batch");
    Worker worker(model.equations(), batch, results);
    for (std::size_t i = begin; i < end; ++i) {
        worker.solve(i);
    }
}

}  // namespace bw::brine
