// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <vector>

#include "io/document.hpp"
#include "service/desk.hpp"

namespace bw::service {

/// Real books take nothing that says of itself that it is invented.
///
/// Errors   Refused for a file marked `invented = true` in books that are not marked so.
[[nodiscard]] Result<void> refuse_invented(const store::Books& books, const io::Document& file);

/// Takes the materials of a file into the books; one that is there already gets a new version when
/// it differs.
///
/// Errors   those of io::read_materials and refuse_invented.
[[nodiscard]] Result<store::Receipt> keep_materials(const Desk& desk, const io::Document& file,
                                                    const Intent& intent);

/// Registers a scale, or changes one.
[[nodiscard]] Result<store::Receipt> keep_scale(const Desk& desk, const works::Scale& scale,
                                                const Intent& intent);

/// Receives the lots of a file, each on hand as "received" whatever state the file gives, or
/// held when its supplier is on watch or past its review (the answer says so, a line for each); the
/// certificate, where there is one, goes to all of them.
///
/// Errors   those of io::read_lots and refuse_invented; NotFound for a material or a supplier that
/// is not in the
///          books; BadInput without a stock or a supplier; those of works::admitted; Conflict for a
///          number that is there already.
[[nodiscard]] Result<store::Receipt> receive_lots(const Desk& desk, const io::Document& file,
                                                  const std::vector<store::Attachment>& certificate,
                                                  const Intent& intent);

/// Accepts, refuses or holds a lot, or says that it is used up.
[[nodiscard]] Result<store::Receipt> judge_lot(const Desk& desk, const std::string& number,
                                               works::LotState to, const Intent& intent);

}  // namespace bw::service
