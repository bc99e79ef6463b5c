// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "service/filing.hpp"
#include "service/record_text.hpp"
#include "store/books.hpp"
#include "works/person.hpp"
#include "works/signature.hpp"

namespace bw::service {

/// Who acts, in whose books, where and when.
struct Desk {
    store::Books* books = nullptr;
    works::Person person;
    std::string device;
    std::string at;  ///< ISO 8601, UTC, with milliseconds

    [[nodiscard]] std::string day() const { return at.substr(0, kDayLength); }
    [[nodiscard]] int year() const;
    static constexpr std::size_t kDayLength = 10;
};

/// What the caller says of one act.
struct Intent {
    std::string request;  ///< made once for one intention, sent again with a retry
    std::string why;
    std::string asked =
        {};  ///< SHA-256 of the order as given; empty: repeats are not held against it
};

/// A record as read, with the version it was read at.
template <class T>
struct Kept {
    T is;
    std::int64_t version = 0;
};

/// Errors   NotFound with what was looked for; those of the store.
template <class T>
[[nodiscard]] Result<Kept<T>> kept(const store::Books& books, const std::string& id) {
    BW_TRY(record, books.newest(kKind<T>, id));
    BW_TRY(value, read_record<T>(record.body));
    return Kept<T>{std::move(value), record.version};
}

/// A record if there is one.
template <class T>
[[nodiscard]] Result<std::optional<Kept<T>>> if_kept(const store::Books& books,
                                                     const std::string& id) {
    auto found = kept<T>(books, id);
    if (found) {
        return std::optional<Kept<T>>(std::move(*found));
    }
    if (found.error().code == ProblemCode::NotFound) {
        return std::optional<Kept<T>>();
    }
    return tl::make_unexpected(found.error());
}

/// All newest records of a kind that a query chooses, at most its limit.
template <class T>
[[nodiscard]] Result<std::vector<Kept<T>>> kept_list(const store::Books& books,
                                                     store::ListQuery query) {
    query.kind = kKind<T>;
    query.with_bodies = true;
    BW_TRY(rows, books.list(query));
    std::vector<Kept<T>> out;
    for (const store::Listed& row : rows) {
        BW_TRY(value, read_record<T>(row.body));
        out.push_back({std::move(value), row.version});
    }
    return out;
}

/// The next version of a record as the store takes it.
template <class T>
[[nodiscard]] store::Write write_of(const T& record, std::int64_t supersedes) {
    store::Write out = filing_of(record);
    out.kind = kKind<T>;
    out.expected_version = supersedes;
    out.body = record_text(record);
    return out;
}

template <class T>
[[nodiscard]] store::Expect expect_same(const Kept<T>& record) {
    return {kKind<T>, filing_of(record.is).id, record.version};
}

/// What an act is called and about.
struct ActName {
    works::Deed deed;
    std::string_view act;  ///< "lot receive"
    std::string subject_kind, subject_id;
};

/// Does one act: finds the duty for it, lets `decide` read, decide and say what to write, and
/// commits. Where somebody else wrote one of the records meanwhile, it decides anew, a few times.
///
/// Errors   Refused without the duty; those of decide and of the store; Conflict when others kept
///          writing.
using Decide = std::function<Result<void>(store::Change& change)>;
[[nodiscard]] Result<store::Receipt> act(const Desk& desk, const ActName& name,
                                         const Intent& intent, const Decide& decide);

/// Whether a request that was done before was this act of this person about this subject (an empty
/// subject is any), on the same order.
///
/// Errors   Refused when its number was used for another.
[[nodiscard]] Result<void> check_repeat(const Desk& desk, const store::Receipt& receipt,
                                        const ActName& name, const Intent& intent);

/// Whether what an act was refused for may be what another server did of the same request while
/// this one decided: anything but a fault of the disk or of the books.
[[nodiscard]] bool may_be_done(const Problem& problem);

/// Does what was asked for once: a request that was done before, or is done by another server
/// while `anew` works, gets the first receipt.
///
/// Errors   those of check_repeat, of `anew` and of the store.
[[nodiscard]] Result<store::Receipt> done_once(const Desk& desk, const ActName& name,
                                               const Intent& intent,
                                               const std::function<Result<store::Receipt>()>& anew);

/// What a signer gives.
struct Signing {
    std::string password;
    std::string shown = {};  ///< content mark of the record that was looked at, 16 digits or more;
                             ///< empty: as it is (of batches' changes and of runs)
};

/// A signature under bytes; its meaning is what the paper and the trail say of it: "released".
///
/// Errors   Refused for a wrong password (with the time to wait, if any), and without the duty.
[[nodiscard]] Result<works::Signature> sign(const Desk& desk, works::Deed deed,
                                            std::string_view meaning, const Signing& signing,
                                            std::string_view bytes);

/// The change holds only while nothing new comes into a series ("R": runs of results).
[[nodiscard]] Result<void> expect_none_new(const Desk& desk, std::string_view letters,
                                           store::Change& change);

/// Gives the next identifier of a series ("B" of 2026) and adds the series' write to a change.
[[nodiscard]] Result<std::string> next_identifier(const Desk& desk, std::string_view letters,
                                                  store::Change& change);

}  // namespace bw::service
