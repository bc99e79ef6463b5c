// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/model.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "unit/factors.hpp"

namespace bw::recipe {
namespace {

using matter::Constituent;
using opt::Entry;
using opt::kInfinity;

constexpr int kShownDigits = 6;

bool has_target_aim(const ConstituentGoal& goal) {
    return goal.target.has_value() && goal.aim == Aim::Target;
}

class Builder {
public:
    Builder(const Target& target, const std::vector<Supply>& supplies, const ModelOptions& options)
        : target_(target), supplies_(supplies), options_(options) {}

    Model build() {
        add_doses();
        add_priorities();
        for (const ConstituentGoal& goal : target_.constituents) {
            add_goal(goal);
        }
        add_salinity();
        for (const RatioGoal& ratio : target_.ratios) {
            add_ratio(ratio);
        }
        for (const Ceiling& ceiling : target_.ceilings) {
            add_ceiling(ceiling);
        }
        for (const Cut& cut : target_.cuts) {
            add_cut(cut);
        }
        add_material_limits();
        add_miss_sums();
        add_objectives();
        return std::move(m_);
    }

private:
    /// A dose is scaled by what it takes of the material to bring all that is wanted of what it is
    /// bought for.
    void add_doses() {
        for (const Supply& supply : supplies_) {
            double most = supply.material.most_kg_per_kg.value_or(kHighestDose);
            double scale = kHighestDose;
            for (const ConstituentGoal& goal : target_.constituents) {
                const double brings = supply.make_up.mol_per_kg[goal.constituent];
                const double meant = supply.meant_mol_per_kg()[goal.constituent];
                const double lacks = std::max(0.0, goal.target.value_or(goal.high.value_or(0.0)));
                if (meant > 0 && lacks > 0) {
                    scale = std::min(scale, lacks / meant);
                }
                if (brings > 0 && goal.high && *goal.high >= 0 &&
                    !is_taken_away(goal.constituent)) {
                    most = std::min(most, std::max(*goal.high / brings, 0.0));
                }
            }
            m_.most_dose.push_back(most * options_.size_high);
            m_.dose_scale.push_back(std::max(scale, 1e-9));
            const double highest = is_left_out(target_, supply) ? 0 : kHighestDose;
            m_.dose.push_back(m_.lp.add_column(0, 0, highest / m_.dose_scale.back()));
        }
        m_.size = m_.lp.add_column(0, options_.size_low, options_.size_high);
        m_.swings = options_.size_low < options_.size_high;
    }

    /// Whether some material takes the constituent away, as an acid does alkalinity: then no dose
    /// is limited by it alone.
    [[nodiscard]] bool is_taken_away(Constituent c) const {
        return std::any_of(supplies_.begin(), supplies_.end(),
                           [&](const Supply& s) { return s.make_up.mol_per_kg[c] < 0; });
    }

    /// What a file says of a material: the most of it, and how much of it there is.
    void add_material_limits() {
        for (std::size_t j = 0; j < supplies_.size(); ++j) {
            const matter::Material& material = supplies_[j].material;
            if (material.most_kg_per_kg) {
                const int over = m_.lp.add_column(0, 0, 0);
                const double most = std::max(*material.most_kg_per_kg, 1e-12);
                m_.lp.add_row(std::vector<Entry>{{m_.dose[j], m_.dose_scale[j] / most},
                                                 {m_.size, -*material.most_kg_per_kg / most},
                                                 {over, -1}},
                              -kInfinity, 0);
                m_.demands.push_back({fmt::format("{} {}", supplies_[j].label(),
                                                  band_text(std::nullopt, *material.most_kg_per_kg,
                                                            unit::kGramPerKg, "g/kg")),
                                      supplies_[j].label(),
                                      0,
                                      {over},
                                      0});
                m_.demands.back().limit_kg_per_kg = most;
            }
            if (material.least_kg_per_kg && *material.least_kg_per_kg > 0) {
                add_least(j, *material.least_kg_per_kg);
            }
            if (material.stock_kg && target_.batch && options_.water_kg) {
                const int over = m_.lp.add_column(0, 0, 0);
                m_.lp.add_row(std::vector<Entry>{{m_.dose[j], 1}, {over, -1}}, -kInfinity,
                              *material.stock_kg / *options_.water_kg / m_.dose_scale[j]);
                m_.demands.push_back({"stock of " + supplies_[j].label(),
                                      "stock of " + supplies_[j].label(),
                                      0,
                                      {over},
                                      0});
            } else if (material.stock_kg && target_.batch) {
                add_stock(j, *material.stock_kg / target_.batch->blend_kg);
            }
        }
    }

