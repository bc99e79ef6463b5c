// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "blend/layering.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::blend {
namespace {

constexpr std::size_t kClasses = 400;
constexpr double kTenth = 0.1;

struct GrainClass {
    std::size_t part = 0;
    double size_m = 0;
    double mass = 0;    ///< per mass of blend
    double volume = 0;  ///< m3 per kg of blend
};

/// One layer of a container: masses of the parts, and its volume.
struct Layer {
    std::vector<double> mass;
    double volume = 0;
};

std::vector<GrainClass> classes_of(std::span<const LayerPart> parts) {
    std::vector<GrainClass> out;
    for (std::size_t k = 0; k < parts.size(); ++k) {
        const LayerPart& p = parts[k];
        if (!p.sizes || !(p.grains.share > 0)) {
            continue;
        }
        const double mass = p.grains.share / kClasses;
        for (std::size_t i = 0; i < kClasses; ++i) {
            const double finer = (static_cast<double>(i) + 1.0 / 2) / kClasses;
            out.push_back({k, p.sizes->size_m(finer), mass, mass / p.density_kg_per_m3});
        }
    }
    std::stable_sort(out.begin(), out.end(),
                     [](const GrainClass& a, const GrainClass& b) { return a.size_m < b.size_m; });
    return out;
}

double median_of(const std::vector<GrainClass>& classes) {
    double all = 0;
    for (const GrainClass& c : classes) {
        all += c.mass;
    }
    double below = 0;
    for (const GrainClass& c : classes) {
        below += c.mass;
        if (below >= all / 2) {
            return c.size_m;
        }
    }
    return 0;
}

void put(const GrainClass& c, std::size_t parts, Layer& into) {
    into.mass.resize(parts);
    into.mass[c.part] += c.mass;
    into.volume += c.volume;
}

SortingLine line_of(std::size_t part, const GrainSizes& sizes, double bed,
                    const std::vector<GrainClass>& classes) {
    constexpr double kMiddle = 0.5;
    SortingLine out;
    out.part = part;
    out.median_ratio = sizes.size_m(kMiddle) / bed;
    for (const GrainClass& c : classes) {
        if (c.part == part) {
            out.rises += c.size_m > kShakenRatio * bed ? 1.0 / kClasses : 0;
            out.falls += c.size_m * kShakenRatio < bed ? 1.0 / kClasses : 0;
            out.sifts += c.size_m * kSiftingRatio < bed ? 1.0 / kClasses : 0;
            out.clings += c.size_m < kClinging_m ? 1.0 / kClasses : 0;
        }
    }
    const bool handled = out.median_ratio > kHandlingRatio || out.median_ratio < 1 / kHandlingRatio;
    out.risk = out.sifts >= kTenth               ? SortingRisk::Sifting
               : out.rises + out.falls >= kTenth ? SortingRisk::Shaken
               : handled                         ? SortingRisk::Handled
                                                 : SortingRisk::Even;
    return out;
}

/// Masses of the parts in the three thirds of layers that lie on each other, bottom first.
std::array<std::vector<double>, 3> thirds_of(const std::vector<Layer>& layers, std::size_t parts) {
    double all = 0;
    for (const Layer& l : layers) {
        all += l.volume;
    }
    std::array<std::vector<double>, 3> out;
    for (std::size_t t = 0; t < out.size(); ++t) {
        out[t].assign(parts, 0.0);
        const double from = all * static_cast<double>(t) / 3,
                     to = all * static_cast<double>(t + 1) / 3;
        double at = 0;
        for (const Layer& l : layers) {
            const double inside = std::min(to, at + l.volume) - std::max(from, at);
            at += l.volume;
            if (inside > 0 && l.volume > 0) {
                for (std::size_t k = 0; k < parts; ++k) {
                    out[t][k] += l.mass[k] * inside / l.volume;
                }
            }
        }
    }
    return out;
}

/// Adds the parts without sizes to each third as they are in the blend.
void add_unsized(std::span<const LayerPart> parts, std::array<std::vector<double>, 3>& thirds) {
    double sized = 0;
    for (const LayerPart& p : parts) {
        sized += p.sizes ? p.grains.share : 0;
    }
    for (std::vector<double>& third : thirds) {
        double mass = 0;
        for (const double m : third) {
            mass += m;
        }
        for (std::size_t k = 0; k < parts.size(); ++k) {
            if (!parts[k].sizes && sized > 0) {
                third[k] += parts[k].grains.share * mass / sized;
            }
        }
    }
}

struct Deviations {
    std::vector<Thirds> constituents, parts;
};

Deviations deviations(std::span<const LayerPart> parts, const std::vector<Scatter>& blend,
                      const std::vector<Layer>& layers) {
    auto thirds = thirds_of(layers, parts.size());
    add_unsized(parts, thirds);
    Deviations out{std::vector<Thirds>(blend.size()), std::vector<Thirds>(parts.size())};
    const std::array<double Thirds::*, 3> places{&Thirds::bottom, &Thirds::middle, &Thirds::top};
    for (std::size_t t = 0; t < places.size(); ++t) {
        double mass = 0;
        for (const double m : thirds[t]) {
            mass += m;
        }
        if (!(mass > 0)) {
            continue;
        }
        for (std::size_t k = 0; k < parts.size(); ++k) {
            const double share = parts[k].grains.share;
            out.parts[k].*places[t] = share > 0 ? thirds[t][k] / mass / share - 1 : 0;
        }
        for (std::size_t e = 0; e < blend.size(); ++e) {
            double content = 0;
            for (std::size_t k = 0; k < parts.size(); ++k) {
                content += thirds[t][k] / mass * parts[k].grains.content[e];
            }
            out.constituents[e].*places[t] =
                blend[e].content != 0 ? content / blend[e].content - 1 : 0;
        }
    }
    return out;
}

}  // namespace

