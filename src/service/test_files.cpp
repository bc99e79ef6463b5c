// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/test_files.hpp"

#include <fmt/format.h>

#include "base/text.hpp"
#include "io/fields.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

Result<double> percent_of(const io::Fields& table, std::string_view key, double otherwise) {
    BW_TRY(share, table.value_in(key, unit::Dimension::Fraction));
    return share ? *share * unit::kPercent : otherwise;
}

Result<double> share_of(const io::Fields& table, std::string_view key, double otherwise) {
    BW_TRY(share, table.value_in(key, unit::Dimension::Fraction));
    return share.value_or(otherwise);
}

/// An enumeration's word, or what stands otherwise.
template <class E>
Result<E> word_of(const io::Fields& table, std::string_view key, E otherwise) {
    BW_TRY(word, table.text(key));
    if (!word) {
        return otherwise;
    }
    const auto value = works::from_word<E>(*word);
    if (!value) {
        return table.bad(key, fmt::format("{} is not known: write {}", base::quoted(*word),
                                          works::all_words<E>()));
    }
    return *value;
}

Result<std::vector<works::CheckSample>> check_samples_of(const io::Fields& root) {
    BW_TRY(tables, root.tables("check_sample"));
    std::vector<works::CheckSample> out;
    for (const io::Fields& table : tables) {
        BW_CHECK(table.allow({"name", "analyte", "value", "within"}));
        BW_TRY(name, table.required_text("name"));
        BW_TRY(analyte, table.required_text("analyte"));
        BW_TRY(value, table.required_text("value"));
        BW_TRY(within, percent_of(table, "within", 0));
        out.push_back({name, analyte, value, within});
    }
    return out;
}

Problem in_file(Problem problem, const io::Document& file) {
    if (problem.place.file.empty()) {
        problem.place.file = file.name;
    }
    return problem;
}

}  // namespace

Result<works::Method> read_method(const io::Document& file) {
    BW_TRY(root, io::open_kind(file, "method"));
    BW_CHECK(root.allow({"format", "kind", "id", "title", "analytes", "measures", "unit", "u",
                         "repeatability", "between_runs", "source", "checked_until", "state",
                         "outside_laboratory", "check_sample", "invented"}));
    works::Method out;
    BW_TRY(id, root.required_text("id"));
    BW_TRY(title, root.required_text("title"));
    BW_TRY(analytes, root.texts("analytes"));
    BW_TRY(measures, root.text("measures"));
    BW_TRY(unit, root.required_text("unit"));
    BW_TRY(u, percent_of(root, "u", 0));
    BW_TRY(repeatability, percent_of(root, "repeatability", 0));
    BW_TRY(between_runs, percent_of(root, "between_runs", 0));
    BW_TRY(source, root.required_text("source"));
    BW_TRY(until, root.text("checked_until"));
    BW_TRY(state, word_of(root, "state", works::ServiceState::InService));
    BW_TRY(outside, root.flag("outside_laboratory"));
    BW_TRY(checks, check_samples_of(root));
    out.checks = checks;
    out.id = id;
    out.title = title;
    out.analytes = analytes;
    out.measures = measures.value_or("");
    out.unit = unit;
    out.u_percent = u;
    out.repeatability_percent = repeatability;
    out.between_runs_percent = between_runs;
    out.source = source;
    out.checked_until = until.value_or("");
    out.state = state;
    out.outside_laboratory = outside.value_or(false);
    const auto good = works::check(out);
    if (!good) {
        return tl::make_unexpected(in_file(good.error(), file));
    }
    return out;
}

Result<works::Limits> read_limits(const io::Document& file) {
    BW_TRY(root, io::open_kind(file, "limits"));
    BW_CHECK(root.allow({"format", "kind", "product", "percent", "rule", "width", "least",
                         "joint_least", "sampling", "band", "invented"}));
    works::Limits out;
    BW_TRY(product, root.required_text("product"));
    BW_TRY(percent, percent_of(root, "percent", out.percent));
    BW_TRY(rule, word_of(root, "rule", out.rule));
    BW_TRY(width, root.number("width"));
    BW_TRY(least, share_of(root, "least", out.least));
    BW_TRY(joint, share_of(root, "joint_least", out.joint_least));
    BW_TRY(sampling, percent_of(root, "sampling", 0));
    BW_TRY(bands, root.tables("band"));
    out.sampling_percent = sampling;
    out.product = product;
    out.percent = percent;
    out.rule = rule;
    out.width = width.value_or(out.width);
    out.least = least;
    out.joint_least = joint;
    for (const io::Fields& table : bands) {
        BW_CHECK(table.allow({"symbol", "percent", "low", "high"}));
        works::Band band;
        BW_TRY(symbol, table.required_text("symbol"));
        BW_TRY(own, percent_of(table, "percent", 0));
        BW_TRY(low, table.text("low"));
        BW_TRY(high, table.text("high"));
        band.symbol = symbol;
        band.percent = own;
        band.low = low.value_or("");
        band.high = high.value_or("");
        out.bands.push_back(std::move(band));
    }
    const auto good = works::check(out);
    if (!good) {
        return tl::make_unexpected(in_file(good.error(), file));
    }
    return out;
}

}  // namespace bw::service
