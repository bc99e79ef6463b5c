// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/vat_words.hpp"

#include "base/text.hpp"
#include "unit/factors.hpp"

namespace bw::cli {

using unit::Dimension;

Result<brine::Blend> parse_blend(std::string_view text) {
    BW_TRY(read, parse_measured("--anhydrous", text, {Dimension::Fraction}));
    return brine::Blend{read.value, read.u.value_or(0)};
}

Result<brine::PurifiedWater> parse_purified(std::string_view at, std::string_view solids,
                                            unit::Celsius vat) {
    brine::PurifiedWater out{vat, {}};
    if (!at.empty()) {
        BW_TRY(t, parse_celsius("--purified-at", at));
        out.temperature = t;
    }
    if (!solids.empty()) {
        BW_TRY(read, parse_measured("--purified-solids", solids, {Dimension::MassPerMass}));
        out.solids = unit::GramPerKg(read.value * unit::kGramPerKg);
    }
    return out;
}

Result<brine::Vat> parse_vat(const brine::SaltLaw& law, std::string_view volume,
                             std::string_view mass, unit::GramPerKg dissolved,
                             unit::Celsius temperature) {
    if (volume.empty() == mass.empty()) {
        return fail(ProblemCode::BadInput, "give the vat by --volume or by --mass, one of them");
    }
    if (!mass.empty()) {
        BW_TRY(read, parse_measured("--mass", mass, {Dimension::Mass}));
        if (!(read.value > 0)) {
            return fail(ProblemCode::OutOfRange, "a mass is above 0", {"", 0, "--mass"});
        }
        return brine::Vat{read.value, dissolved, temperature};
    }
    BW_TRY(read, parse_measured("--volume", volume, {Dimension::Volume}));
    auto out = brine::vat_of_volume(law, read.value, dissolved, temperature);
    if (!out) {
        return in_field("--volume", std::move(out).error());
    }
    return out;
}

Result<brine::Vat> parse_water(const brine::SaltLaw& law, std::string_view phrase,
                               unit::Celsius usual) {
    const std::string field = base::quoted(phrase);
    constexpr std::string_view kOf = " of ";
    constexpr std::string_view kAt = ", at ";
    const auto of = phrase.find(kOf);
    if (of == std::string_view::npos) {
        return fail(ProblemCode::BadInput, "a water is written \"600 L of 30, at 25 degC\"",
                    {"", 0, field});
    }
    const std::string_view amount = base::trim(phrase.substr(0, of));
    std::string_view rest = phrase.substr(of + kOf.size());
    unit::Celsius t = usual;
    if (const auto at = rest.find(kAt); at != std::string_view::npos) {
        BW_TRY(stated, parse_celsius(field, rest.substr(at + kAt.size())));
        t = stated;
        rest = rest.substr(0, at);
    }
    BW_TRY(strength, parse_salinity(field, base::trim(rest), law));
    BW_TRY(read, parse_measured(field, amount, {Dimension::Volume, Dimension::Mass}));
    if (read.dimension == Dimension::Mass) {
        return brine::Vat{read.value, strength.dissolved, t};
    }
    auto out = brine::vat_of_volume(law, read.value, strength.dissolved, t);
    if (!out) {
        return in_field(field, std::move(out).error());
    }
    return out;
}

}  // namespace bw::cli
