// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <span>
#include <string>
#include <vector>

#include "service/desk.hpp"
#include "works/departure.hpp"
#include "works/weighing.hpp"

namespace bw::service {

/// Departures about a batch, its samples and weighings.
[[nodiscard]] Result<std::vector<works::Departure>> departures_of(const store::Books& books,
                                                                  const std::string& number);

/// What became of the step that a departure is about since it was raised: each weighing that was
/// corrected, with what it is corrected to, by whom, when and why.
[[nodiscard]] Result<std::vector<std::string>> remarks_on(
    const store::Books& books, const works::Departure& departure,
    std::span<const works::Weighing> weighings);

/// The same, with the weighings of its batch as the books have them.
[[nodiscard]] Result<std::vector<std::string>> remarks_on(const store::Books& books,
                                                          const works::Departure& departure);

/// Each weighing that was corrected, with what it is corrected to, by whom, when and why.
[[nodiscard]] Result<std::vector<std::string>> corrections_of(
    const store::Books& books, std::span<const works::Weighing> weighings);

[[nodiscard]] Result<store::Receipt> raise_departure(const Desk& desk, works::Departure departure,
                                                     const Intent& intent);
[[nodiscard]] Result<store::Receipt> answer_departure(const Desk& desk, const std::string& number,
                                                      const std::string& answer,
                                                      const Intent& intent);
[[nodiscard]] Result<store::Receipt> close_departure(const Desk& desk, const std::string& number,
                                                     const Intent& intent);

}  // namespace bw::service