std::string_view name(SortingRisk risk) {
    switch (risk) {
        case SortingRisk::Even:
            return "stays mixed";
        case SortingRisk::Handled:
            return "may sort when poured";
        case SortingRisk::Shaken:
            return "sorts when shaken";
        case SortingRisk::Sifting:
            return "sifts through at rest";
    }
    return "";
}

double Thirds::widest() const {
    return std::max({std::abs(top), std::abs(middle), std::abs(bottom)});
}

Result<Layering> layering_of(std::span<const LayerPart> parts) {
    std::vector<GrainPart> grains;
    for (const LayerPart& p : parts) {
        if (p.sizes && !(p.density_kg_per_m3 > 0)) {
            return fail(ProblemCode::BadInput, fmt::format("{}: a density above 0 is needed",
                                                           base::quoted(p.grains.name)));
        }
        grains.push_back(p.grains);
    }
    BW_TRY(blend, scatter_of(grains));
    const std::vector<GrainClass> classes = classes_of(parts);
    Layering out;
    out.shaken.resize(blend.size());
    out.sorted.resize(blend.size());
    out.part_shaken.resize(parts.size());
    out.part_sorted.resize(parts.size());
    if (classes.empty()) {
        return out;
    }
    out.bed_median_m = median_of(classes);
    std::vector<Layer> shaken(3), sorted;
    for (Layer& l : shaken) {
        l.mass.resize(parts.size());
    }
    for (const GrainClass& c : classes) {
        const std::size_t where = c.size_m * kShakenRatio < out.bed_median_m   ? 0
                                  : c.size_m > kShakenRatio * out.bed_median_m ? 2
                                                                               : 1;
        put(c, parts.size(), shaken[where]);
        put(c, parts.size(), sorted.emplace_back());
    }
    for (std::size_t k = 0; k < parts.size(); ++k) {
        if (parts[k].sizes && parts[k].grains.share > 0) {
            out.lines.push_back(line_of(k, *parts[k].sizes, out.bed_median_m, classes));
        }
    }
    Deviations after = deviations(parts, blend, shaken);
    out.shaken = std::move(after.constituents);
    out.part_shaken = std::move(after.parts);
    after = deviations(parts, blend, sorted);
    out.sorted = std::move(after.constituents);
    out.part_sorted = std::move(after.parts);
    return out;
}

}  // namespace bw::blend