    void add_least(std::size_t j, double least) {
        const Slack breach{-1, -1, m_.lp.add_column(0, 0, 0), m_.lp.add_column(0, 0, 0)};
        m_.lp.add_row(
            std::vector<Entry>{
                {m_.dose[j], m_.dose_scale[j] / least}, {m_.size, -1}, {breach.under, 1}},
            0, kInfinity);
        const std::string& label = supplies_[j].label();
        add_demand(
            fmt::format("{} {}", label, band_text(least, std::nullopt, unit::kGramPerKg, "g/kg")),
            label, 0, breach);
        m_.demands.back().limit_kg_per_kg = least;
    }

    /// A material's share of the blend is at most the share that the stock is of the batch.
    void add_stock(std::size_t j, double share) {
        if (share >= 1) {
            return;
        }
        const int over = m_.lp.add_column(0, 0, 0);
        std::vector<Entry> row;
        for (std::size_t k = 0; k < supplies_.size(); ++k) {
            const double own = k == j ? 1 : 0;
            row.push_back({m_.dose[k], (own - share) * m_.dose_scale[k] / m_.dose_scale[j]});
        }
        row.push_back({over, -1});
        m_.lp.add_row(row, -kInfinity, 0);
        m_.demands.push_back(
            {fmt::format("stock of {}: {} kg", supplies_[j].label(),
                         base::format_significant(share * target_.batch->blend_kg, 4)),
             "stock of " + supplies_[j].label(),
             0,
             {over},
             0});
    }

    void add_priorities() {
        const auto serve = [&](int level) {
            const bool known =
                std::any_of(m_.priorities.begin(), m_.priorities.end(),
                            [&](const Model::Priority& p) { return p.level == level; });
            if (!known) {
                m_.priorities.push_back({level, m_.lp.add_column(0, 0, kInfinity), {}, -1});
            }
        };
        for (const ConstituentGoal& goal : target_.constituents) {
            if (has_target_aim(goal)) {
                serve(goal.priority);
            }
        }
        for (const RatioGoal& ratio : target_.ratios) {
            if (ratio.target) {
                serve(ratio.priority);
            }
        }
        serve(target_.salinity.priority);
        std::sort(
            m_.priorities.begin(), m_.priorities.end(),
            [](const Model::Priority& a, const Model::Priority& b) { return a.level < b.level; });
    }

    /// A column from 0 to `most` times the size of the batch.
    int add_miss_column(double most) {
        const bool row = m_.swings && most > 0 && most < kInfinity;
        const double highest = row ? double{kInfinity} : most;
        const int column = m_.lp.add_column(0, 0, highest);
        if (row) {
            m_.lp.add_row(std::vector<Entry>{{column, 1}, {m_.size, -most}}, -kInfinity, 0);
        }
        return column;
    }

    /// Two columns for the miss, limited by the band, and two for the breach of the band.
    struct Slack {
        int up, down, over, under;
    };
    Slack add_slack(double down_most, double up_most) {
        Slack s{};
        s.up = add_miss_column(std::max(0.0, up_most));
        s.down = add_miss_column(std::max(0.0, down_most));
        s.over = m_.lp.add_column(0, 0, 0);
        s.under = m_.lp.add_column(0, 0, 0);
        return s;
    }

