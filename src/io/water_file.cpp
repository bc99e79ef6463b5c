// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/water_file.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "io/salinity_field.hpp"
#include "io/water_basis.hpp"
#include "io/water_closing.hpp"
#include "io/water_doubts.hpp"
#include "unit/factors.hpp"

namespace bw::io {
namespace {

using unit::Dimension;

constexpr double kColdest = 0;  // degC, of the model
constexpr double kWarmest = 40;
constexpr SalinityRange kSalinities{
    120, "up to which natural proportions are told of in words of salinity: name the constituents"};
constexpr auto kNotConstituents =
    std::to_array<std::string_view>({"unit", "note", "pCO2", "pH", "pH_scale"});

Result<unit::Celsius> read_temperature(const Fields& root) {
    BW_TRY(degC, root.value_in("temperature", Dimension::Temperature));
    constexpr double kUnlessStated = 25;
    const double t = degC.value_or(kUnlessStated);
    if (!(t >= kColdest && t <= kWarmest)) {
        return root.bad("temperature",
                        fmt::format("{} degC is outside 0 to 40 degC, where the model holds",
                                    base::format_exact(t)),
                        ProblemCode::OutOfRange);
    }
    return unit::Celsius(t);
}

/// Whether a value is a number without a unit of its own.
bool is_bare(const Node& node) {
    return node.number() != nullptr ||
           (node.text() != nullptr && base::parse_number(base::trim(*node.text())));
}

/// In a table of masses a bare alkalinity is in meq on the same basis.
Result<void> alkalinity_among_masses(const Node& node, unit::TypedQuantity& typed) {
    if (!is_bare(node) || !typed.as.empty()) {
        return {};
    }
    const Dimension d = typed.unit.dimension;
    if (d == Dimension::MassPerMass || d == Dimension::MassPerVolume) {
        BW_TRY(unit, unit::find_unit(d == Dimension::MassPerMass ? "meq/kg" : "meq/L"));
        typed.unit = unit;
    }
    return {};
}

/// What laboratories print as HCO3 is an alkalinity (common practice): says how to write it.
tl::unexpected<Problem> bicarbonate(const Fields& table) {
    const auto typed = table.quantity("HCO3", "mg/L");
    if (!typed) {
        return tl::make_unexpected(typed.error());
    }
    const unit::TypedQuantity& said = **typed;  // the key is there
    const Dimension d = said.unit.dimension;
    const bool mass = d == Dimension::MassPerMass || d == Dimension::MassPerVolume;
    const std::string as = !said.as.empty() ? " as " + said.as : mass ? " as HCO3" : "";
    return table.bad("HCO3",
                     fmt::format("HCO3 is one form among several: write alkalinity = \"{} {}{}\"; "
                                 "carbon or pH settles the rest",
                                 base::format_exact(said.number), said.unit.symbol, as),
                     ProblemCode::UnknownName);
}

/// A compound that laboratories print for one of the constituents.
struct PrintedFor {
    std::string_view compound, constituent;
};
constexpr auto kPrintedFor = std::to_array<PrintedFor>({{"SiO2", "Si"},
                                                        {"SiO3", "Si"},
                                                        {"IO3", "I"},
                                                        {"H3BO3", "B"},
                                                        {"B2O3", "B"},
                                                        {"CaCO3", "alkalinity"},
                                                        {"SO3", "SO4"},
                                                        {"P2O5", "PO4"}});

Result<matter::Constituent> constituent_named(const Fields& table, const std::string& key) {
    const auto printed = std::ranges::find(kPrintedFor, key, &PrintedFor::compound);
    if (printed != kPrintedFor.end()) {
        return table.bad(key,
                         fmt::format("amounts stand under their constituent: write {} = \"... mg/L "
                                     "as {}\"",
                                     printed->constituent, key),
                         ProblemCode::UnknownName);
    }
    constexpr auto kForms =
        std::to_array<std::string_view>({"CO3", "CO2", "OH", "H", "BOH4", "BOH3"});
    if (key == "HCO3") {
        return bicarbonate(table);
    }
    if (std::find(kForms.begin(), kForms.end(), key) != kForms.end()) {
        return table.bad(key,
                         fmt::format("{} is one form among several and follows from the others: "
                                     "state the totals alkalinity, carbon and B, or pH",
                                     key),
                         ProblemCode::UnknownName);
    }
    const auto c = matter::require_constituent(key);
    if (!c) {
        return table.placed(key, c.error());
    }
    return *c;
}

Result<std::vector<NamedAmount>> named_amounts(const Fields& table) {
    std::vector<NamedAmount> out;
    for (const auto& [key, node] : *table.self().table()) {
        if (std::find(kNotConstituents.begin(), kNotConstituents.end(), key) !=
            kNotConstituents.end()) {
            continue;
        }
        BW_TRY(c, constituent_named(table, key));
        BW_TRY(typed, table.quantity(key, "mmol/kg"));
        if (typed->number < 0 && !c.is_alkalinity()) {
            return table.bad(
                key, fmt::format("{} of {} is negative", base::quoted(typed->text), c.symbol()),
                ProblemCode::OutOfRange);
        }
        if (c.is_alkalinity()) {
            BW_CHECK(alkalinity_among_masses(node, *typed));
        }
        out.push_back({c, *typed, key});
    }
    return out;
}

bool names(const std::vector<NamedAmount>& named, std::string_view symbol) {
    return std::any_of(named.begin(), named.end(), [&](const NamedAmount& n) {
        return n.constituent == matter::constituent(symbol);
    });
}

Result<void> read_heads(const Fields& root, WaterSpec& spec) {
    BW_TRY(name, root.text("name"));
    spec.name = name.value_or("");
    BW_TRY(source, root.text("source"));
    spec.source = source.value_or("");
    BW_TRY(invented, root.flag("invented"));
    spec.invented = invented.value_or(false);
    BW_TRY(temperature, read_temperature(root));
    spec.input.temperature = temperature;
    return {};
}

void note_basis(const WaterOnBasis& water, WaterSpec& spec) {
    if (!water.litre) {
        return;
    }
    const brine::Estimate& density = *water.litre;
    spec.litre_kg_per_m3 = water.basis.density.value();
    constexpr double kWorthSaying_percent = 0.01;
    const double u = unit::kPercent * density.standard_uncertainty / density.value;
    if (density.extrapolated || u >= kWorthSaying_percent) {
        spec.notices.push_back(
            {"litre_density",
             fmt::format("Litres are turned with {} kg/L, the density by composition, which is "
                         "known to {} % here; so are the amounts that the file gives per litre. "
                         "State them per kg where that matters.",
                         base::format_places(density.value / 1000, 4),
                         base::format_significant(u, 1))});
    }
}

}  // namespace

Result<WaterSpec> read_water(const Document& document) {
    BW_TRY(root, open_kind(document, "water"));
    BW_CHECK(root.allow({"format", "kind", "name", "source", "invented", "note", "temperature",
                         "seawater", "constituents", "pH", "pH_scale", "pCO2"}));
    WaterSpec spec;
    BW_CHECK(read_heads(root, spec));
    BW_TRY(natural, salinity_of(root, "seawater", kSalinities));
    BW_TRY(table, root.table("constituents"));
    std::vector<NamedAmount> named;
    if (table) {
        BW_TRY(read, named_amounts(*table));
        named = read;
    }
    if (named.empty() && !natural) {
        return root.bad(table ? "constituents" : "",
                        "the water names no constituent: write seawater = \"35\", or a table "
                        "[constituents] with a unit");
    }
    const Fields& place = table ? *table : root;
    const matter::Amounts start =
        natural ? matter::reference_seawater(natural->g_per_kg) : matter::Amounts();
    BW_TRY(water, on_basis(place, named, start, spec.input.temperature));
    spec.input.mol_per_kg = water.mol_per_kg;
    note_basis(water, spec);
    BW_TRY(acid_base, stated_acid_base(root, table));
    BW_CHECK(close_balance(
        place, {names(named, "alkalinity"), names(named, "carbon"), natural.has_value(), acid_base},
        spec));
    spec.place = place.place("");
    if (spec.alkalinity_known) {
        matter::Amounts others = spec.input.mol_per_kg;
        if (spec.alkalinity_by_charge) {  // it must not hide an ion that is missing
            others[matter::constituent("alkalinity")] = 0;
        }
        BW_CHECK(check_charge(others, spec.place));
    }
    std::vector<matter::Constituent> constituents;
    constituents.reserve(named.size());
    for (const NamedAmount& n : named) {
        constituents.push_back(n.constituent);
    }
    const base::Notices doubts = doubtful_units(spec.input.mol_per_kg, constituents);
    spec.notices.insert(spec.notices.end(), doubts.begin(), doubts.end());
    return spec;
}

}  // namespace bw::io
