// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "blend/budget.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"
#include "stat/draw.hpp"

namespace bw::blend {
namespace {

using matter::Stated;
using matter::UncertainInput;

using Outcome = std::size_t;
constexpr Outcome kRelease = 0, kVat = 1;
constexpr std::size_t kOutcomes = 2;

constexpr auto at(BudgetStep step) { return static_cast<std::size_t>(step); }

/// Whether a step changes an outcome.
constexpr bool touches(std::size_t step, Outcome outcome) {
    const bool vat_only = step == at(BudgetStep::Grains) || step == at(BudgetStep::Layers) ||
                          step == at(BudgetStep::Salinity);
    const bool release_only = step == at(BudgetStep::Sample) || step == at(BudgetStep::Analysis);
    return outcome == kRelease ? !vat_only : !release_only;
}

/// A variable of one step. Normal ones are drawn with mean 0 and deviation 1, others from 0 to 1.
struct Variable {
    std::size_t part = 0;
    bool normal = true;
    UncertainInput::Kind kind = UncertainInput::Kind::Amount;
    Stated stated;
    std::vector<std::pair<std::size_t, double>> effect;  ///< of an amount's unit, per part's mass
};

double value_of(const Variable& v, double drawn) {
    return v.normal ? v.stated.value + v.stated.u * drawn
                    : v.stated.low + (v.stated.high - v.stated.low) * drawn;
}

/// A gamma variable of mean 1 and variance 1/n, by the cube root of Wilson and Hilferty.
double mass_of_grains(double relative_variance, double z) {
    constexpr double kNinth = 1.0 / 9;
    const double root =
        std::max(0.0, 1 - relative_variance * kNinth + z * std::sqrt(relative_variance) / 3);
    return root * root * root;
}

using Draw = std::vector<double>;
/// Of each step, the draw that its variables are taken from.
using Sources = std::array<const double*, kBudgetSteps>;

}  // namespace

struct Budget::Impl {
    BudgetSetup setup;
    std::size_t values = 0;  ///< constituents, and dissolved mass behind them
    std::vector<double> expected;
    std::vector<std::vector<double>> main, rest;  ///< by part, times its share
    std::array<std::vector<Variable>, kBudgetSteps> variables;
    std::array<std::size_t, kBudgetSteps> first{};  ///< place of each step's variables in a draw
    std::size_t count = 0, normals = 0;
    std::vector<double> portion_variance, sample_variance;  ///< of each part's mass

    void add_part(std::size_t j);
    void add(BudgetStep step, Variable variable) {
        variables[at(step)].push_back(std::move(variable));
    }
    void finish();
    void fill(stat::DrawStream& stream, Draw& normal, Draw& uniform, Draw& out) const;

