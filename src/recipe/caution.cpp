// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "recipe/caution.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "recipe/blend_place.hpp"
#include "ref/tables.hpp"

namespace bw::recipe {
namespace {

using matter::constituent;

bool uses(const std::vector<Supply>& supplies, const Solution& solution, const auto& which) {
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        if (solution.dose_kg_per_kg[j] > 0 && which(supplies[j])) {
            return true;
        }
    }
    return false;
}

}  // namespace

base::Notices cautions_on_water(const Target& target, const MadeUpWater& water) {
    base::Notices out;
    const matter::Amounts& c = water.mol_per_kg;
    // Natural amounts at the same salinity.
    matter::Amounts natural = matter::reference_seawater(target.salinity.target_g_per_kg);
    const double ca = c[constituent("Ca")];
    const double alkalinity = c[constituent("alkalinity")];
    const double mg = c[constituent("Mg")];
    const double raised =
        ca * alkalinity / (natural[constituent("Ca")] * natural[constituent("alkalinity")]);
    constexpr double kRaised = 1.15;  // product of calcium and alkalinity over nature's: estimate
    constexpr double kLowMgPerCa = 4.5;  // mol/mol, common practice; nature has 5.14
    const bool low_magnesium = ca > 0 && mg / ca < kLowMgPerCa;
    if (raised > kRaised) {
        out.push_back(
            {"raised",
             fmt::format(
                 "Calcium times alkalinity is {} times nature's. The mass balance accepts this; "
                 "whether it dissolves clear and stays clear is for the dissolution path to "
                 "say.",
                 base::format_significant(raised, 3))});
    }
    if (raised > kRaised && low_magnesium) {
        out.push_back(
            {"low_magnesium", fmt::format("Mg/Ca is {} mol/mol, below {}: with this much calcium "
                                          "and alkalinity too little magnesium lets "
                                          "calcium carbonate fall out (common practice). Do not "
                                          "make this water before the dissolution path "
                                          "has been checked.",
                                          base::format_significant(mg / ca, 3),
                                          base::format_significant(kLowMgPerCa, 2))});
    }
    constexpr double kMilli = 1000;
    const double carbon = c[constituent("carbon")];
    if (alkalinity > 0 && carbon > 0) {
        out.push_back(base::Notice{
            "carbon", fmt::format("As mixed it holds {} mmol/kg of carbon for {} meq/kg "
                                  "of alkalinity; carbon and pH then follow "
                                  "the air.",
                                  base::format_significant(carbon * kMilli, 3),
                                  base::format_significant(alkalinity * kMilli, 3))});
    }
    constexpr double kClear = 5;  // mg/kg, estimate: above, the eye may see it
    if (water.insoluble_mg_per_kg > kClear) {
        out.push_back(
            {"insoluble", fmt::format("The materials' insoluble parts make {} mg/kg of finished "
                                      "water: it may look hazy.",
                                      base::format_significant(water.insoluble_mg_per_kg, 2))});
    }
    return out;
}

std::vector<MaterialHazards> hazards(const std::vector<Supply>& supplies,
                                     const Solution& solution) {
    std::vector<MaterialHazards> out;
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        const matter::Material& material = supplies[j].material;
        if (solution.dose_kg_per_kg[j] <= 0 ||
            (material.hazards.empty() && material.cautions.empty())) {
            continue;
        }
        MaterialHazards entry{static_cast<int>(j), {}, material.cautions};
        for (const std::string& code : material.hazards) {
            const auto rows = ref::hazard_statements();
            const auto row =
                std::find_if(rows.begin(), rows.end(),
                             [&](const ref::HazardStatement& h) { return h.code == code; });
            entry.statements.push_back(
                row == rows.end()
                    ? code
                    : fmt::format("{} {}{}", code, row->text, row->text.ends_with('.') ? "" : "."));
        }
        out.push_back(std::move(entry));
    }
    return out;
}

std::vector<BlendStep> blend_order(const std::vector<Supply>& supplies, const Solution& solution) {
    constexpr auto kOrder = std::to_array<std::pair<BlendGroup, std::string_view>>({
        {BlendGroup::Carrier,
         "Half of it into the blender first; keep the other half as a barrier for later."},
        {BlendGroup::Basic,
         "Carbonates, borates, fluorides: spread in the dry carrier, away from anything damp."},
        {BlendGroup::Sulfate, "Sulfates."},
        {BlendGroup::Potassium,
         "Potassium salts; then the other half of the carrier as a barrier."},
        {BlendGroup::Other, "Other materials."},
        {BlendGroup::Premix, "Trace premixes, already diluted in carrier."},
        {BlendGroup::Hygroscopic,
         "Salts that draw water last (chlorides of magnesium, calcium, strontium, lithium; sodium "
         "bromide): small portions spread in carrier by themselves, never with the carbonates. "
         "Blend short, pack at once."},
    });
    std::vector<BlendStep> out;
    for (const auto& [group, words] : kOrder) {
        BlendStep step{std::string(words), {}};
        for (std::size_t j = 0; j < supplies.size(); ++j) {
            if (solution.dose_kg_per_kg[j] > 0 && blend_group(supplies[j]) == group) {
                step.supplies.push_back(static_cast<int>(j));
            }
        }
        if (!step.supplies.empty()) {
            out.push_back(std::move(step));
        }
    }
    return out;
}

std::vector<std::string> standing_cautions(const std::vector<Supply>& supplies,
                                           const Solution& solution) {
    std::vector<std::string> out;
    out.emplace_back(
        "Dissolve salt into water, never water onto salt: stir the purified water and pour the "
        "blend in slowly.");
    const bool heats = uses(supplies, solution, [](const Supply& s) {
        const auto& f = s.material.formula;
        return f == "CaCl2" || f == "MgCl2" || f == "MgSO4" || f == "Na2CO3" || f == "CaCl2.2H2O" ||
               f == "NaOH" || f == "Mg(OH)2" || f == "CaO";
    });
    if (heats) {
        out.emplace_back(
            "Some of these salts heat strongly when they meet water (calcium chloride, dried "
            "magnesium salts, sodium carbonate): "
            "add them in portions, wear eye protection and gloves.");
    }
    const bool toxic = uses(supplies, solution, [](const Supply& s) {
        const auto& h = s.material.hazards;
        return std::any_of(h.begin(), h.end(), [](const std::string& code) {
            constexpr auto kGrave =
                std::to_array<std::string_view>({"H300", "H301", "H310", "H311", "H314", "H330",
                                                 "H331", "H340", "H350", "H360", "H370", "H372"});
            return std::any_of(kGrave.begin(), kGrave.end(),
                               [&](std::string_view grave) { return code.starts_with(grave); });
        });
    });
    if (toxic) {
        out.emplace_back(
            "Materials marked toxic, corrosive or harmful to reproduction are weighed by trained "
            "people only, with dust extraction, "
            "and kept apart from acids.");
    }
    std::vector<std::string> unstated;
    for (std::size_t j = 0; j < supplies.size(); ++j) {
        if (solution.dose_kg_per_kg[j] > 0 && supplies[j].material.hazards.empty()) {
            unstated.push_back(supplies[j].material.name);
        }
    }
    if (!unstated.empty()) {
        out.push_back(
            fmt::format("No hazard statement is on file for {}: that may mean none, or that nobody "
                        "wrote it down. Read "
                        "the supplier's safety data sheet before opening the bag.",
                        base::join_words(unstated)));
    }
    out.emplace_back(
        "This list does not replace the supplier's safety data sheet, local rules or the judgement "
        "of qualified people.");
    return out;
}

}  // namespace bw::recipe
