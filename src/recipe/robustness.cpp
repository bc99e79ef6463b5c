// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/robustness.hpp"

#include <algorithm>
#include <cmath>

#include "recipe/weighing.hpp"
#include "stat/draw.hpp"
#include "stat/normal.hpp"

namespace bw::recipe {
namespace {

using matter::Constituent;
using matter::Stated;
using matter::UncertainInput;

constexpr double kNoLimit = 1e300;
constexpr std::size_t kDriversShown = 5;

/// A quantity with limits: one goal, ratio, ceiling or the salinity.
struct Tracked {
    std::size_t value = 0;        ///< index of the value
    std::size_t denominator = 0;  ///< for ratios
    bool ratio = false;
    double factor = 1;
    double low = -kNoLimit;
    double high = kNoLimit;
};

/// One input of one part. Effects are on the values, already times the dose.
struct Input {
    std::string name;
    Stated stated;
    UncertainInput::Kind kind;
    std::size_t part = 0;
    std::size_t slot = 0;        ///< of its draw among those of the same shape
    std::vector<double> effect;  ///< per unit of the input
    std::vector<std::pair<std::size_t, double>> touched;  ///< the effects that are not 0
};

}  // namespace

struct SpreadModel::Impl {
    std::size_t values = 0;
    std::vector<double> expected;
    std::vector<Input> inputs;
    std::size_t normals = 0;  ///< inputs of normal shape
    std::size_t uniforms = 0;
    std::vector<std::vector<double>> main;  ///< effect of each part's main salt, as expected
    std::vector<Tracked> tracked;
    std::size_t goals = 0, ratios = 0, ceilings = 0;

    [[nodiscard]] double value_of(const Tracked& t, std::span<const double> v) const {
        return t.ratio ? t.factor * v[t.value] / v[t.denominator] : v[t.value];
    }
    [[nodiscard]] GoalSpread first_order_of(const Tracked& t) const;
};

SpreadModel::~SpreadModel() = default;

SpreadModel::SpreadModel(const Target& target, const std::vector<Supply>& supplies,
                         const Solution& solution)
    : impl_(std::make_unique<Impl>()) {
    Impl& m = *impl_;
    const std::size_t salinity = matter::constituent_count();
    m.values = salinity + 1;
    m.expected.assign(solution.water.mol_per_kg.values().begin(),
                      solution.water.mol_per_kg.values().end());
    m.expected.push_back(solution.water.dissolved_g_per_kg);
    const auto effect_of = [&](const matter::Amounts& amounts, double times) {
        std::vector<double> out(amounts.values().begin(), amounts.values().end());
        out.push_back(amounts.dissolved_mass_g());
        for (double& v : out) {
            v *= times;
        }
        return out;
    };
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        const double dose = solution.dose_kg_per_kg[j];
        if (dose <= 0) {
            continue;
        }
        const std::size_t part = m.main.size();
        m.main.push_back(effect_of(supplies[j].make_up.main_mol_per_kg, dose));
        for (const UncertainInput& input : supplies[j].make_up.inputs) {
            m.inputs.push_back({supplies[j].label() + ": " + input.name,
                                input.stated,
                                input.kind,
                                part,
                                0,
                                effect_of(input.effect, dose),
                                {}});
        }
        const double step = step_of(target, supplies[j]).value_or(0);
        if (step > 0 && solution.batch_finished_water_kg) {
            // Tare and gross are each rounded to a step: u = step / sqrt 6.
            constexpr double kTareAndGross = 6;
            const double relative =
                step / std::sqrt(kTareAndGross) / (dose * *solution.batch_finished_water_kg);
            m.inputs.push_back({supplies[j].label() + ": weighing",
                                Stated::normal(0, relative),
                                UncertainInput::Kind::Amount,
                                part,
                                0,
                                effect_of(supplies[j].make_up.mol_per_kg, dose),
                                {}});
        }
    }
    for (Input& input : m.inputs) {
        input.slot = input.stated.shape == Stated::Shape::Rectangular ? m.uniforms++ : m.normals++;
        for (std::size_t i = 0; i < input.effect.size(); ++i) {
            if (input.effect[i] != 0) {
                input.touched.emplace_back(i, input.effect[i]);
            }
        }
    }
    for (const ConstituentGoal& goal : target.constituents) {
        m.tracked.push_back({goal.constituent.index(), 0, false, 1, goal.low.value_or(-kNoLimit),
                             goal.high.value_or(kNoLimit)});
    }
    m.goals = m.tracked.size();
    for (const RatioGoal& r : target.ratios) {
        m.tracked.push_back({r.numerator.index(), r.denominator.index(), true, r.per_mole_ratio(),
                             r.low.value_or(-kNoLimit), r.high.value_or(kNoLimit)});
    }
    m.ratios = target.ratios.size();
    for (const Ceiling& ceiling : target.ceilings) {
        m.tracked.push_back({ceiling.constituent.index(), 0, false, 1, -kNoLimit, ceiling.high});
    }
    m.ceilings = target.ceilings.size();
    m.tracked.push_back(
        {salinity, 0, false, 1, target.salinity.low_g_per_kg, target.salinity.high_g_per_kg});
}

