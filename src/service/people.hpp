// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "service/desk.hpp"
#include "works/site.hpp"

namespace bw::service {

/// Fills new books: the site, and the first administrator with a password.
///
/// Errors   Refused when there are people already; BadInput for the person or the password.
[[nodiscard]] Result<store::Receipt> begin_books(store::Books& books, const works::Site& site,
                                                 const works::Person& first,
                                                 const std::string& password,
                                                 const std::string& at);

/// Adds a person, or changes name and duties of one; the password, where one is given, is set with
/// it. A stopped one is active again, which the receipt's answer says, and needs a new password.
///
/// Errors   Refused, on field "request", for a number that was used before where the password is
///          not the one in use: the trail keeps nothing that two orders could be told apart by.
[[nodiscard]] Result<store::Receipt> set_person(const Desk& desk, const works::Person& person,
                                                const std::string& password, const Intent& intent);

/// Stops a person: password and sessions end, what they did stays theirs.
[[nodiscard]] Result<store::Receipt> stop_person(const Desk& desk, const std::string& id,
                                                 const Intent& intent);

/// A password in the place of one's own.
struct PasswordChange {
    std::string current, next;
    std::string session = {};  ///< token of the session that goes on; empty: none
};

/// Changes the password of the person at the desk. Their other sessions end; the trail keeps that
/// it was done, and neither password.
///
/// Errors   Refused for a current password that is not right (with the time to wait, if any);
///          BadInput for a new one that is the current one, or too short or long; Refused, on field
///          "request", as set_person() has it.
[[nodiscard]] Result<store::Receipt> change_password(const Desk& desk, const PasswordChange& to,
                                                     const Intent& intent);

/// The desk of whoever knows a password, or holds the token of a session.
///
/// Errors   Refused.
[[nodiscard]] Result<Desk> desk_by_password(store::Books& books, const std::string& person,
                                            const std::string& password, const std::string& device,
                                            const std::string& at);
[[nodiscard]] Result<Desk> desk_by_session(store::Books& books, const std::string& token,
                                           const std::string& at);

[[nodiscard]] Result<works::Site> site_of(const store::Books& books);

}  // namespace bw::service