    void add_miss(const Slack& slack, int level, bool only_excess = false) {
        for (Model::Priority& p : m_.priorities) {
            if (p.level != level) {
                continue;
            }
            std::vector<Entry> row{{slack.up, 1}, {p.largest_miss, -1}};
            p.misses.push_back(slack.up);
            if (!only_excess) {
                row.push_back({slack.down, 1});
                p.misses.push_back(slack.down);
            }
            m_.lp.add_row(row, -kInfinity, 0);
        }
    }

    void add_demand(std::string what, std::string symbol, int priority, const Slack& slack) {
        m_.demands.push_back(
            {std::move(what), std::move(symbol), priority, {slack.over, slack.under}, 0});
    }

    void add_goal(const ConstituentGoal& goal) {
        const Constituent c = goal.constituent;
        const double ref = reference_of(goal);
        const double anchor = goal.target             ? *goal.target
                              : goal.low && goal.high ? (*goal.low + *goal.high) / 2
                                                      : ref;
        const double up_most = goal.high ? (*goal.high - anchor) / ref : kInfinity;
        const double down_most = goal.low ? (anchor - *goal.low) / ref : kInfinity;
        const Slack slack = add_slack(down_most, up_most);
        const bool only_meant = goal.origin == Origin::Unnamed;
        const double water = only_meant ? 0 : target_.purified_water[c];
        std::vector<Entry> row;
        for (std::size_t j = 0; j < supplies_.size(); ++j) {
            const double brings = only_meant ? supplies_[j].meant_mol_per_kg()[c]
                                             : supplies_[j].make_up.mol_per_kg[c];
            row.push_back({m_.dose[j], (brings - water) / ref * m_.dose_scale[j]});
        }
        row.push_back({m_.size, (water - anchor) / ref});
        row.insert(row.end(),
                   {{slack.up, -1}, {slack.down, 1}, {slack.over, -1}, {slack.under, 1}});
        m_.goal_row.push_back(m_.lp.add_row(row, 0, 0));
        if (has_target_aim(goal)) {
            add_miss(slack, goal.priority, goal.origin == Origin::Unnamed);
        }
        if (goal.low || goal.high) {
            add_demand(fmt::format("{} {}", c.symbol(),
                                   band_text(goal.low, goal.high, goal.shown_per_mol_per_kg,
                                             unit_text(goal.shown))),
                       std::string(c.symbol()), goal.priority, slack);
        }
    }

    void add_salinity() {
        const SalinityGoal& goal = target_.salinity;
        const double ref = goal.target_g_per_kg;
        const Slack slack =
            add_slack((ref - goal.low_g_per_kg) / ref, (goal.high_g_per_kg - ref) / ref);
        const double water = target_.purified_water.dissolved_mass_g();
        std::vector<Entry> row;
        for (std::size_t j = 0; j < supplies_.size(); ++j) {
            row.push_back(
                {m_.dose[j], (supplies_[j].make_up.mol_per_kg.dissolved_mass_g() - water) / ref *
                                 m_.dose_scale[j]});
        }
        row.push_back({m_.size, water / ref - 1});
        row.insert(row.end(),
                   {{slack.up, -1}, {slack.down, 1}, {slack.over, -1}, {slack.under, 1}});
        m_.lp.add_row(row, 0, 0);
        add_miss(slack, goal.priority);
        add_demand("salinity " + band_text(goal.low_g_per_kg, goal.high_g_per_kg, 1, "g/kg"),
                   "salinity", goal.priority, slack);
    }

    /// numerator - factor * denominator, over the reference amount of the numerator.
    std::vector<Entry> difference(const RatioGoal& ratio, double factor, double ref) const {
        const double num_water = target_.purified_water[ratio.numerator];
        const double den_water = target_.purified_water[ratio.denominator];
        std::vector<Entry> row;
        for (std::size_t j = 0; j < supplies_.size(); ++j) {
            const matter::Amounts& a = supplies_[j].make_up.mol_per_kg;
            const double value =
                (a[ratio.numerator] - num_water) - factor * (a[ratio.denominator] - den_water);
            row.push_back({m_.dose[j], value / ref * m_.dose_scale[j]});
        }
        row.push_back({m_.size, (num_water - factor * den_water) / ref});
        return row;
    }

