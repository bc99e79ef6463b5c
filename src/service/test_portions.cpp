// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "service/batch_file.hpp"
#include "service/tests.hpp"
#include "service/wanted_water.hpp"
#include "unit/factors.hpp"
#include "unit/unit_table.hpp"

namespace bw::service {
namespace {

constexpr std::int64_t kMostPortions = 10000;

Problem in_field(Problem problem, std::string_view field) {
    if (problem.place.field.empty()) {
        problem.place.field = field;
    }
    return problem;
}

Result<unit::TypedQuantity> typed(std::string_view field, const std::string& text,
                                  unit::Dimension dimension) {
    const auto quantity = unit::parse_quantity(text, unit::example_unit(dimension));
    if (!quantity) {
        return tl::make_unexpected(in_field(quantity.error(), field));
    }
    if (quantity->unit.dimension != dimension) {
        return fail(ProblemCode::BadUnit,
                    fmt::format("{} is not {}", base::quoted(text), unit::describe(dimension)),
                    {"", 0, std::string(field)});
    }
    return *quantity;
}

Result<double> number_in(std::string_view field, const std::string& text) {
    const auto number = base::parse_number(text);
    if (!number) {
        return tl::make_unexpected(in_field(number.error(), field));
    }
    return *number;
}

struct Mass {
    double g = 0, u_g = 0;
};

Result<Mass> mass_in(std::string_view field, const std::string& text) {
    BW_TRY(quantity, typed(field, text, unit::Dimension::Mass));
    const double g_per_unit = quantity.unit.factor * unit::kGramPerKg;
    return Mass{quantity.value() * unit::kGramPerKg, works::u_of_last_digit(text) * g_per_unit};
}

/// A density as people write it, in kg/L or in g/cm3.
Result<double> density_kg_per_L(const std::string& text) {
    const auto quantity = unit::parse_quantity(text, "kg/L");
    if (quantity && quantity->unit.dimension == unit::Dimension::MassPerVolume) {
        return quantity->value();
    }
    BW_TRY(density, typed("density", text, unit::Dimension::Density));
    return density.value() / unit::kLitrePerM3;
}

Result<works::TestPortion> portion_of(const Desk& desk, const PortionEntry& entry) {
    works::TestPortion out;
    out.sample = entry.sample;
    out.salt = entry.salt;
    out.water = entry.water;
    BW_TRY(salt, mass_in("salt", entry.salt));
    BW_TRY(water, mass_in("water", entry.water));
    out.salt_g = salt.g;
    out.u_salt_g = salt.u_g;
    out.water_g = water.g;
    out.u_water_g = water.u_g;
    out.strength_by = entry.strength_by;
    out.salinity = entry.salinity;
    if (!entry.salinity.empty()) {
        BW_TRY(salinity, number_in("salinity", entry.salinity));
        out.practical_salinity = salinity;
    }
    if (!entry.salinity_u.empty()) {
        BW_TRY(u, number_in("salinity_u", entry.salinity_u));
        out.u_salinity = u;
    }
    if (!entry.temperature.empty()) {
        BW_TRY(t, typed("temperature", entry.temperature, unit::Dimension::Temperature));
        out.temperature_degC = t.value();
    }
    if (!entry.density.empty()) {
        BW_TRY(density, density_kg_per_L(entry.density));
        out.density_kg_per_L = density;
    }
    out.by = desk.person.id;
    out.at = desk.at;
    return out;
}

/// What was read is about what the weighed masses make: else it is a slip of the pen, or another
/// water.
Result<void> check_salinity(const works::TestPortion& portion,
                            const works::WantedStrength& wanted) {
    constexpr double kMost = 1.3;  // moisture, a poor refractometer and a faulty batch stay below
    if (portion.strength_by == works::StrengthBy::DryMass) {
        return {};
    }
    const double rate = portion.salt_g / portion.water_g * unit::kGramPerKg;
    const double made = works::reading(wanted, portion.strength_by) * rate / wanted.g_per_kg_water;
    if (portion.practical_salinity > kMost * made || portion.practical_salinity * kMost < made) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("the salinity read is {}, and {} in {} of water make about {:.1f}: "
                                "check the reading, the masses and the sample",
                                portion.salinity, portion.salt, portion.water, made),
                    {"", 0, "salinity"});
    }
    return {};
}

/// A portion is dissolved at about the batch's own rate.
Result<void> check_rate(const works::TestPortion& portion, double g_per_kg_water) {
    constexpr double kMost = 2;
    const double rate = portion.salt_g / portion.water_g * unit::kGramPerKg;
    if (rate > kMost * g_per_kg_water || rate * kMost < g_per_kg_water) {
        constexpr int kDigits = 4;
        return fail(
            ProblemCode::OutOfRange,
            fmt::format("{} in {} is {} g per kg of water, and the batch is dissolved at {}: "
                        "check both masses and their units (half to twice that is taken)",
                        portion.salt, portion.water, base::format_short(rate, kDigits),
                        base::format_short(g_per_kg_water, kDigits)),
            {"", 0, "salt"});
    }
    return {};
}

}  // namespace

