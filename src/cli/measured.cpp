// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/measured.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "unit/factors.hpp"

namespace bw::cli {
namespace {

/// Where the uncertainty starts, and how long its sign is.
std::pair<std::size_t, std::size_t> sign_of_uncertainty(std::string_view text) {
    for (const std::string_view sign : {std::string_view("+-"), std::string_view("\u00B1")}) {
        if (const auto at = text.find(sign); at != std::string_view::npos) {
            return {at, sign.size()};
        }
    }
    return {std::string_view::npos, 0};
}

/// Where the number at the start ends.
std::size_t end_of_number(std::string_view text) {
    const auto end = text.find_first_not_of("+-.0123456789,eE\u2212");
    return std::min(end, text.size());
}

Result<Measured> without_uncertainty(std::string_view text) {
    Measured out;
    if (end_of_number(text) == text.size()) {
        BW_TRY(number, base::parse_number(text));
        out.value = number;
        return out;
    }
    BW_TRY(typed, unit::parse_quantity(text, ""));
    if (!typed.as.empty() || !typed.currency.empty()) {
        return fail(ProblemCode::BadUnit,
                    fmt::format("{} is not a plain quantity", base::quoted(text)));
    }
    out.value = typed.value();
    out.dimension = typed.unit.dimension;
    return out;
}

tl::unexpected<Problem> unused_uncertainty(std::string_view field, std::string_view text) {
    return fail(
        ProblemCode::BadInput,
        fmt::format("the uncertainty in {} would not be used: leave it out", base::quoted(text)),
        {"", 0, std::string(field)});
}

}  // namespace

tl::unexpected<Problem> in_field(std::string_view field, Problem problem) {
    if (problem.place.field.empty()) {
        problem.place.field = std::string(field);
    }
    return tl::make_unexpected(std::move(problem));
}

Result<Measured> parse_measured(std::string_view text) {
    const std::string_view body = base::trim(text);
    const auto [at, length] = sign_of_uncertainty(body);
    if (at == std::string_view::npos) {
        return without_uncertainty(body);
    }
    const std::string_view before = base::trim(body.substr(0, at));
    const std::string_view after = base::trim(body.substr(at + length));
    BW_TRY(u_number, base::parse_number(after.substr(0, end_of_number(after))));
    if (!(u_number > 0)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the uncertainty in {} is above 0", base::quoted(text)));
    }
    const std::string_view symbol = base::trim(after.substr(end_of_number(after)));
    Measured out;
    if (symbol.empty()) {
        BW_TRY(number, base::parse_number(before));
        out.value = number;
        out.u = u_number;
        return out;
    }
    BW_TRY(number, base::parse_number(before));
    BW_TRY(unit, unit::find_unit(symbol));
    out.value = unit.factor * number + unit.offset;
    out.u = unit.factor * u_number;
    out.dimension = unit.dimension;
    return out;
}

Result<Measured> parse_measured(std::string_view field, std::string_view text,
                                std::initializer_list<unit::Dimension> allowed) {
    auto read = parse_measured(text);
    if (!read) {
        return in_field(field, std::move(read).error());
    }
    if (read->dimension &&
        std::find(allowed.begin(), allowed.end(), *read->dimension) != allowed.end()) {
        return *read;
    }
    std::vector<std::string> kinds;
    for (const unit::Dimension d : allowed) {
        kinds.emplace_back(unit::describe(d));
    }
    return fail(ProblemCode::BadUnit,
                fmt::format("{} {}: needed is {}", base::quoted(text),
                            read->dimension ? "is of another kind" : "has no unit",
                            base::join_words(kinds, "or")),
                {"", 0, std::string(field)});
}

Result<double> parse_plain(std::string_view field, std::string_view text,
                           std::initializer_list<unit::Dimension> allowed) {
    BW_TRY(read, parse_measured(field, text, allowed));
    if (read.u) {
        return unused_uncertainty(field, text);
    }
    return read.value;
}

Result<unit::Celsius> parse_celsius(std::string_view field, std::string_view text) {
    BW_TRY(degC, parse_plain(field, text, {unit::Dimension::Temperature}));
    return unit::Celsius(degC);
}

Result<unit::Celsius> parse_celsius(std::string_view field, std::string_view text,
                                    const brine::SaltLaw& law) {
    BW_TRY(t, parse_celsius(field, text));
    auto known = law.density_kg_per_m3(unit::GramPerKg(0), t);
    if (!known) {
        return in_field(field, std::move(known).error());
    }
    return t;
}

Result<Measured> parse_share(std::string_view field, std::string_view text, double least,
                             double most, std::string_view allowed) {
    BW_TRY(read, parse_measured(field, text, {unit::Dimension::Fraction}));
    if (!(read.value >= least && read.value <= most)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("{} is not {}", base::quoted(text), allowed),
                    {"", 0, std::string(field)});
    }
    if (read.u.value_or(0) >= 1) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the uncertainty in {} is below 100 %", base::quoted(text)),
                    {"", 0, std::string(field)});
    }
    return read;
}

Result<Strength> parse_salinity(std::string_view field, std::string_view text,
                                const brine::SaltLaw& law) {
    auto read = parse_measured(text);
    if (!read) {
        return in_field(field, std::move(read).error());
    }
    if (!read->dimension) {
        auto dissolved = brine::dissolved_of(law, unit::PracticalSalinity(read->value));
        if (!dissolved) {
            return in_field(field, std::move(dissolved).error());
        }
        // Practical salinity and g/kg run together within half a percent: enough for an
        // uncertainty.
        return Strength{*dissolved, read->u.value_or(0)};
    }
    if (*read->dimension == unit::Dimension::MassPerMass) {
        return Strength{unit::GramPerKg(read->value * unit::kGramPerKg),
                        read->u.value_or(0) * unit::kGramPerKg};
    }
    return fail(ProblemCode::BadUnit,
                fmt::format("{} is not a salinity: write \"35\" for practical salinity or "
                            "\"35.165 g/kg\" for dissolved salt",
                            base::quoted(text)),
                {"", 0, std::string(field)});
}

Result<unit::GramPerKg> parse_wanted(std::string_view field, std::string_view text,
                                     const brine::SaltLaw& law) {
    BW_TRY(strength, parse_salinity(field, text, law));
    if (strength.u_g_per_kg > 0) {
        return unused_uncertainty(field, text);
    }
    return strength.dissolved;
}

Result<double> in_unit(std::string_view field, std::string_view text, std::string_view unit,
                       std::string_view example) {
    const std::string_view body = base::trim(text);
    if (!body.ends_with(unit)) {
        return fail(ProblemCode::BadUnit,
                    fmt::format("{} is not in {}: write, for example, \"{}\"", base::quoted(text),
                                unit, example),
                    {"", 0, std::string(field)});
    }
    const auto number = base::parse_number(base::trim(body.substr(0, body.size() - unit.size())));
    return number ? Result<double>(*number) : in_field(field, number.error());
}

}  // namespace bw::cli