    /// What the lots of a draw hold: contents of each part, times its share.
    using Lots = std::vector<double>;
    struct Work {
        std::vector<double> factor, mass, total;
    };
    void lots(const Sources& from, Work& work, Lots& out) const;
    void masses(const Sources& from, Outcome outcome, Work& work) const;
    void run(const Sources& from, const Lots& lots, Outcome outcome, Work& work,
             std::span<double> out) const;
};

struct Budget::Block {
    std::array<std::vector<stat::SobolSums>, kOutcomes> sums;  ///< by constituent
    std::array<std::vector<float>, kOutcomes> drawn;           ///< constituents of each draw
    std::array<std::uint64_t, kOutcomes> all_inside{};
    std::uint64_t draws = 0;
    bool shares = false;
};

void Budget::BlockDeleter::operator()(Block* block) const { delete block; }

void Budget::Impl::add_part(std::size_t j) {
    const BudgetPart& part = setup.parts[j];
    const auto values_of = [&](const matter::Amounts& amounts, double times) {
        std::vector<double> out;
        for (const matter::Constituent& c : setup.constituents) {
            out.push_back(times * amounts[c]);
        }
        out.push_back(times * amounts.dissolved_mass_g());
        return out;
    };
    main.push_back(values_of(part.make_up.main_mol_per_kg, part.share));
    rest.push_back(values_of(part.make_up.mol_per_kg, part.share));
    for (std::size_t i = 0; i < values; ++i) {
        expected[i] += rest[j][i];
        rest[j][i] -= main[j][i];
    }
    for (const UncertainInput& input : part.make_up.inputs) {
        const bool normal = input.stated.shape == Stated::Shape::Normal;
        if (normal ? !(input.stated.u > 0) : !(input.stated.high > input.stated.low)) {
            continue;
        }
        Variable variable{j, normal, input.kind, input.stated, {}};
        const std::vector<double> effect = values_of(input.effect, part.share);
        for (std::size_t e = 0; e < values; ++e) {
            if (input.kind == UncertainInput::Kind::Amount && effect[e] != 0) {
                variable.effect.emplace_back(e, effect[e]);
            }
        }
        add(input.kind == UncertainInput::Kind::Loss ? BudgetStep::Moisture : BudgetStep::Assay,
            std::move(variable));
    }
    const auto relative = [&](double u) { return Variable{j, true, {}, Stated::normal(0, u), {}}; };
    if (part.weighing_u > 0) {
        add(BudgetStep::Weighing, relative(part.weighing_u));
    }
    if (part.premix_u > 0) {
        add(BudgetStep::Premix, relative(part.premix_u));
    }
    const double grains = part.share > 0 ? part.grain_g / part.share : 0;
    portion_variance.push_back(grains * (1 / setup.portion_g - 1 / setup.batch_g));
    sample_variance.push_back(grains * (1 / setup.sample_g - 1 / setup.batch_g));
    add(BudgetStep::Grains, relative(1));
    add(BudgetStep::Sample, relative(1));
}

void Budget::Impl::finish() {
    const Variable uniform{0, false, {}, Stated::between(0, 1), {}};
    if (!setup.mixed_before_use && setup.layered > 0) {
        add(BudgetStep::Layers, uniform);  // which third
    }
    add(BudgetStep::Salinity, {0, true, {}, Stated::normal(0, setup.salinity_u), {}});
    for (const double u : setup.analysis_u) {
        add(BudgetStep::Analysis, {0, true, {}, Stated::normal(0, u), {}});
    }
    for (std::size_t s = 0; s < kBudgetSteps; ++s) {
        first[s] = count;
        count += variables[s].size();
        normals += static_cast<std::size_t>(std::count_if(
            variables[s].begin(), variables[s].end(), [](const Variable& v) { return v.normal; }));
    }
}

void Budget::Impl::fill(stat::DrawStream& stream, Draw& normal, Draw& uniform, Draw& out) const {
    stream.normal(normal);
    stream.between_0_and_1(uniform);
    std::size_t n = 0, u = 0, i = 0;
    for (const auto& step : variables) {
        for (const Variable& v : step) {
            out[i++] = v.normal ? normal[n++] : uniform[u++];
        }
    }
}

void Budget::Impl::lots(const Sources& from, Work& work, Lots& out) const {
    std::fill(work.factor.begin(), work.factor.end(), 1.0);
    for (const BudgetStep step : {BudgetStep::Assay, BudgetStep::Moisture}) {
        const auto& all = variables[at(step)];
        for (std::size_t i = 0; i < all.size(); ++i) {
            const Variable& v = all[i];
            const double value = value_of(v, from[at(step)][i]);
            if (v.kind == UncertainInput::Kind::Assay) {
                work.factor[v.part] *= value / v.stated.value;
            } else if (v.kind == UncertainInput::Kind::Loss) {
                work.factor[v.part] *= (1 - value) / (1 - v.stated.value);
            }
        }
    }
    for (std::size_t j = 0; j < main.size(); ++j) {
        const double factor = work.factor[j];
        const double *m = main[j].data(), *r = rest[j].data();
        double* into = out.data() + j * values;
        for (std::size_t e = 0; e < values; ++e) {
            into[e] = factor * m[e] + r[e];
        }
    }
    const auto& assays = variables[at(BudgetStep::Assay)];
    for (std::size_t i = 0; i < assays.size(); ++i) {
        const Variable& v = assays[i];
        if (v.kind == UncertainInput::Kind::Amount) {
            const double off = value_of(v, from[at(BudgetStep::Assay)][i]) - v.stated.value;
            for (const auto& [e, effect] : v.effect) {
                out[v.part * values + e] += off * effect;
            }
        }
    }
}

/// What of each part is in the portion, or in the sample.
void Budget::Impl::masses(const Sources& from, Outcome outcome, Work& work) const {
    const bool vat = outcome == kVat;
    const double* z = from[at(vat ? BudgetStep::Grains : BudgetStep::Sample)];
    const std::vector<double>& variance = vat ? portion_variance : sample_variance;
    for (std::size_t j = 0; j < work.mass.size(); ++j) {
        work.mass[j] = mass_of_grains(variance[j], z[j]);
    }
    for (const BudgetStep step : {BudgetStep::Weighing, BudgetStep::Premix}) {
        const auto& all = variables[at(step)];
        for (std::size_t i = 0; i < all.size(); ++i) {
            work.mass[all[i].part] *= 1 + value_of(all[i], from[at(step)][i]);
        }
    }
    if (vat && !variables[at(BudgetStep::Layers)].empty()) {
        constexpr int kThirds = 3;
        const double u = from[at(BudgetStep::Layers)][0];
        const int third = std::min(kThirds - 1, static_cast<int>(u * kThirds));
        for (std::size_t j = 0; j < work.mass.size(); ++j) {
            const Thirds& l = setup.parts[j].layers;
            work.mass[j] *= 1 + setup.layered * (third == 0   ? l.bottom
                                                 : third == 1 ? l.middle
                                                              : l.top);
        }
    }
}

void Budget::Impl::run(const Sources& from, const Lots& lots, Outcome outcome, Work& work,
                       std::span<double> out) const {
    masses(from, outcome, work);
    std::fill(work.total.begin(), work.total.end(), 0.0);
    for (std::size_t j = 0; j < main.size(); ++j) {
        const double mass = work.mass[j];
        const double* of = lots.data() + j * values;
        double* total = work.total.data();
        for (std::size_t e = 0; e < values; ++e) {
            total[e] += mass * of[e];
        }
    }
    const double salt = work.total[values - 1] / expected[values - 1];
    const double reading = outcome == kVat ? 1 + value_of(variables[at(BudgetStep::Salinity)][0],
                                                          from[at(BudgetStep::Salinity)][0])
                                           : 1;
    for (std::size_t e = 0; e + 1 < values; ++e) {
        const double found = outcome == kRelease
                                 ? 1 + value_of(variables[at(BudgetStep::Analysis)][e],
                                                from[at(BudgetStep::Analysis)][e])
                                 : 1;
        out[e] = work.total[e] / expected[e] / salt * reading * found - 1;
    }
}

std::string_view name(BudgetStep step) {
    switch (step) {
        case BudgetStep::Assay:
            return "assay and impurities of the lots";
        case BudgetStep::Moisture:
            return "moisture of the lots";
        case BudgetStep::Weighing:
            return "weighing";
        case BudgetStep::Premix:
            return "evenness of the premix";
        case BudgetStep::Grains:
            return "grains in the user's portion";
        case BudgetStep::Layers:
            return "layers in the container";
        case BudgetStep::Sample:
            return "grains in the test sample";
        case BudgetStep::Salinity:
            return "the user's reading of salinity";
        case BudgetStep::Analysis:
            return "analysis";
    }
    return "";
}

Budget::Budget(std::unique_ptr<Impl> impl) : impl_(std::move(impl)) {}
Budget::~Budget() = default;
Budget::Budget(Budget&&) noexcept = default;
Budget& Budget::operator=(Budget&&) noexcept = default;

Result<Budget> Budget::create(BudgetSetup setup) {
    constexpr double kHair = 1e-6;
    const std::size_t count = setup.constituents.size();
    double shares = 0;
    for (const BudgetPart& part : setup.parts) {
        if (!(part.share >= 0) || !(part.grain_g >= 0) || !(part.weighing_u >= 0) ||
            !(part.premix_u >= 0)) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{}: share, grain mass and uncertainties are 0 or more",
                                    base::quoted(part.name)));
        }
        shares += part.share;
    }
    if (count == 0 || setup.band.size() != count || setup.analysis_u.size() != count ||
        !(std::abs(shares - 1) <= kHair) || !(setup.salinity_u >= 0) ||
        !(setup.layered >= 0 && setup.layered <= 1)) {
        return fail(ProblemCode::BadInput,
                    "a budget needs shares that sum to 1, and one band and one uncertainty for "
                    "each constituent");
    }
    BW_CHECK(check_portion(setup.portion_g, setup.batch_g));
    BW_CHECK(check_portion(setup.sample_g, setup.batch_g));
    auto impl = std::make_unique<Impl>();
    impl->setup = std::move(setup);
    impl->values = count + 1;
    impl->expected.assign(impl->values, 0.0);
    for (std::size_t j = 0; j < impl->setup.parts.size(); ++j) {
        impl->add_part(j);
    }
    for (std::size_t e = 0; e < impl->values; ++e) {
        if (!(impl->expected[e] != 0)) {
            return fail(ProblemCode::BadInput,
                        fmt::format("the blend holds no {}: its scatter has no meaning",
                                    e < count ? impl->setup.constituents[e].symbol() : "salt"));
        }
    }
    impl->finish();
    return Budget(std::move(impl));
}