    [[nodiscard]] double wanted_amount(Constituent c) const {
        for (const ConstituentGoal& goal : target_.constituents) {
            if (goal.constituent == c) {
                return reference_of(goal);
            }
        }
        return 1e-3;  // mol/kg, when nothing says how much there will be
    }

    void add_ratio(const RatioGoal& ratio) {
        const double per_mole = ratio.per_mole_ratio();
        const double ref = wanted_amount(ratio.numerator);
        Slack breach{-1, -1, m_.lp.add_column(0, 0, 0), m_.lp.add_column(0, 0, 0)};
        if (ratio.low) {
            std::vector<Entry> row = difference(ratio, *ratio.low / per_mole, ref);
            row.push_back({breach.under, 1});
            m_.lp.add_row(row, 0, kInfinity);
        }
        if (ratio.high) {
            std::vector<Entry> row = difference(ratio, *ratio.high / per_mole, ref);
            row.push_back({breach.over, -1});
            m_.lp.add_row(row, -kInfinity, 0);
        }
        if (ratio.target) {
            const Slack slack = add_slack(kInfinity, kInfinity);
            const double factor = *ratio.target / per_mole;
            // A target far from the amounts wanted is measured against what it makes of the
            // denominator: the row's numbers stay about 1.
            constexpr double kFar = 100;
            const double made = factor * wanted_amount(ratio.denominator);
            std::vector<Entry> row = difference(ratio, factor, made > kFar * ref ? made : ref);
            row.insert(row.end(), {{slack.up, -1}, {slack.down, 1}});
            m_.lp.add_row(row, 0, 0);
            add_miss(slack, ratio.priority);
        }
        if (ratio.low || ratio.high) {
            add_demand(
                fmt::format("{} {} ({})", ratio.name(), band_text(ratio.low, ratio.high, 1, ""),
                            ratio.by_mass ? "by mass" : "by mole"),
                ratio.name(), ratio.priority, breach);
        }
    }

    void add_ceiling(const Ceiling& ceiling) {
        const Slack slack{-1, -1, m_.lp.add_column(0, 0, 0), m_.lp.add_column(0, 0, 0)};
        const double water = target_.purified_water[ceiling.constituent];
        std::vector<Entry> row;
        for (std::size_t j = 0; j < supplies_.size(); ++j) {
            const double worst = supplies_[j].make_up.worst_mol_per_kg[ceiling.constituent];
            row.push_back({m_.dose[j], (worst - water) / ceiling.high * m_.dose_scale[j]});
        }
        row.push_back({m_.size, water / ceiling.high - 1});
        row.push_back({slack.over, -1});
        m_.lp.add_row(row, -kInfinity, 0);
        add_demand(fmt::format("{} {}", ceiling.constituent.symbol(),
                               band_text(std::nullopt, ceiling.high, ceiling.shown_per_mol_per_kg,
                                         unit_text(ceiling.shown))),
                   fmt::format("{} ceiling", ceiling.constituent.symbol()), 0, slack);
    }

    /// Cuts of one symbol share the column of its breach.
    void add_cut(const Cut& cut) {
        const auto same = std::find_if(m_.demands.begin(), m_.demands.end(),
                                       [&](const auto& d) { return d.symbol == cut.symbol; });
        const int over =
            same != m_.demands.end() ? same->breach_columns.front() : m_.lp.add_column(0, 0, 0);
        if (same == m_.demands.end()) {
            m_.demands.push_back({cut.what, cut.symbol, 0, {over}, 0});
        }
        std::vector<Entry> row;
        double from_water = 0;
        for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
            from_water +=
                cut.per_mol_per_kg[Constituent(i)] * target_.purified_water[Constituent(i)];
        }
        for (std::size_t j = 0; j < supplies_.size(); ++j) {
            row.push_back({m_.dose[j], cut_slope(cut, supplies_[j], target_.purified_water) *
                                           m_.dose_scale[j]});
        }
        row.push_back({m_.size, from_water - cut.high});
        row.push_back({over, -1});
        m_.lp.add_row(row, -kInfinity, 0);
    }

