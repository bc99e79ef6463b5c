// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/departure.hpp"

#include <algorithm>
#include <array>
#include <utility>

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::works {

std::string_view name(DepartureState state) {
    constexpr std::array<std::string_view, kWords<DepartureState>> kNames = {"open", "answered",
                                                                             "closed"};
    return kNames.at(static_cast<std::size_t>(state));
}

std::string_view name(Concern concern) {
    constexpr std::array<std::string_view, kWords<Concern>> kNames = {"making", "samples",
                                                                      "charges", "fault"};
    return kNames.at(static_cast<std::size_t>(concern));
}

std::string about_words(const Departure& departure) {
    return departure.about == Concern::Making ? ""
                                              : fmt::format(" about its {}", name(departure.about));
}

Result<Departure> answered(Departure departure, std::string_view by, std::string_view answer) {
    if (departure.state == DepartureState::Closed) {
        return fail(ProblemCode::Refused, fmt::format("departure {} is closed", departure.number));
    }
    if (base::trim(answer).empty()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("departure {} needs an answer: what happened, what it did to the "
                                "batch, what was done",
                                departure.number),
                    {"", 0, "answer"});
    }
    if (!departure.answered_by.empty() && departure.answered_by != by) {
        departure.answered_before.push_back(departure.answered_by);
    }
    departure.state = DepartureState::Answered;
    departure.answer = answer;
    departure.answered_by = by;
    return departure;
}

Result<Departure> closed(Departure departure, std::string_view by, std::vector<std::string> over) {
    if (departure.state != DepartureState::Answered) {
        return fail(ProblemCode::Refused,
                    fmt::format("departure {} is {}: it is closed once it is answered",
                                departure.number, name(departure.state)));
    }
    const auto& before = departure.answered_before;
    if (departure.answered_by == by ||
        std::find(before.begin(), before.end(), by) != before.end()) {
        return fail(
            ProblemCode::Refused,
            fmt::format("{} answered departure {}: somebody else closes it", by, departure.number));
    }
    departure.state = DepartureState::Closed;
    departure.closed_by = by;
    departure.over = std::move(over);
    return departure;
}

}  // namespace bw::works