Budget::BlockPointer Budget::draw_block(std::uint64_t seed, std::uint64_t block,
                                        std::uint64_t draws, bool shares) const {
    const Impl& m = *impl_;
    const std::size_t count = m.values - 1;
    const std::size_t steps = shares ? kBudgetSteps : 0;
    BlockPointer out(new Block);
    out->draws = draws;
    out->shares = shares;
    for (std::size_t o = 0; o < kOutcomes; ++o) {
        out->sums[o].assign(count, stat::SobolSums(steps));
        out->drawn[o].reserve(draws * count);
    }
    stat::DrawStream stream(seed, block);
    Draw normal(m.normals), uniform(m.count - m.normals), a(m.count), b(m.count);
    const std::size_t parts = m.main.size();
    Impl::Work work{std::vector<double>(parts), std::vector<double>(parts),
                    std::vector<double>(m.values)};
    Impl::Lots lots_a(parts * m.values), lots_b = lots_a, lots_mixed = lots_a;
    Sources from_a{}, from_b{};
    for (std::size_t s = 0; s < kBudgetSteps; ++s) {
        from_a[s] = a.data() + m.first[s];
        from_b[s] = b.data() + m.first[s];
    }
    std::array<std::vector<double>, kOutcomes> of_a, of_b, mixed;
    for (std::size_t o = 0; o < kOutcomes; ++o) {
        of_a[o].resize(count);
        of_b[o].resize(count);
        mixed[o].resize(steps * count);
    }
    std::vector<double> ab(steps);
    for (std::uint64_t i = 0; i < draws; ++i) {
        m.fill(stream, normal, uniform, a);
        m.fill(stream, normal, uniform, b);
        m.lots(from_a, work, lots_a);
        m.lots(from_b, work, lots_b);
        for (const Outcome o : {kRelease, kVat}) {
            m.run(from_a, lots_a, o, work, of_a[o]);
            m.run(from_b, lots_b, o, work, of_b[o]);
        }
        for (std::size_t s = 0; s < steps; ++s) {
            Sources from = from_a;
            from[s] = from_b[s];
            const bool other_lots = s == at(BudgetStep::Assay) || s == at(BudgetStep::Moisture);
            const bool varies = !m.variables[s].empty();
            if (other_lots && varies) {
                m.lots(from, work, lots_mixed);
            }
            for (const Outcome o : {kRelease, kVat}) {
                const std::span<double> into = std::span(mixed[o]).subspan(s * count, count);
                if (varies && touches(s, o)) {
                    m.run(from, other_lots ? lots_mixed : lots_a, o, work, into);
                } else {
                    std::copy(of_a[o].begin(), of_a[o].end(), into.begin());
                }
            }
        }
        for (const Outcome o : {kRelease, kVat}) {
            bool all = true;
            for (std::size_t e = 0; e < count; ++e) {
                for (std::size_t s = 0; s < steps; ++s) {
                    ab[s] = mixed[o][s * count + e];
                }
                out->sums[o][e].add(of_a[o][e], of_b[o][e], ab);
                out->drawn[o].push_back(static_cast<float>(of_a[o][e]));
                all = all && std::abs(of_a[o][e]) <= m.setup.band[e];
            }
            out->all_inside[o] += all ? 1 : 0;
        }
    }
    return out;
}