    void add_miss_sums() {
        for (Model::Priority& p : m_.priorities) {
            std::vector<Entry> row;
            for (const int column : p.misses) {
                row.push_back({column, 1});
            }
            p.sum_row = m_.lp.add_row(row, -kInfinity, kInfinity);
        }
    }

    void add_objectives() {
        const auto columns = static_cast<std::size_t>(m_.lp.columns());
        m_.cost.assign(columns, 0);
        m_.mass.assign(columns, 0);
        const std::vector<double> prices = prices_per_kg(supplies_);
        double highest = 0;
        for (std::size_t j = 0; j < supplies_.size(); ++j) {
            highest = std::max(highest, prices[j] * m_.dose_scale[j]);
        }
        m_.cost_scale = highest > 0 ? highest : 1;
        std::vector<Entry> row;
        for (std::size_t j = 0; j < supplies_.size(); ++j) {
            const auto column = static_cast<std::size_t>(m_.dose[j]);
            m_.cost[column] = prices[j] * m_.dose_scale[j] / m_.cost_scale;
            m_.mass[column] = m_.dose_scale[j];
            row.push_back({m_.dose[j], m_.cost[column]});
        }
        m_.cost_row = m_.lp.add_row(row, -kInfinity, kInfinity);
    }

    const Target& target_;
    const std::vector<Supply>& supplies_;
    const ModelOptions& options_;
    Model m_;
};

}  // namespace

double reference_of(const ConstituentGoal& goal) {
    if (goal.target && *goal.target > 0) {
        return *goal.target;
    }
    if (goal.high && *goal.high > 0) {
        return *goal.high;
    }
    if (goal.low && *goal.low > 0) {
        return *goal.low;
    }
    return kNothing;
}

std::vector<double> Model::doses(const std::vector<double>& x) const {
    std::vector<double> out;
    const double s = x[static_cast<std::size_t>(size)];
    for (std::size_t j = 0; j < dose.size(); ++j) {
        out.push_back(x[static_cast<std::size_t>(dose[j])] * dose_scale[j] / s);
    }
    return out;
}

std::vector<double> prices_per_kg(const std::vector<Supply>& supplies) {
    double highest = 0;
    for (const Supply& supply : supplies) {
        highest = std::max(highest, supply.material.price_per_kg.value_or(0));
    }
    std::vector<double> out;
    out.reserve(supplies.size());
    for (const Supply& supply : supplies) {
        out.push_back(supply.material.price_per_kg.value_or(highest > 0 ? highest : 1));
    }
    return out;
}

std::string unit_text(const unit::TypedQuantity& shown) {
    return shown.as.empty() ? std::string(shown.unit.symbol)
                            : fmt::format("{} as {}", shown.unit.symbol, shown.as);
}

std::string amount_text(double value, double factor, const std::string& unit) {
    return base::format_short(value * factor, kShownDigits) + (unit.empty() ? "" : " ") + unit;
}

std::string band_text(std::optional<double> low, std::optional<double> high, double factor,
                      const std::string& unit) {
    if (low && high) {
        return base::format_short(*low * factor, kShownDigits) + " to " +
               amount_text(*high, factor, unit);
    }
    return low ? "at least " + amount_text(*low, factor, unit)
               : "at most " + amount_text(high.value_or(0), factor, unit);
}

Model build_model(const Target& target, const std::vector<Supply>& supplies,
                  const ModelOptions& options) {
    return Builder(target, supplies, options).build();
}

}  // namespace bw::recipe
