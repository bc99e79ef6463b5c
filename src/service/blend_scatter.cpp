// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/blend_scatter.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

constexpr double kTooOften = 0.05;

Result<void> check(const BlendScatterRequest& r) {
    if (!(r.wanted > 0 && r.wanted < 1)) {
        return fail(ProblemCode::OutOfRange, "a promise lies between 0 and 100 %: write \"2 %\"",
                    {"", 0, "wanted"});
    }
    if (!(r.batch_kg > 0) || !(r.container_kg > 0) || r.container_kg > r.batch_kg) {
        return fail(
            ProblemCode::OutOfRange,
            fmt::format("a container of {:g} kg does not come from a batch of {:g} kg: give "
                        "masses above 0, the batch the larger one",
                        r.container_kg, r.batch_kg),
            {"", 0, "container"});
    }
    if (r.portions_kg.empty()) {
        return fail(ProblemCode::BadInput, "one portion at least is needed: write \"50 g\"",
                    {"", 0, "portion"});
    }
    for (const double portion : r.portions_kg) {
        if (!(portion > 0) || portion > r.container_kg) {
            return fail(ProblemCode::OutOfRange,
                        fmt::format("a portion of {:g} g is not taken from a container of {:g} kg: "
                                    "give one above 0 and up to the container's",
                                    portion * unit::kGramPerKg, r.container_kg),
                        {"", 0, "portion"});
        }
    }
    return {};
}

/// The scatter that leaves 5 % of portions outside.
double scatter_allowed(double wanted) {
    double low = 0, high = wanted;  // at a scatter as wide as the band a third is outside
    constexpr int kHalvings = 50;
    for (int i = 0; i < kHalvings; ++i) {
        const double middle = (low + high) / 2;
        (blend::chance_outside(middle, wanted) <= kTooOften ? low : high) = middle;
    }
    return low;
}

std::vector<ScatterShare> shares_of(const blend::Scatter& scatter, const BlendGrains& of) {
    constexpr double kWorthNaming = 0.01;
    constexpr std::size_t kMost = 4;
    std::vector<ScatterShare> out;
    const double all = scatter.relative_variance_g.expected;
    for (std::size_t k = 0; k < of.parts.size() && all > 0; ++k) {
        if (scatter.variance_g_of[k] >= kWorthNaming * all) {
            out.push_back({of.parts[k].grains.name, scatter.variance_g_of[k] / all});
        }
    }
    std::stable_sort(out.begin(), out.end(), [](const ScatterShare& a, const ScatterShare& b) {
        return a.share > b.share;
    });
    out.resize(std::min(out.size(), kMost));
    return out;
}

/// Finds what would bring one constituent within the promise, for the smallest portion.
class Remedies {
public:
    Remedies(const BlendGrains& of, const BlendScatterRequest& request)
        : of_(of),
          grains_(of.grains()),
          portion_g_(*std::min_element(request.portions_kg.begin(), request.portions_kg.end()) *
                     unit::kGramPerKg),
          batch_g_(request.batch_kg * unit::kGramPerKg),
          allowed_(scatter_allowed(request.wanted)) {}

