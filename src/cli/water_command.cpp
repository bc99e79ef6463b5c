// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/water_command.hpp"

#include <optional>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/answer.hpp"
#include "cli/water_output.hpp"
#include "unit/unit_table.hpp"

namespace bw::cli {
namespace {

/// "20 degC"; nothing when it is not asked for.
Result<std::optional<unit::Celsius>> temperature_of(const std::string& text) {
    if (text.empty()) {
        return std::nullopt;
    }
    const Place place{"", 0, "--temperature"};
    auto typed = unit::parse_quantity(text, "degC");
    if (!typed) {
        Problem problem = typed.error();
        problem.place = place;
        return tl::make_unexpected(std::move(problem));
    }
    if (typed->unit.dimension != unit::Dimension::Temperature) {
        return fail(ProblemCode::BadUnit,
                    fmt::format("{} is not a temperature: write, for example, \"20 degC\"",
                                base::quoted(text)),
                    place);
    }
    const unit::Celsius asked(typed->value());
    if (!(asked >= brine::kModelColdest && asked <= brine::kModelWarmest)) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("{} degC is outside 0 to 40 degC, where the model holds",
                                base::format_exact(typed->value())),
                    place);
    }
    return asked;
}

/// A file of kind "water" among several may go without the materials.
Result<service::WaterReport> report_of(const std::string& path,
                                       const std::vector<std::string>& materials,
                                       const std::string& temperature, bool among_several) {
    service::WaterRequest request;
    BW_TRY(document, io::read_document(path));
    request.water = std::move(document);
    BW_TRY(read, io::read_documents(materials));
    if (io::is_kind(request.water, "recipe") || !among_several) {
        request.materials = std::move(read);
    }
    BW_TRY(asked, temperature_of(temperature));
    request.temperature = asked;
    return service::show_water(request);
}

}  // namespace

int water_show(const WaterShowArguments& a, const Streams& streams) {
    const auto report = report_of(a.water, a.materials, a.temperature, false);
    if (!report) {
        return complain_of(report.error(), streams);
    }
    if (!a.csv.empty()) {
        std::vector<std::string> read = a.materials;
        read.push_back(a.water);
        if (const auto written =
                write_files({{"--csv", a.csv, io::delimited(water_sheet_rows(*report))}}, read);
            !written) {
            return complain_of(written.error(), streams);
        }
    }
    if (a.json) {
        put(water_json(*report), streams);
    } else if (!a.quiet) {
        put(water_text(*report), streams);
    }
    return 0;
}

int water_compare(const WaterCompareArguments& a, const Streams& streams) {
    const auto first = report_of(a.first, a.materials, a.temperature, true);
    if (!first) {
        return complain_of(first.error(), streams);
    }
    const auto second = report_of(a.second, a.materials, a.temperature, true);
    if (!second) {
        return complain_of(second.error(), streams);
    }
    if (a.json) {
        put(compare_json(*first, *second), streams);
    } else if (!a.quiet) {
        put(compare_text(*first, *second), streams);
    }
    return 0;
}

}  // namespace bw::cli
