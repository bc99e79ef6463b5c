// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/blend_grains.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/text.hpp"
#include "service/recipe_supplies.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

// Salts as they are traded: common practice.
constexpr double kUsual_m = 5e-4, kFinest_m = 5e-5, kCoarsest_m = 3e-3;
constexpr blend::Bounded kUsualDensity{2000, 1500, 2700};

constexpr double cube(double x) { return x * x * x; }

/// Grain masses and sizes of one material, with a notice for what is not known.
Result<void> add_sizes(const io::PlacedMaterial& placed, blend::LayerPart& part,
                       base::Notices& notices) {
    const matter::Material& material = placed.material;
    blend::Bounded density = kUsualDensity;
    if (material.density_kg_per_m3) {
        const double known = *material.density_kg_per_m3;
        density = {known, known, known};
    } else {
        notices.push_back(
            {"blend_density", fmt::format("The density of {} is not stated: 2.0 g/cm3 is reckoned, "
                                          "bounded by 1.5 and 2.7 g/cm3.",
                                          base::quoted(material.name))});
    }
    blend::Bounded mean_cube{cube(kUsual_m), cube(kFinest_m), cube(kCoarsest_m)};
    if (material.grain) {
        auto sizes = blend::GrainSizes::of(*material.grain);
        if (!sizes) {
            Problem problem = sizes.error();
            problem.message = fmt::format("{}: {}", base::quoted(material.name), problem.message);
            problem.place = placed.place;
            return tl::make_unexpected(std::move(problem));
        }
        mean_cube = sizes->mean_cube_m3();
        constexpr double kMuchOpen = 0.15;
        if (sizes->coarser_than_last_point() > kMuchOpen) {
            notices.push_back(
                {"blend_open_sieve",
                 fmt::format("{:.0f} % of {} is coarser than its coarsest sieve: its sizes are "
                             "extrapolated, and what they scatter is a guess. State a coarser "
                             "sieve.",
                             sizes->coarser_than_last_point() * unit::kPercent,
                             base::quoted(material.name))});
        }
        part.sizes = std::move(*sizes);
    } else {
        notices.push_back(
            {"blend_grain", fmt::format("The grain sizes of {} are not stated: 0.5 mm is reckoned, "
                                        "bounded by 0.05 and 3 mm, and it is not placed in layers.",
                                        base::quoted(material.name))});
    }
    if (material.formula.empty()) {
        notices.push_back(
            {"blend_mixture",
             fmt::format("Every grain of {} is taken to hold all of its composition: right for a "
                         "natural salt or a sprayed premix. In a premix that was mixed dry each "
                         "salt is a grain of its own and scatters far more: give its salts as "
                         "materials of their own.",
                         base::quoted(material.name))});
    }
    part.density_kg_per_m3 = density.expected;
    part.grains.grain_g = blend::grain_mass_g(mean_cube, density);
    return {};
}

/// Materials whose scatter rests on grains coarser than anything that is stated.
void note_tails(BlendGrains& of) {
    constexpr double kMostly = 0.5;
    std::vector<std::string> names;
    for (const blend::LayerPart& part : of.parts) {
        if (part.sizes && part.sizes->beyond_last_point() > kMostly) {
            names.push_back(part.grains.name);
        }
    }
    if (!names.empty()) {
        of.notices.push_back(
            {"blend_tail",
             fmt::format("More than half of what {} {} comes from grains coarser than the "
                         "coarsest size that is stated: a top sieve ({{ size = ..., finer = \"100 "
                         "%\" }}) makes the figures surer.",
                         base::join_words(names), names.size() == 1 ? "scatters" : "scatter")});
    }
}

/// What a material holds of a constituent as a limit of its certificate only.
double as_limit(const matter::MakeUp& make_up, matter::Constituent c) {
    double out = 0;
    for (const matter::UncertainInput& input : make_up.inputs) {
        const matter::Stated& x = input.stated;
        if (input.kind == matter::UncertainInput::Kind::Amount &&
            x.shape == matter::Stated::Shape::Rectangular && x.low <= 0) {
            out += x.value * input.effect[c];
        }
    }
    return out;
}

/// Constituents that the blend is weighed for, in the table's order: some material's salt or
/// mixture holds it, and half of it or more is no mere impurity.
std::vector<matter::Constituent> on_purpose(const std::vector<matter::MakeUp>& make_ups,
                                            const std::vector<matter::Material>& materials,
                                            const std::vector<double>& shares) {
    std::vector<matter::Constituent> out;
    for (std::size_t i = 0; i < matter::constituent_count(); ++i) {
        const matter::Constituent c(i);
        double content = 0, wanted = 0;
        for (std::size_t k = 0; k < make_ups.size(); ++k) {
            content += shares[k] * make_ups[k].mol_per_kg[c];
            wanted += shares[k] * (materials[k].formula.empty()
                                       ? make_ups[k].mol_per_kg[c] - as_limit(make_ups[k], c)
                                       : make_ups[k].main_mol_per_kg[c]);
        }
        if (content > 0 && wanted >= content / 2) {
            out.push_back(c);
        }
    }
    return out;
}

}  // namespace

std::vector<blend::GrainPart> BlendGrains::grains() const {
    std::vector<blend::GrainPart> out;
    for (const blend::LayerPart& part : parts) {
        out.push_back(part.grains);
    }
    return out;
}

Result<BlendGrains> blend_grains(const io::Document& recipe,
                                 const std::vector<io::Document>& materials) {
    BW_TRY(of, recipe_supplies(recipe, materials));
    double dose = 0;
    for (const io::RecipePart& part : of.recipe.parts) {
        dose += part.g_per_kg_purified_water;
    }
    if (!(dose > 0)) {
        return fail(ProblemCode::OutOfRange, "the recipe weighs nothing: its amounts sum to 0",
                    {recipe.name, 0, ""});
    }
    BlendGrains out;
    out.recipe = of.recipe.name;
    out.invented = of.recipe.invented;
    std::vector<double> shares;
    for (std::size_t i = 0; i < of.recipe.parts.size(); ++i) {
        const io::RecipePart& weighed = of.recipe.parts[i];
        if (!(weighed.g_per_kg_purified_water > 0)) {
            continue;
        }
        blend::LayerPart part;
        part.grains.name = weighed.lot.empty()
                               ? weighed.material
                               : fmt::format("{}, lot {}", weighed.material, weighed.lot);
        part.grains.share = weighed.g_per_kg_purified_water / dose;
        BW_CHECK(add_sizes(of.materials[i], part, out.notices));
        shares.push_back(part.grains.share);
        out.parts.push_back(std::move(part));
        out.materials.push_back(of.materials[i].material);
        out.make_ups.push_back(of.materials[i].make_up);
    }
    note_tails(out);
    out.constituents = on_purpose(out.make_ups, out.materials, shares);
    for (std::size_t k = 0; k < out.parts.size(); ++k) {
        for (const matter::Constituent& c : out.constituents) {
            out.parts[k].grains.content.push_back(out.make_ups[k].mol_per_kg[c]);
        }
    }
    return out;
}

}  // namespace bw::service