BudgetOutcome Budget::merge(const std::vector<BlockPointer>& blocks, std::uint64_t seed) const {
    constexpr double kLow = 0.025, kHigh = 0.975;
    const std::size_t count = impl_->values - 1;
    BudgetOutcome out;
    out.seed = seed;
    for (const BlockPointer& block : blocks) {
        out.draws += block->draws;
    }
    const auto n = static_cast<double>(out.draws);
    const std::array<std::vector<BudgetResult>*, kOutcomes> into{&out.release, &out.vat};
    const std::array<double*, kOutcomes> all{&out.all_inside_release, &out.all_inside_vat};
    std::vector<float> drawn;
    for (std::size_t o = 0; o < kOutcomes; ++o) {
        double inside = 0;
        for (const BlockPointer& block : blocks) {
            inside += static_cast<double>(block->all_inside[o]);
        }
        *all[o] = inside / n;
        into[o]->resize(count);
        for (std::size_t e = 0; e < count; ++e) {
            stat::SobolSums sums = blocks.front()->sums[o][e];
            for (std::size_t i = 1; i < blocks.size(); ++i) {
                sums.merge(blocks[i]->sums[o][e]);
            }
            drawn.clear();
            for (const BlockPointer& block : blocks) {
                for (std::size_t i = e; i < block->drawn[o].size(); i += count) {
                    drawn.push_back(block->drawn[o][i]);
                }
            }
            BudgetResult& r = (*into[o])[e];
            r.mean = sums.mean();
            r.u = std::sqrt(sums.variance());
            const double band = impl_->setup.band[e];
            r.inside = static_cast<double>(std::count_if(
                           drawn.begin(), drawn.end(),
                           [&](float x) { return std::abs(static_cast<double>(x)) <= band; })) /
                       n;
            r.inside_standard_error = std::sqrt(r.inside * (1 - r.inside) / n);
            const auto quantile = [&](double share) {
                const auto place = static_cast<std::ptrdiff_t>(share * (n - 1));
                std::nth_element(drawn.begin(), drawn.begin() + place, drawn.end());
                return static_cast<double>(drawn[static_cast<std::size_t>(place)]);
            };
            r.low = quantile(kLow);
            r.high = quantile(kHigh);
            if (blocks.front()->shares) {
                const std::vector<stat::SobolIndex> indices = sums.indices();
                std::copy(indices.begin(), indices.end(), r.steps.begin());
            }
        }
    }
    return out;
}

}  // namespace bw::blend
