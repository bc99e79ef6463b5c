// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "http/import_map.hpp"

#include <nlohmann/json.hpp>

#include "http/acts.hpp"
#include "http/answers.hpp"
#include "http/order.hpp"
#include "service/import_map.hpp"

namespace bw::http {
namespace {

using Json = nlohmann::ordered_json;

Result<service::MapOrder> map_order(Order& order) {
    service::MapOrder out;
    out.file_name = order.text("file_name");
    const std::string base64 = order.text("base64");
    out.map = order.text_or("map");
    out.name = order.text_or("name");
    out.decimal_sign = order.text_or("decimal_sign");
    out.dilution_applied = order.text_or("dilution_applied");
    out.head_row = order.whole_or("head_row", 0);
    out.first_row = order.whole_or("first_row", 0);
    if (order.has("unit_row")) {
        out.unit_row = order.whole("unit_row");
    }
    out.date_form = order.text_or("date_form");
    out.method = order.text_or("method");
    if (order.has("check_samples")) {
        out.check_samples = order.texts("check_samples");
    }
    for (Order& one : order.list("columns")) {
        service::ColumnChoice choice;
        choice.column = one.text("column");
        choice.role = one.text("role");
        choice.analyte = one.text_or("analyte");
        choice.wavelength = one.text_or("wavelength");
        choice.unit = one.text_or("unit");
        out.columns.push_back(std::move(choice));
    }
    BW_CHECK(order.end());
    BW_TRY(bytes, bytes_of(base64, "base64"));
    out.bytes = std::move(bytes);
    return out;
}

Json columns_json(const std::vector<service::MappedColumn>& columns) {
    Json out = Json::array();
    for (const service::MappedColumn& c : columns) {
        out.push_back({{"column", c.column},
                       {"head", c.head},
                       {"role", c.role},
                       {"analyte", c.analyte},
                       {"wavelength", c.wavelength},
                       {"unit", c.unit},
                       {"stated_unit", c.stated_unit}});
    }
    return out;
}

}  // namespace

Result<Response> show_map(const Request& request, const Caller& caller) {
    BW_TRY(body, Order::of(request.body));
    BW_TRY(order, map_order(body));
    BW_TRY(shown, service::propose_map(caller.desk, order));
    const std::string applied = !shown.dilution_applied   ? ""
                                : *shown.dilution_applied ? "yes"
                                                          : "no";
    Json between = Json::array();
    for (const service::TableRow& row : shown.between) {
        between.push_back({{"row", row.row}, {"cells", row.cells}});
    }
    const Json out = {{"version", 1},
                      {"map", shown.map},
                      {"problem", shown.problem},
                      {"from", shown.from},
                      {"name", shown.name},
                      {"decimal_sign", shown.decimal_sign},
                      {"dilution_applied", applied},
                      {"head_row", shown.head_row},
                      {"unit_row", shown.unit_row},
                      {"first_row", shown.first_row},
                      {"date_form", shown.date_form},
                      {"check_samples", shown.check_samples},
                      {"between", between},
                      {"columns", columns_json(shown.columns)},
                      {"rows", shown.rows},
                      {"remarks", shown.remarks},
                      {"head", shown.head}};
    return json_answer(out.dump(-1, ' ', false, Json::error_handler_t::replace));
}

}  // namespace bw::http
