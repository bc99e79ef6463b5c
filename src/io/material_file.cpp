// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/material_file.hpp"

#include <algorithm>
#include <array>
#include <chrono>
#include <cmath>
#include <string>

#include <fmt/format.h>

#include "base/text.hpp"
#include "io/fields.hpp"
#include "recipe/target.hpp"
#include "ref/tables.hpp"
#include "unit/factors.hpp"

namespace bw::io {
namespace {

using matter::Material;
using unit::Dimension;

std::string earlier_place(const Place& place) {
    return place.line > 0 ? fmt::format("at line {}", place.line)
                          : fmt::format("at {}", place.field);
}

/// Checks the keys of a field that may be a table or a plain quantity.
Result<void> allow_in(const Fields& holder, std::string_view key,
                      std::initializer_list<std::string_view> keys) {
    const Node* node = holder.node(key);
    if (node == nullptr || node->table() == nullptr) {
        return {};
    }
    BW_TRY(table, holder.table(key));
    return table->allow(keys);
}

Result<matter::Assay> read_assay(const Fields& holder) {
    matter::Assay out;
    BW_CHECK(
        allow_in(holder, "assay", {"value", "u", "low", "high", "as", "basis", "unit", "note"}));
    BW_TRY(share, stated_share(holder, "assay"));
    if (!share.by_mass) {
        return holder.bad("assay", "an assay is a share by mass, such as 99.2 %",
                          ProblemCode::BadUnit);
    }
    out.share = share.stated;
    const Node* node = holder.node("assay");
    if (node->table() == nullptr) {
        return out;
    }
    BW_TRY(table, holder.table("assay"));
    BW_TRY(as, table->text("as"));
    out.as = as.value_or("");
    BW_TRY(basis, table->text("basis"));
    if (!basis) {
        return out;
    }
    if (*basis == "as is") {
        out.basis = matter::AssayBasis::AsIs;
    } else if (*basis == "dried") {
        out.basis = matter::AssayBasis::Dried;
    } else if (*basis == "ignited") {
        out.basis = matter::AssayBasis::Ignited;
    } else {
        return table->bad(
            "basis", fmt::format("{} is not a basis: write \"as is\", \"dried\" or \"ignited\"",
                                 base::quoted(*basis)));
    }
    return out;
}

Result<std::vector<matter::Component>> read_components(const Fields& holder, std::string_view key) {
    std::vector<matter::Component> out;
    BW_TRY(tables, holder.tables(key));
    for (const Fields& table : tables) {
        BW_CHECK(table.allow({"of", "value", "u", "low", "high", "below", "unit", "note"}));
        matter::Component component;
        BW_TRY(of, table.required_text("of"));
        component.of = of;
        BW_TRY(share, stated_share_in(table));
        component.amount = share.stated;
        component.by_mass = share.by_mass;
        component.below_reporting_limit = share.below;
        const bool twice = std::any_of(out.begin(), out.end(),
                                       [&](const matter::Component& c) { return c.of == of; });
        if (twice) {
            return table.bad("of", fmt::format("{} stands twice in {}", of, key),
                             ProblemCode::DuplicateName);
        }
        out.push_back(std::move(component));
    }
    return out;
}

Result<std::optional<matter::Stated>> read_loss(const Fields& holder, std::string_view key) {
    if (!holder.has(key)) {
        return std::nullopt;
    }
    BW_CHECK(allow_in(holder, key, {"value", "u", "low", "high", "below", "unit", "note"}));
    BW_TRY(share, stated_share(holder, key));
    if (!share.by_mass || share.stated.high >= 1) {
        return holder.bad(key, fmt::format("{} is a share by mass below 100 %", key),
                          ProblemCode::OutOfRange);
    }
    return share.stated;
}

/// The fields that a material and a lot share.
Result<void> read_common(const Fields& table, Material& m) {
    if (table.has("assay")) {
        BW_TRY(assay, read_assay(table));
        m.assay = assay;
    }
    BW_TRY(moisture, read_loss(table, "moisture"));
    m.moisture = moisture;
    BW_TRY(ignition, read_loss(table, "loss_on_ignition"));
    m.loss_on_ignition = ignition;
    BW_TRY(impurities, read_components(table, "impurities"));
    m.impurities = impurities;
    BW_TRY(composition, read_components(table, "composition"));
    m.composition = composition;
    BW_TRY(price, table.quantity("price", "EUR/kg"));
    if (price) {
        if (price->unit.dimension != Dimension::PricePerMass || price->number < 0) {
            return table.bad(
                "price",
                fmt::format("{} is not a price such as \"0.62 EUR/kg\"", base::quoted(price->text)),
                ProblemCode::BadUnit);
        }
        m.price_per_kg = price->value();
        m.currency = price->currency;
    }
    BW_TRY(package, table.value_in("package", Dimension::Mass));
    if (package && !(*package > 0)) {
        return table.bad("package", "a package must weigh more than 0", ProblemCode::OutOfRange);
    }
    m.package_kg = package;
    BW_TRY(stock, table.value_in("stock", Dimension::Mass));
    m.stock_kg = stock;
    return {};
}

/// Where a sieve table's line reaches a share, by the logarithm of the size.
double size_at(const std::vector<matter::SievePoint>& sieve, double finer) {
    std::size_t i = 1;
    while (i + 1 < sieve.size() && finer > sieve[i].finer) {
        ++i;
    }
    const auto &a = sieve[i - 1], &b = sieve[i];
    const double share = (finer - a.finer) / (b.finer - a.finer);
    return a.size_m * std::pow(b.size_m / a.size_m, share);
}

/// A sieve table: { size = "0.2 mm", finer = "12 %" } for each sieve.
Result<void> read_sieve(const Fields& grain, Material& m) {
    BW_CHECK(grain.allow({"sieve", "note"}));
    BW_TRY(tables, grain.tables("sieve"));
    matter::Grain out;
    for (const Fields& table : tables) {
        BW_CHECK(table.allow({"size", "finer", "note"}));
        BW_TRY(size, table.value_in("size", Dimension::Length));
        BW_TRY(share, stated_share(table, "finer"));
        const double finer = share.stated.value;
        if (!size || !(*size > 0) || !share.by_mass || share.stated.u > 0 || finer > 1) {
            return table.bad("",
                             "a sieve has a size above 0 and a share of 0 to 100 % that is finer",
                             ProblemCode::OutOfRange);
        }
        const bool end =
            !out.sieve.empty() && finer == out.sieve.back().finer && (finer == 0 || finer == 1);
        if (end && *size > out.sieve.back().size_m) {  // sheets name all sieves: the nearest counts
            if (finer == 0) {
                out.sieve.back().size_m = *size;
            }
            continue;
        }
        if (!out.sieve.empty() &&
            (*size <= out.sieve.back().size_m || finer <= out.sieve.back().finer)) {
            return table.bad("", "sieves stand in rising order of size and of what is finer",
                             ProblemCode::OutOfRange);
        }
        out.sieve.push_back({*size, finer});
    }
    const auto between = std::count_if(out.sieve.begin(), out.sieve.end(), [](const auto& point) {
        return point.finer > 0 && point.finer < 1;
    });
    if (between < 2) {
        return grain.bad("sieve", "two sieves at least pass between 0 and 100 % of the material",
                         ProblemCode::OutOfRange);
    }
    constexpr double kLowest = 0.1, kMiddle = 0.5, kHighest = 0.9;
    out.d10_m = size_at(out.sieve, kLowest);
    out.d50_m = size_at(out.sieve, kMiddle);
    out.d90_m = size_at(out.sieve, kHighest);
    m.grain = std::move(out);
    return {};
}

Result<void> read_grain(const Fields& holder, Material& m) {
    BW_TRY(table, holder.table("grain"));
    if (table && table->has("sieve")) {
        BW_CHECK(read_sieve(*table, m));
    } else if (table) {
        BW_CHECK(table->allow({"d10", "d50", "d90", "unit", "note"}));
        BW_TRY(d10, table->value_in("d10", Dimension::Length));
        BW_TRY(d50, table->value_in("d50", Dimension::Length));
        BW_TRY(d90, table->value_in("d90", Dimension::Length));
        if (!d10 || !d50 || !d90 || !(*d10 > 0) || *d10 > *d50 || *d50 > *d90) {
            return table->bad("", "grain needs d10, d50 and d90, above 0 and in rising order",
                              ProblemCode::OutOfRange);
        }
        m.grain = matter::Grain{*d10, *d50, *d90};
    }
    constexpr double kFinest_m = 1e-7, kCoarsest_m = 0.1;
    if (m.grain && (m.grain->d10_m < kFinest_m || m.grain->d90_m > kCoarsest_m)) {
        return table->bad("", "grains of salts lie between 0.1 um and 100 mm: look at the units",
                          ProblemCode::OutOfRange);
    }
    BW_TRY(density_typed, holder.quantity("density", "g/cm3"));
    if (density_typed) {
        const bool per_litre = density_typed->unit.dimension == Dimension::MassPerVolume;
        if (density_typed->unit.dimension != Dimension::Density && !per_litre) {
            return holder.bad("density",
                              fmt::format("{} is not a density", base::quoted(density_typed->text)),
                              ProblemCode::BadUnit);
        }
        m.density_kg_per_m3 = density_typed->value() * (per_litre ? unit::kLitrePerM3 : 1);
        constexpr double kLightest = 100, kHeaviest = 23000;  // kg/m3: foams to the heaviest metal
        if (!(*m.density_kg_per_m3 >= kLightest) || *m.density_kg_per_m3 > kHeaviest) {
            return holder.bad("density",
                              "a solid's density lies between 0.1 and 23 g/cm3: look at the unit",
                              ProblemCode::OutOfRange);
        }
    }
    return {};
}

Result<void> check_hazards(const Fields& table, const Material& m) {
    const auto rows = ref::hazard_statements();
    for (const std::string& code : m.hazards) {
        const bool known =
            std::any_of(rows.begin(), rows.end(),
                        [&](const ref::HazardStatement& h) { return h.code == code; });
        if (!known) {
            return table.bad(
                "hazards",
                fmt::format("{} is not a hazard statement on file: write codes such as H319",
                            base::quoted(code)),
                ProblemCode::UnknownName);
        }
    }
    return {};
}

Result<Material> read_material(const Fields& table) {
    BW_CHECK(table.allow(
        {"name",       "formula",     "grade",   "assay", "moisture", "loss_on_ignition",
         "impurities", "composition", "balance", "price", "package",  "whole_packages",
         "stock",      "step",        "least",   "most",  "grain",    "density",
         "hazards",    "cautions",    "role",    "note"}));
    Material m;
    BW_TRY(name, table.required_text("name"));
    m.name = name;
    BW_TRY(formula, table.text("formula"));
    m.formula = formula.value_or("");
    BW_TRY(grade, table.text("grade"));
    m.grade = grade.value_or("");
    BW_CHECK(read_common(table, m));
    BW_TRY(balance, table.text("balance"));
    m.balance = balance.value_or("");
    BW_TRY(whole, table.flag("whole_packages"));
    m.whole_packages = whole.value_or(false);
    if (m.whole_packages && !m.package_kg) {
        return table.bad("whole_packages",
                         "whole packages need a package, such as package = \"25 kg\"");
    }
    BW_TRY(step, table.value_in("step", Dimension::Mass));
    if (step && !(*step > 0)) {
        return table.bad("step", "a weighing step must be above 0", ProblemCode::OutOfRange);
    }
    m.step_kg = step;
    BW_TRY(least, table.value_in("least", Dimension::MassPerMass));
    BW_TRY(most, table.value_in("most", Dimension::MassPerMass));
    if (least && *least > recipe::kHighestDose) {
        return table.bad("least", "least is above 400 g/kg, more than any finished water holds",
                         ProblemCode::OutOfRange);
    }
    if (least && most && *least > *most) {
        return table.bad("least", "least is above most", ProblemCode::OutOfRange);
    }
    m.least_kg_per_kg = least;
    m.most_kg_per_kg = most;
    BW_CHECK(read_grain(table, m));
    BW_TRY(hazards, table.texts("hazards"));
    m.hazards = hazards;
    BW_CHECK(check_hazards(table, m));
    BW_TRY(cautions, table.texts("cautions"));
    m.cautions = cautions;
    BW_TRY(role, table.text("role"));
    m.role = role.value_or("");
    constexpr auto kRoles =
        std::to_array<std::string_view>({"", "major", "minor", "trace", "premix"});
    if (std::find(kRoles.begin(), kRoles.end(), m.role) == kRoles.end()) {
        return table.bad("role",
                         fmt::format("{} is not a role: write major, minor, trace or premix",
                                     base::quoted(m.role)));
    }
    return m;
}

/// What only matters to who receives the lot.
Result<void> read_receipt(const Fields& table, PlacedLot& lot) {
    BW_TRY(supplier, table.text("supplier"));
    lot.supplier = supplier.value_or("");
    BW_TRY(use_by, table.text("use_by"));
    lot.use_by = use_by.value_or("");
    if (use_by && !is_day(*use_by)) {
        return table.bad("use_by", not_a_day(*use_by));
    }
    if (const Node* stock = table.node("stock"); stock != nullptr && stock->text() != nullptr) {
        lot.stock = *stock->text();
    }
    return {};
}

bool has_day_shape(std::string_view text) {
    constexpr std::string_view kShape = "0000-00-00";
    if (text.size() != kShape.size()) {
        return false;
    }
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (kShape[i] == '-' ? text[i] != '-' : !base::is_digit(text[i])) {
            return false;
        }
    }
    return true;
}

}  // namespace