GoalSpread SpreadModel::Impl::first_order_of(const Tracked& t) const {
    GoalSpread out;
    const double value = value_of(t, expected);
    double variance = 0;
    for (const Input& input : inputs) {
        double slope = input.effect[t.value];
        if (t.ratio) {
            slope = t.factor *
                    (input.effect[t.value] -
                     expected[t.value] / expected[t.denominator] * input.effect[t.denominator]) /
                    expected[t.denominator];
        }
        const double part = slope * input.stated.u;
        if (part != 0) {
            variance += part * part;
            out.drivers.push_back({input.name, part * part});
        }
    }
    for (Driver& driver : out.drivers) {
        driver.variance_share /= variance;
    }
    std::stable_sort(out.drivers.begin(), out.drivers.end(), [](const Driver& a, const Driver& b) {
        return a.variance_share > b.variance_share;
    });
    out.drivers.resize(std::min(out.drivers.size(), kDriversShown));
    out.u = std::sqrt(variance);
    out.inside_first_order = stat::normal_inside(value, out.u, t.low, t.high);
    out.mean = value;
    return out;
}

Robustness SpreadModel::first_order() const {
    Robustness out;
    std::size_t k = 0;
    for (std::size_t i = 0; i < impl_->goals; ++i) {
        out.constituents.push_back(impl_->first_order_of(impl_->tracked[k++]));
    }
    for (std::size_t i = 0; i < impl_->ratios; ++i) {
        out.ratios.push_back(impl_->first_order_of(impl_->tracked[k++]));
    }
    for (std::size_t i = 0; i < impl_->ceilings; ++i) {
        out.ceilings.push_back(impl_->first_order_of(impl_->tracked[k++]));
    }
    out.salinity = impl_->first_order_of(impl_->tracked[k]);
    return out;
}

SpreadModel::BlockSums SpreadModel::draw_block(std::uint64_t seed, std::uint64_t block,
                                               std::uint64_t draws) const {
    const Impl& m = *impl_;
    stat::DrawStream stream(seed, block);
    BlockSums out;
    out.sum.assign(m.tracked.size(), 0);
    out.sum_of_squares.assign(m.tracked.size(), 0);
    out.inside.assign(m.tracked.size(), 0);
    out.draws = draws;
    std::vector<double> normal(m.normals);
    std::vector<double> uniform(m.uniforms);
    std::vector<double> value(m.values);
    std::vector<double> main_factor(m.main.size());
    for (std::uint64_t d = 0; d < draws; ++d) {
        stream.normal(normal);
        stream.between_0_and_1(uniform);
        value = m.expected;
        std::fill(main_factor.begin(), main_factor.end(), 1.0);
        for (const Input& input : m.inputs) {
            const Stated& s = input.stated;
            const double drawn = s.shape == Stated::Shape::Rectangular
                                     ? s.low + (s.high - s.low) * uniform[input.slot]
                                     : s.value + s.u * normal[input.slot];
            switch (input.kind) {
                case UncertainInput::Kind::Assay:
                    main_factor[input.part] *= drawn / s.value;
                    break;
                case UncertainInput::Kind::Loss:
                    main_factor[input.part] *= (1 - drawn) / (1 - s.value);
                    break;
                case UncertainInput::Kind::Amount: {
                    const double change = drawn - s.value;
                    for (const auto& [i, effect] : input.touched) {
                        value[i] += change * effect;
                    }
                    break;
                }
            }
        }
        for (std::size_t p = 0; p < m.main.size(); ++p) {
            const double change = main_factor[p] - 1;
            if (change != 0) {
                for (std::size_t i = 0; i < value.size(); ++i) {
                    value[i] += change * m.main[p][i];
                }
            }
        }
        bool all = true;
        for (std::size_t k = 0; k < m.tracked.size(); ++k) {
            const Tracked& t = m.tracked[k];
            const double v = m.value_of(t, value);
            const double from_expected = v - m.value_of(t, m.expected);
            out.sum[k] += from_expected;
            out.sum_of_squares[k] += from_expected * from_expected;
            const bool inside = v >= t.low && v <= t.high;
            out.inside[k] += inside ? 1U : 0U;
            all = all && inside;
        }
        out.all_inside += all ? 1U : 0U;
    }
    return out;
}

void SpreadModel::merge(std::span<const BlockSums> blocks, std::uint64_t seed,
                        Robustness& into) const {
    const Impl& m = *impl_;
    std::uint64_t draws = 0;
    std::uint64_t all = 0;
    std::vector<double> sum(m.tracked.size(), 0);
    std::vector<double> squares(m.tracked.size(), 0);
    std::vector<std::uint64_t> inside(m.tracked.size(), 0);
    for (const BlockSums& block : blocks) {
        draws += block.draws;
        all += block.all_inside;
        for (std::size_t k = 0; k < sum.size(); ++k) {
            sum[k] += block.sum[k];
            squares[k] += block.sum_of_squares[k];
            inside[k] += block.inside[k];
        }
    }
    const auto n = static_cast<double>(draws);
    const auto fill = [&](GoalSpread& out, std::size_t k) {
        const double mean = sum[k] / n;
        out.mean = m.value_of(m.tracked[k], m.expected) + mean;
        out.u_monte_carlo =
            draws > 1 ? std::sqrt(std::max(0.0, (squares[k] - n * mean * mean) / (n - 1))) : 0;
        const double p = static_cast<double>(inside[k]) / n;
        out.inside_monte_carlo = p;
        out.inside_standard_error = std::sqrt(p * (1 - p) / n);
    };
    std::size_t k = 0;
    for (auto* group : {&into.constituents, &into.ratios, &into.ceilings}) {
        for (GoalSpread& spread : *group) {
            fill(spread, k++);
        }
    }
    fill(into.salinity, k);
    into.all_inside = static_cast<double>(all) / n;
    into.draws = draws;
    into.seed = seed;
}

}  // namespace bw::recipe
