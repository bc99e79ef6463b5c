// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/facts.hpp"

#include <charconv>
#include <set>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "base/text.hpp"
#include "store/digest.hpp"

namespace bw::store {
namespace {

using nlohmann::json;

std::string shortest(const std::optional<double>& value) {
    return value ? fmt::format("{}", *value) : std::string();
}

std::optional<double> number_of(const std::string& text) {
    double value = 0;
    const auto read = std::from_chars(text.data(), text.data() + text.size(), value);
    return read.ec == std::errc{} ? std::optional<double>(value) : std::nullopt;
}

json row_of(const Measurement& m) {
    return json::array({m.analyte, m.sample, m.batch, m.run, m.line, m.at, m.digits,
                        shortest(m.value), shortest(m.u), m.unit, m.state});
}

Measurement measurement_of(const json& row) {
    std::size_t column = 0;
    const auto next = [&]() -> const json& { return row.at(column++); };
    Measurement m;
    next().get_to(m.analyte);
    next().get_to(m.sample);
    next().get_to(m.batch);
    next().get_to(m.run);
    next().get_to(m.line);
    next().get_to(m.at);
    next().get_to(m.digits);
    m.value = number_of(next().get_ref<const std::string&>());
    m.u = number_of(next().get_ref<const std::string&>());
    next().get_to(m.unit);
    next().get_to(m.state);
    return m;
}

}  // namespace

Facts facts_of(const Write& write) {
    std::set<std::string> keys{base::lower_ascii(write.id)};
    for (const std::string& key : write.keys) {
        keys.insert(base::lower_ascii(key));
    }
    return {{keys.begin(), keys.end()}, write.links, write.measurements};
}

std::string facts_text(const Facts& facts) {
    json links = json::array();
    for (const Link& link : facts.links) {
        links.push_back(json::array({link.role, link.kind, link.id}));
    }
    json rows = json::array();
    for (const Measurement& m : facts.measurements) {
        rows.push_back(row_of(m));
    }
    const json all = {{"keys", facts.keys}, {"links", links}, {"measurements", rows}};
    return all.dump();
}

Result<Facts> read_facts(std::string_view text) {
    const json parsed = json::parse(text, nullptr, false);
    if (!parsed.is_object()) {
        return fail(ProblemCode::BrokenBooks, "what a record states is no JSON object");
    }
    try {
        Facts facts;
        parsed.at("keys").get_to(facts.keys);
        for (const json& link : parsed.at("links")) {
            facts.links.push_back({link.at(0), link.at(1), link.at(2)});
        }
        for (const json& row : parsed.at("measurements")) {
            facts.measurements.push_back(measurement_of(row));
        }
        return facts;
    } catch (const json::exception&) {
        return fail(ProblemCode::BrokenBooks, "what a record states lacks a part");
    }
}

std::string facts_digest(std::string_view state, std::string_view title, std::string_view facts) {
    return sha256_hex(fmt::format("{}\n{}\n{}", state, title, facts));
}

}  // namespace bw::store