Result<store::Receipt> keep_portion(const Desk& desk, const PortionEntry& entry,
                                    const Intent& intent) {
    BW_CHECK(works::duty_for(desk.person, works::Deed::EnterResults));
    BW_TRY(portion, portion_of(desk, entry));
    BW_CHECK(works::check(portion));
    return act(desk, {works::Deed::EnterResults, "sample portion", kKind<works::TestPortion>, ""},
               intent, [&](store::Change& change) -> Result<void> {
                   BW_TRY(sample, kept<works::Sample>(*desk.books, entry.sample));
                   BW_TRY(batch, kept<works::Batch>(*desk.books, sample.is.batch));
                   portion.batch = sample.is.batch;
                   if (portion.salt_g > sample.is.mass_g) {
                       return fail(ProblemCode::OutOfRange,
                                   fmt::format("{} of salt are more than the {} that sample {} "
                                               "weighs: look at both",
                                               portion.salt, sample.is.mass, entry.sample),
                                   {"", 0, "salt"});
                   }
                   BW_CHECK(check_rate(portion, batch.is.blend_g_per_kg_purified_water));
                   BW_TRY(wanted, wanted_water_of(*desk.books, batch.is));
                   BW_CHECK(check_salinity(portion, wanted.strength));
                   store::ListQuery query;
                   query.kind = kKind<works::TestPortion>;
                   query.id_prefix = entry.sample + "/";
                   BW_TRY(before, desk.books->count(query));
                   portion.number = before + 1;
                   using enum works::BatchState;
                   if (batch.is.state == UnderTest) {
                       change.expects.push_back(expect_same(batch));
                   } else {
                       BW_TRY(next, works::moved(batch.is, UnderTest));
                       change.writes.push_back(write_of(next, batch.version));
                   }
                   if (sample.is.state == works::SampleState::Taken) {
                       sample.is.state = works::SampleState::UnderTest;
                       change.writes.push_back(write_of(sample.is, sample.version));
                   } else if (sample.is.state == works::SampleState::UsedUp) {
                       return fail(ProblemCode::Refused,
                                   fmt::format("sample {} is used up", entry.sample));
                   } else {
                       change.expects.push_back(expect_same(sample));
                   }
                   change.act.subject_id = portion.id();
                   change.writes.push_back(write_of(portion, 0));
                   change.answer = portion.id();
                   return {};
               });
}

Result<store::Receipt> set_portion_aside(const Desk& desk, const std::string& id,
                                         const Intent& intent) {
    return act(
        desk,
        {works::Deed::CheckResults, "sample set-portion-aside", kKind<works::TestPortion>, id},
        intent, [&](store::Change& change) -> Result<void> {
            BW_TRY(portion, kept<works::TestPortion>(*desk.books, id));
            BW_TRY(runs, runs_of(*desk.books, portion.is.batch));
            std::vector<std::string> in_use;
            for (const auto& run : runs) {
                change.expects.push_back(expect_same(run));
                for (const works::TestResult& r : run.is.results) {
                    if (r.portion == id && r.state != works::ResultState::SetAside) {
                        in_use.push_back(fmt::format("{}/{}", run.is.number, r.line));
                    }
                }
            }
            BW_CHECK(expect_none_new(desk, "R", change));
            BW_TRY(next,
                   works::set_aside(portion.is, in_use, {desk.person.id, desk.at, intent.why}));
            change.writes.push_back(write_of(next, portion.version));
            // A batch that waited for this portion alone is as ready as it was before.
            BW_TRY(batch, kept<works::Batch>(*desk.books, portion.is.batch));
            if (batch.is.state == works::BatchState::UnderTest) {
                BW_TRY(tested, is_tested(*desk.books, portion.is.batch));
                if (tested) {
                    BW_TRY(ready, works::moved(batch.is, works::BatchState::Ready));
                    change.writes.push_back(write_of(ready, batch.version));
                    return {};
                }
            }
            change.expects.push_back(expect_same(batch));
            return {};
        });
}

Result<std::vector<Kept<works::TestPortion>>> portions_of(const store::Books& books,
                                                          const std::string& batch) {
    store::ListQuery query;
    query.pointing_to = store::Link{"tests", kKind<works::Batch>, batch};
    query.limit = kMostPortions;
    return kept_list<works::TestPortion>(books, query);
}

}  // namespace bw::service
