// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/import_order.hpp"

#include <nlohmann/json.hpp>

#include "http/acts.hpp"
#include "http/answers.hpp"
#include "service/reading_doubts.hpp"
#include "service/remark_text.hpp"

namespace bw::http {
namespace {

using Json = nlohmann::ordered_json;

Json preview_json(const io::ResultPreview& preview) {
    Json lines = Json::array();
    for (const io::PreviewLine& line : preview.lines) {
        lines.push_back({{"analyte", line.analyte},
                         {"wavelength", line.wavelength},
                         {"unit", line.unit},
                         {"readings", line.readings},
                         {"below_limit", line.below_limit},
                         {"over_range", line.over_range},
                         {"lowest", line.lowest},
                         {"highest", line.highest}});
    }
    Json rows = Json::array();
    for (const io::PreviewRow& row : preview.first_rows) {
        rows.push_back({{"row", row.row}, {"sample", row.sample}, {"values", row.values}});
    }
    Json notices = Json::array();
    for (const base::Notice& notice : preview.notices) {
        notices.push_back(notice.text);
    }
    return {{"encoding", preview.encoding},
            {"separator", preview.separator},
            {"decimal_sign", preview.decimal_sign},
            {"samples", preview.samples},
            {"readings", preview.readings},
            {"blanks", preview.blanks},
            {"checks", preview.checks},
            {"not_tested", preview.not_tested},
            {"lines", lines},
            {"first_rows", rows},
            {"notices", notices}};
}

}  // namespace

std::vector<service::ResultEntry> result_entries(Order& order) {
    std::vector<service::ResultEntry> entries;
    for (Order& one : order.list("results")) {
        service::ResultEntry entry;
        entry.portion = one.text_or("portion");
        entry.check_sample = one.text_or("check_sample");
        entry.analyte = one.text("analyte");
        entry.method = one.text("method");
        entry.digits = one.text("digits");
        entry.unit = one.text_or("unit");
        entry.dilution = one.text_or("dilution");
        entry.read_at = one.text_or("read_at");
        entry.blank = one.text_or("blank");
        entries.push_back(std::move(entry));
    }
    return entries;
}

Result<Response> preview_entry(const Request& request, const Caller& caller) {
    BW_TRY(order, Order::of(request.body));
    const std::vector<service::ResultEntry> entries = result_entries(order);
    BW_CHECK(order.end());
    BW_TRY(run, service::preview_run(caller.desk, entries));
    BW_TRY(remarks, service::duplicates_of_run(*caller.desk.books, run));
    BW_TRY(doubts, service::doubts_of_run(*caller.desk.books, run));
    const Json out = {{"version", 1},
                      {"duplicates", Json::parse(service::remark_text(remarks))},
                      {"far_from_wanted", Json::parse(service::remark_text(doubts))}};
    return json_answer(out.dump(-1, ' ', false, Json::error_handler_t::replace));
}

Result<service::ImportOrder> import_order(Order& order) {
    service::ImportOrder out;
    out.file_name = order.text("file_name");
    const std::string base64 = order.text("base64");
    out.map = order.text("map");
    out.batch = order.text_or("batch");
    out.method = order.text_or("method");
    for (Order& one : order.list("methods")) {
        std::string analyte = one.text("analyte");
        out.methods.emplace_back(std::move(analyte), one.text("method"));
    }
    for (Order& one : order.list("portions")) {
        std::string name = one.text("name");
        out.portions.emplace_back(std::move(name), one.text("portion"));
    }
    BW_CHECK(order.end());
    BW_TRY(bytes, bytes_of(base64, "base64"));
    out.bytes = std::move(bytes);
    return out;
}

Result<Response> preview_import(const Request& request, const Caller& caller) {
    BW_TRY(order, Order::of(request.body));
    BW_TRY(import, import_order(order));
    BW_TRY(plan, service::plan_import(caller.desk, import));
    Json out = {{"version", 1},
                {"committable", plan.committable()},
                {"problems", plan.problems},
                {"notes", plan.notes},
                {"preview", preview_json(plan.preview)},
                {"unplaced", plan.unplaced},
                {"duplicates", Json::parse(service::remark_text(plan.duplicates))},
                {"far_from_wanted", Json::parse(service::remark_text(plan.far_from_wanted))},
                {"run", Json::object()}};
    if (!plan.run.results.empty()) {
        out["run"] = Json::parse(service::record_text(plan.run));
    }
    return json_answer(out.dump(-1, ' ', false, Json::error_handler_t::replace));
}

}  // namespace bw::http
