// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/vat_words.hpp"

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "io/document.hpp"
#include "unit/factors.hpp"

namespace bw::cli {

using unit::Dimension;

Result<BlendInHand> parse_blend(const std::optional<std::string>& anhydrous,
                                const SaltOptions& salt) {
    if (anhydrous) {
        constexpr double kLeast = 0.001;
        BW_TRY(read, parse_share("--anhydrous", *anhydrous, kLeast, 1,
                                 "a share of salt free of water, from 0.1 to 100 %"));
        return BlendInHand{{read.value, read.u.value_or(0)},
                           "stated",
                           read.u ? ""
                                  : "The share of salt counts as exact: write \"95 +- 0.3 %\" to "
                                    "have its uncertainty counted."};
    }
    BW_TRY(share, salt_share_from_options(salt));
    if (share) {
        return BlendInHand{
            {*share, 0},
            "recipe",
            fmt::format("Salt free of water {} % of the blend, from the recipe's materials; its "
                        "uncertainty is not counted unless you state --anhydrous.",
                        base::format_places(*share * unit::kPercent, 1))};
    }
    return BlendInHand{{},
                       "assumed",
                       "The blend is taken as free of water; a blend with hydrates (MgCl2.6H2O, "
                       "MgSO4.7H2O, CaCl2.2H2O) needs more: state --anhydrous."};
}

Result<double> parse_weighing(std::string_view text) {
    constexpr double kMost = 0.1;
    BW_TRY(read, parse_share("--weighing", text, 0, kMost,
                             "a standard uncertainty of a weighing, from 0 to 10 %"));
    return read.value;
}

Result<brine::Added> parse_concentrate(std::string_view text) {
    BW_TRY(read, parse_measured("--concentrate", text, {Dimension::MassPerMass}));
    constexpr double kMost = 0.4;  // kg/kg; no sea salt dissolves so far
    if (!(read.value > 0 && read.value <= kMost)) {
        return fail(ProblemCode::OutOfRange,
                    "a concentrate holds above 0 and at most 400 g/kg, not " + base::quoted(text),
                    {"", 0, "--concentrate"});
    }
    return brine::Added{read.value, read.u.value_or(0)};
}

Result<brine::PurifiedWater> parse_purified(std::string_view at, std::string_view solids,
                                            unit::Celsius vat) {
    brine::PurifiedWater out{vat, {}};
    if (!solids.empty()) {
        BW_TRY(part, parse_plain("--purified-solids", solids, {Dimension::MassPerMass}));
        out.solids = unit::GramPerKg(part * unit::kGramPerKg);
        constexpr double kMost = 42;  // g/kg, of the density below
        if (!(out.solids.value() >= 0 && out.solids.value() <= kMost)) {
            return fail(ProblemCode::OutOfRange,
                        "purified water holds 0 to 42 g/kg, not " + base::quoted(solids),
                        {"", 0, "--purified-solids"});
        }
    }
    if (!at.empty()) {
        BW_TRY(t, parse_celsius("--purified-at", at));
        out.temperature = t;
        auto litres = brine::litres_of_water(1, out);
        if (!litres) {
            return in_field("--purified-at", std::move(litres).error());
        }
    }
    return out;
}

Result<double> parse_water_kg(std::string_view field, std::string_view text,
                              const brine::PurifiedWater& water) {
    BW_CHECK(parse_plain(field, text, {Dimension::Volume, Dimension::Mass}));
    BW_TRY(amount, parse_measured(field, text, {Dimension::Volume, Dimension::Mass}));
    if (amount.dimension == Dimension::Mass) {
        return amount.value;
    }
    BW_TRY(per_kg, brine::litres_of_water(1, water));
    return amount.value / per_kg;
}

Result<brine::Vat> parse_vat(const brine::SaltLaw& law, std::string_view volume,
                             std::string_view mass, unit::GramPerKg dissolved,
                             unit::Celsius temperature) {
    if (volume.empty() == mass.empty()) {
        return fail(ProblemCode::BadInput, "give the vat by --volume or by --mass, one of them");
    }
    if (!mass.empty()) {
        BW_TRY(kg, parse_plain("--mass", mass, {Dimension::Mass}));
        if (!(kg > 0)) {
            return fail(ProblemCode::OutOfRange, "a mass is above 0", {"", 0, "--mass"});
        }
        return brine::Vat{kg, dissolved, temperature};
    }
    BW_TRY(litres, parse_plain("--volume", volume, {Dimension::Volume}));
    auto out = brine::vat_of_volume(law, litres, dissolved, temperature);
    if (!out) {
        return in_field("--volume", std::move(out).error());
    }
    return out;
}

namespace {

bool is_file(std::string_view text) { return text.ends_with(".toml") || text.ends_with(".json"); }

}  // namespace

Result<WaterInHand> parse_water(const brine::SaltLaw& law, std::string_view phrase,
                                unit::Celsius usual, const std::vector<std::string>& materials) {
    const std::string field = base::quoted(phrase);
    constexpr std::string_view kOf = " of ";
    constexpr std::string_view kAt = ", at ";
    const auto of = phrase.find(kOf);
    if (of == std::string_view::npos) {
        return fail(ProblemCode::BadInput,
                    "a water is written \"600 L of 30, at 25 degC\" or \"600 L of water.toml\"",
                    {"", 0, field});
    }
    const std::string_view amount = base::trim(phrase.substr(0, of));
    std::string_view rest = phrase.substr(of + kOf.size());
    std::optional<unit::Celsius> t;
    if (const auto at = rest.rfind(kAt); at != std::string_view::npos) {
        BW_TRY(stated, parse_celsius(field, rest.substr(at + kAt.size())));
        t = stated;
        rest = rest.substr(0, at);
    }
    rest = base::trim(rest);
    BW_TRY(read, parse_measured(field, amount, {Dimension::Volume, Dimension::Mass}));
    if (!(read.value > 0)) {
        return fail(ProblemCode::OutOfRange, "the amount of a water is above 0", {"", 0, field});
    }
    WaterInHand out;
    brine::Vat& vat = out.in.vat;
    if (is_file(rest)) {
        BW_TRY(request, water_request(std::string(rest), materials));
        if (!io::is_kind(request.water, "recipe")) {
            request.materials.clear();  // those are of another water, which is one
        }
        request.temperature = t;
        BW_TRY(part, service::water_part(request));
        vat.dissolved = part.dissolved;
        vat.temperature = part.temperature;
        out.in.law = part.law.get();
        out.file = std::move(part);
    } else {
        BW_TRY(strength, parse_salinity(field, rest, law));
        vat.dissolved = strength.dissolved;
        vat.temperature = t.value_or(usual);
        out.in.u_dissolved_g_per_kg = strength.u_g_per_kg;
    }
    auto one_litre = brine::vat_of_volume(out.in.law != nullptr ? *out.in.law : law, 1,
                                          vat.dissolved, vat.temperature);
    if (!one_litre) {
        return in_field(field, std::move(one_litre).error());
    }
    const double kg = read.dimension == Dimension::Mass ? 1 : one_litre->mass_kg;
    vat.mass_kg = read.value * kg;
    out.in.u_mass_kg = read.u.value_or(0) * kg;
    return out;
}

}  // namespace bw::cli
