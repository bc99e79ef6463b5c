// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <span>
#include <string>
#include <vector>

#include "works/assessment.hpp"
#include "works/wanted_strength.hpp"

namespace bw::works {

/// A record that a decision rests on, pinned by its content.
struct Pinned {
    std::string kind, id;
    std::int64_t version = 0;
    std::string content;  ///< SHA-256 of what counts of its text

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("kind", x.kind);
        v("id", x.id);
        v("version", x.version);
        v("content", x.content);
    }
};

/// All that a release decision was based on, as it was shown to who signed it.
struct Evidence {
    std::string batch;
    std::string product;
    std::string recipe;
    std::int64_t limits_number = 0;
    std::string rule;
    std::optional<WantedStrength> wanted;  ///< none where an earlier version decided
    double wanted_practical_salinity = 0;  ///< of an earlier version, with the dose
    double wanted_g_per_kg_water = 0;
    Assessment assessment;
    std::vector<std::string> open_items;
    std::vector<Pinned> records;  ///< by kind and id
    std::string program, data_digest;

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("batch", x.batch);
        v("product", x.product);
        v("recipe", x.recipe);
        v("limits_number", x.limits_number);
        v("rule", x.rule);
        v("wanted", x.wanted);
        v("wanted_practical_salinity", x.wanted_practical_salinity);
        v("wanted_g_per_kg_water", x.wanted_g_per_kg_water);
        v("assessment", x.assessment);
        v("open_items", x.open_items);
        v("records", x.records);
        v("program", x.program);
        v("data_digest", x.data_digest);
    }
};

/// What of the records has changed since they were pinned, a sentence each: other content, gone, or
/// new. Nothing: the evidence stands.
[[nodiscard]] std::vector<std::string> changed_since(std::span<const Pinned> signed_then,
                                                     std::span<const Pinned> now);

/// Puts records in the one order that the signed text has.
void sort_pinned(std::vector<Pinned>& records);

}  // namespace bw::works