std::string not_a_day(std::string_view text) {
    return has_day_shape(text)
               ? fmt::format("the day {} does not exist: look at month and day", text)
               : fmt::format("{} is no day: write it as \"2027-06-30\"", base::quoted(text));
}

bool is_day(std::string_view text) {
    if (!has_day_shape(text)) {
        return false;
    }
    const auto part = [&](std::size_t from, std::size_t count) {
        return std::stoi(std::string(text.substr(from, count)));
    };
    const std::chrono::year_month_day day{std::chrono::year(part(0, 4)),
                                          std::chrono::month(static_cast<unsigned>(part(5, 2))),
                                          std::chrono::day(static_cast<unsigned>(part(8, 2)))};
    return day.ok();
}

Result<std::vector<PlacedMaterial>> read_materials(const Document& document) {
    BW_TRY(root, open_kind(document, "materials"));
    BW_CHECK(root.allow({"format", "kind", "name", "invented", "note", "material"}));
    BW_TRY(tables, root.tables("material"));
    if (tables.empty()) {
        return root.bad("", "the file lists no material: add [[material]] tables");
    }
    if (tables.size() > kMostMaterials) {
        return tables[kMostMaterials].bad(
            "name",
            fmt::format("the file lists {} materials: at most {} are solved for", tables.size(),
                        kMostMaterials),
            ProblemCode::TooLarge);
    }
    std::vector<PlacedMaterial> out;
    for (const Fields& table : tables) {
        BW_TRY(material, read_material(table));
        for (const PlacedMaterial& earlier : out) {
            if (earlier.material.name == material.name) {
                return table.bad(
                    "name",
                    fmt::format("a material named {} stands {} already",
                                base::quoted(material.name), earlier_place(earlier.place)),
                    ProblemCode::DuplicateName);
            }
        }
        const auto made = matter::make_up(material);
        if (!made) {
            return table.placed("", made.error());
        }
        out.push_back({std::move(material), *made, table.place("name")});
    }
    return out;
}

