// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "service/desk.hpp"
#include "works/departure.hpp"

namespace bw::service {

/// Departures about a batch, its samples and weighings.
[[nodiscard]] Result<std::vector<works::Departure>> departures_of(const store::Books& books,
                                                                  const std::string& number);

[[nodiscard]] Result<store::Receipt> raise_departure(const Desk& desk, works::Departure departure,
                                                     const Intent& intent);
[[nodiscard]] Result<store::Receipt> answer_departure(const Desk& desk, const std::string& number,
                                                      const std::string& answer,
                                                      const Intent& intent);
[[nodiscard]] Result<store::Receipt> close_departure(const Desk& desk, const std::string& number,
                                                     const Intent& intent);

}  // namespace bw::service