    [[nodiscard]] Result<std::optional<ScatterRemedy>> find(std::size_t constituent,
                                                            const blend::Scatter& scatter) const {
        const double now = scatter.relative_sd(portion_g_, batch_g_).expected;
        if (now <= allowed_) {
            return std::optional<ScatterRemedy>();
        }
        constexpr double kMiddle = 0.5;
        const auto largest = static_cast<std::size_t>(
            std::max_element(scatter.variance_g_of.begin(), scatter.variance_g_of.end()) -
            scatter.variance_g_of.begin());
        ScatterRemedy out;
        out.material = grains_[largest].name;
        if (of_.parts[largest].sizes) {
            out.d50_m = of_.parts[largest].sizes->size_m(kMiddle);
            const auto factor =
                blend::size_factor_for(scatter, largest, allowed_, portion_g_, batch_g_);
            if (factor) {
                out.finer_d50_m = *factor * out.d50_m;
            }
        }
        out.all_finer = std::cbrt(allowed_ * allowed_ / (now * now));
        BW_CHECK(bind(constituent, largest, out));
        const double least_g = scatter.least_portion_g(allowed_);
        if (least_g < batch_g_) {
            out.portion_kg = least_g / unit::kGramPerKg;
        }
        return std::optional<ScatterRemedy>(std::move(out));
    }

private:
    /// A minor material is sprayed onto the alkali chloride that there is most of: others react
    /// with it, or draw water.
    [[nodiscard]] Result<void> bind(std::size_t constituent, std::size_t part,
                                    ScatterRemedy& into) const {
        std::optional<std::size_t> carrier;
        for (std::size_t j = 0; j < grains_.size(); ++j) {
            const std::string& formula = of_.materials[j].formula;
            const bool inert = formula == "NaCl" || formula == "KCl";
            if (inert && (!carrier || grains_[j].share > grains_[*carrier].share)) {
                carrier = j;
            }
        }
        const std::string& formula = of_.materials[part].formula;
        if (!carrier || *carrier == part) {
            into.no_carrier = "no carrier";
        } else if (grains_[part].share >= kMinorShare) {
            into.no_carrier = "over 1 %";
        } else if (formula.empty() || formula.find("CO3") != std::string::npos) {
            into.no_carrier = formula.empty() ? "a mixture" : "loses CO2";
        }
        if (!into.no_carrier.empty()) {
            return {};
        }
        BW_TRY(scatter, blend::scatter_of(blend::bound_to(grains_, part, *carrier)));
        const double left = scatter[constituent].relative_sd(portion_g_, batch_g_).expected;
        into.no_carrier = left <= allowed_ ? "" : "not enough";
        if (left <= allowed_) {
            into.carrier = grains_[*carrier].name;
            into.bound_sd = left;
        }
        return {};
    }

    const BlendGrains& of_;
    std::vector<blend::GrainPart> grains_;
    double portion_g_, batch_g_, allowed_;
};

}  // namespace

base::Notices grinding_cautions(const BlendGrains& of,
                                const std::function<bool(std::size_t part)>& chosen) {
    base::Notices out;
    for (std::size_t k = 0; k < of.parts.size(); ++k) {
        const matter::Material& material = of.materials[k];
        if (!chosen(k) || (material.hazards.empty() && material.cautions.empty())) {
            continue;
        }
        std::vector<std::string> words = material.cautions;
        if (!material.hazards.empty()) {
            words.insert(words.begin(), fmt::format("{}.", fmt::join(material.hazards, ", ")));
        }
        out.push_back({"blend_caution", fmt::format("Before {} is ground or sprayed: {}",
                                                    material.name, fmt::join(words, " "))});
    }
    if (!out.empty()) {
        out.push_back({"blend_dust",
                       "Dust and mist reach where grains do not: the suppliers' safety data "
                       "sheets, the rules of the place and people qualified for them decide "
                       "whether anything is ground or sprayed."});
    }
    return out;
}

Result<std::vector<std::string>> scatter_sentences(const BlendGrains& of, double portion_g,
                                                   double lot_g) {
    constexpr std::size_t kNamed = 3;
    constexpr int kDigits = 2;
    BW_TRY(scatters, blend::scatter_of(of.grains()));
    std::vector<std::pair<double, std::string>> most;
    for (std::size_t e = 0; e < of.constituents.size(); ++e) {
        most.emplace_back(scatters[e].relative_sd(portion_g, lot_g).expected,
                          of.constituents[e].symbol());
    }
    std::stable_sort(most.begin(), most.end(),
                     [](const auto& a, const auto& b) { return a.first > b.first; });
    const auto percent = [&](double sd) {
        return base::format_short(sd * unit::kPercent, kDigits) + " %";
    };
    std::vector<std::string> named;
    for (std::size_t i = 0; i < std::min(kNamed, most.size()); ++i) {
        named.push_back(most[i].second + " " + percent(most[i].first));
    }
    std::vector<std::string> out{fmt::format(
        "By chance alone portions of {:g} g have a standard deviation of {}{}: no blending brings "
        "them closer.",
        portion_g, base::join_words(named),
        most.size() > kNamed
            ? fmt::format(", all others of {} or less", percent(most[kNamed].first))
            : "")};
    std::size_t unknown = 0;
    for (const blend::LayerPart& part : of.parts) {
        unknown += part.sizes ? 0U : 1U;
    }
    if (unknown > 0) {
        out.push_back(
            fmt::format("The grain sizes of {} of {} materials are not stated: 0.5 mm is "
                        "reckoned for them.",
                        unknown, of.parts.size()));
    }
    return out;
}