Result<std::vector<PlacedLot>> read_lots(const Document& document) {
    BW_TRY(root, open_kind(document, "lots"));
    BW_CHECK(root.allow({"format", "kind", "name", "invented", "note", "lot"}));
    BW_TRY(tables, root.tables("lot"));
    if (tables.empty()) {
        return root.bad("", "the file lists no lot: add [[lot]] tables");
    }
    std::vector<PlacedLot> out;
    for (const Fields& table : tables) {
        BW_CHECK(table.allow({"material", "number", "state", "assay", "composition", "moisture",
                              "loss_on_ignition", "impurities", "price", "package", "stock",
                              "supplier", "use_by", "note"}));
        PlacedLot lot;
        lot.table = &table.self();
        BW_TRY(material, table.required_text("material"));
        lot.differs.name = material;
        BW_TRY(number, table.required_text("number"));
        lot.differs.lot = number;
        BW_TRY(state, table.text("state"));
        lot.state = state.value_or("accepted");
        constexpr auto kStates = std::to_array<std::string_view>(
            {"received", "on hold", "accepted", "refused", "used up"});
        if (std::find(kStates.begin(), kStates.end(), lot.state) == kStates.end()) {
            return table.bad("state", fmt::format("{} is not a state of a lot: write received, on "
                                                  "hold, accepted, refused or used up",
                                                  base::quoted(lot.state)));
        }
        BW_CHECK(read_common(table, lot.differs));
        BW_CHECK(read_receipt(table, lot));
        for (const PlacedLot& earlier : out) {
            if (earlier.differs.lot == number && earlier.differs.name == material) {
                return table.bad("number",
                                 fmt::format("lot {} stands {} already", base::quoted(number),
                                             earlier_place(earlier.place)),
                                 ProblemCode::DuplicateName);
            }
        }
        lot.place = table.place("number");
        lot.supplier_place = table.place("supplier");
        out.push_back(std::move(lot));
    }
    return out;
}

}  // namespace bw::io