Result<std::vector<std::string>> taking_sentences(const BlendGrains& of, double least_portion_g) {
    constexpr std::size_t kNamed = 3;
    constexpr int kDigits = 2;
    std::vector<std::string> out;
    BW_TRY(layering, blend::layering_of(of.parts));
    if (std::any_of(layering.lines.begin(), layering.lines.end(),
                    [](const auto& line) { return line.risk >= blend::SortingRisk::Shaken; })) {
        out.emplace_back("A container that is dissolved whole needs no shaking.");
    }
    BW_TRY(scatters, blend::scatter_of(of.grains()));
    std::vector<std::pair<double, std::string>> large;
    for (std::size_t e = 0; e < of.constituents.size(); ++e) {
        const double least_g = scatters[e].least_portion_g(scatter_allowed(kPromise));
        if (least_g > least_portion_g) {
            large.emplace_back(least_g, of.constituents[e].symbol());
        }
    }
    std::stable_sort(large.begin(), large.end(),
                     [](const auto& a, const auto& b) { return a.first > b.first; });
    std::vector<std::string> named;
    for (std::size_t i = 0; i < std::min(kNamed, large.size()); ++i) {
        const double g = large[i].first;
        named.push_back(fmt::format(
            "{} {} for {}",
            base::format_short(g < unit::kGramPerKg ? g : g / unit::kGramPerKg, kDigits),
            g < unit::kGramPerKg ? "g" : "kg", large[i].second));
    }
    const bool stated = std::all_of(of.parts.begin(), of.parts.end(),
                                    [](const auto& part) { return part.sizes.has_value(); });
    if (!named.empty() && stated) {
        out.push_back(fmt::format(
            "In smaller portions than {}{} single grains count: more than 5 in 100 then differ by "
            "over {:g} %.",
            base::join_words(named), large.size() > kNamed ? ", and less for others," : "",
            kPromise * unit::kPercent));
    }
    return out;
}

Result<BlendScatterReport> blend_scatter(const BlendScatterRequest& request) {
    BW_CHECK(check(request));
    BW_TRY(of, blend_grains(request.recipe, request.materials));
    BW_TRY(scatters, blend::scatter_of(of.grains()));
    BW_TRY(layering, blend::layering_of(of.parts));
    BlendScatterReport out;
    out.recipe = of.recipe;
    out.invented = of.invented;
    out.portions_kg = request.portions_kg;
    std::sort(out.portions_kg.begin(), out.portions_kg.end());
    out.container_kg = request.container_kg;
    out.batch_kg = request.batch_kg;
    out.wanted = request.wanted;
    out.notices = of.notices;
    const Remedies remedies(of, request);
    for (std::size_t e = 0; e < of.constituents.size(); ++e) {
        ConstituentScatter c;
        c.constituent = of.constituents[e];
        c.mol_per_kg = scatters[e].content;
        for (const double portion : out.portions_kg) {
            c.relative_sd.push_back(scatters[e].relative_sd(portion * unit::kGramPerKg,
                                                            request.batch_kg * unit::kGramPerKg));
            c.outside.push_back(
                blend::chance_outside(c.relative_sd.back().expected, request.wanted));
        }
        c.shares = shares_of(scatters[e], of);
        BW_TRY(found, remedies.find(e, scatters[e]));
        c.remedy = std::move(found);
        c.shaken = layering.shaken[e];
        c.sorted = layering.sorted[e];
        out.constituents.push_back(std::move(c));
    }
    base::append(out.notices, grinding_cautions(of, [&](std::size_t k) {
                     return std::any_of(out.constituents.begin(), out.constituents.end(),
                                        [&](const ConstituentScatter& c) {
                                            return c.remedy &&
                                                   c.remedy->material == of.parts[k].grains.name;
                                        });
                 }));
    std::stable_sort(out.constituents.begin(), out.constituents.end(),
                     [](const ConstituentScatter& a, const ConstituentScatter& b) {
                         return a.relative_sd.front().expected > b.relative_sd.front().expected;
                     });
    for (const blend::LayerPart& part : of.parts) {
        out.parts.push_back(part.grains.name);
        out.shares.push_back(part.grains.share);
    }
    out.layering = std::move(layering);
    return out;
}

}  // namespace bw::service
