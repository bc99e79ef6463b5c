// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "base/result.hpp"
#include "store/record.hpp"

namespace bw::store {

class Connection;

enum class Mode : std::uint8_t { ReadWrite, ReadOnly };

/// Puts something between the books and a connection to their database: the tests let it fail
/// there.
using Between = std::function<std::unique_ptr<Connection>(std::unique_ptr<Connection>)>;

struct OpenOptions {
    Mode mode = Mode::ReadWrite;
    int wait_ms = 5000;    ///< how long to wait for another writer before saying so
    Between between = {};  ///< empty: nothing is between
};

/// What a look through the books found. Each fault is one sentence with its place.
struct Verification {
    std::int64_t entries = 0, records = 0, attachments = 0, requests = 0;
    std::string mark;                 ///< of the newest entry
    std::vector<std::string> faults;  ///< the first kMostFaults of them
    std::int64_t fault_count = 0;
    std::vector<std::string> notices;  ///< odd, yet no fault: a clock that went back
    [[nodiscard]] bool sound() const { return fault_count == 0; }
};

struct VerifyOptions {
    std::optional<std::string> against;  ///< a printed trail mark that must still be inside
    bool projections = true;             ///< lists, links, keys and measurements beside the records
    bool pages = true;                   ///< the file's own structure (SQLite)
};

struct Counts {
    std::vector<std::pair<std::string, std::int64_t>> kinds;  ///< records (newest versions) by kind
    std::int64_t entries = 0, records = 0, attachments = 0, requests = 0, links = 0,
                 measurements = 0;
    bool operator==(const Counts&) const = default;
};

/// A copy of the books, or its rehearsal.
struct Copy {
    std::string folder;
    std::string mark;
    Counts counts;
    std::string sha256;  ///< of books.db
};

struct PasswordCheck {
    bool right = false;
    std::int64_t failures = 0;  ///< in a row
    std::string wait_until;     ///< instant before which no attempt is looked at; empty: none
    bool stopped = false;       ///< until an administrator sets the password anew or resets
    std::string of = {};        ///< of a right one: which secret it opened; for Secret::replaces
};

struct Session {
    std::string person, device, opened, used, ends;
};

/// The works' books: records, their trail, attachments; one path to write them.
///
/// Definition   `where` is a folder (the books are books.db in it: SQLite) or a connection string
///              postgresql://... (secrets belong into a password file, not into the string).
/// Threads      all functions may be called from several threads at once; writes wait for each
///              other, reads do not.
/// Errors       Disk: disk, network, another process that writes. NotFound: nothing of that name.
///              Conflict: the record moved on. BadInput: a text, a number or a body that is not
///              allowed. Refused: a request number used for another act; books of another
///              version of the program. BrokenBooks: a file that is damaged.
class Books {
public:
    /// Makes new, empty books. The folder may exist but must hold no books.
    [[nodiscard]] static Result<Books> create(const std::string& where, const std::string& at);
    [[nodiscard]] static Result<Books> open(const std::string& where, OpenOptions options = {});
    /// Brings older books to this version: a copy first (in `copies` of the folder, or in
    /// `copy_folder`, which PostgreSQL needs), then each step in one transaction. Gives the folder
    /// of the copy, or an empty text when the books were of this version already.
    [[nodiscard]] static Result<std::string> upgrade(const std::string& where,
                                                     const std::string& at,
                                                     const std::string& copy_folder = {});
    /// Makes books at `where` out of a copy; its sessions are closed. Refuses where books are.
    [[nodiscard]] static Result<void> restore(const std::string& copy_folder,
                                              const std::string& where);
    /// Restores a copy into a folder beside the system's other temporary files, checks pages, trail
    /// and counts against what the copy's manifest says, and removes it again.
    [[nodiscard]] static Result<Copy> rehearse(const std::string& copy_folder);

    Books(Books&&) noexcept;
    Books& operator=(Books&&) noexcept;
    Books(const Books&) = delete;
    Books& operator=(const Books&) = delete;
    ~Books();

    /// The one way to write. In one transaction: a request number already known gives its first
    /// receipt again and writes nothing; otherwise each write's and each expectation's version must
    /// be the newest, and records, attachments and one trail entry are written. On disk when it
    /// returns.
    [[nodiscard]] Result<Receipt> commit(const Change& change);
    /// Several acts in one transaction: all or none.
    [[nodiscard]] Result<std::vector<Receipt>> commit_all(std::span<const Change> changes);
    /// The receipt of a request that was done, or nothing.
    [[nodiscard]] Result<std::optional<Receipt>> receipt(std::string_view request) const;

    [[nodiscard]] Result<Record> newest(std::string_view kind, std::string_view id) const;
    [[nodiscard]] Result<Record> at(std::string_view kind, std::string_view id,
                                    std::int64_t version) const;
    /// All versions, oldest first; none is NotFound.
    [[nodiscard]] Result<std::vector<Record>> history(std::string_view kind,
                                                      std::string_view id) const;
    [[nodiscard]] Result<std::vector<Listed>> list(const ListQuery& query) const;
    /// How many the query has in all, without `after` and `limit`.
    [[nodiscard]] Result<std::int64_t> count(const ListQuery& query) const;
    [[nodiscard]] Result<std::vector<Link>> links_from(std::string_view kind,
                                                       std::string_view id) const;
    /// Those of many records of a kind at once.
    [[nodiscard]] Result<std::vector<LinkRow>> links_from(std::string_view kind,
                                                          std::span<const std::string> ids) const;
    /// Who points to this record; an empty role is any.
    [[nodiscard]] Result<std::vector<LinkRow>> links_to(std::string_view kind, std::string_view id,
                                                        std::string_view role = {}) const;
    /// Records whose id or one of whose keys begins with the text, upper and lower case being one.
    [[nodiscard]] Result<std::vector<Listed>> search(std::string_view text,
                                                     std::int64_t limit = 50) const;
    /// Ordered by instant.
    [[nodiscard]] Result<std::vector<MeasurementRow>> measurements(
        const MeasurementQuery& query) const;
    [[nodiscard]] Result<Attachment> attachment(std::string_view sha256) const;
    [[nodiscard]] Result<std::vector<Entry>> entries(const EntryQuery& query) const;
    [[nodiscard]] Result<Counts> counts() const;

    /// Newest trail mark: "SEQ-" and the first 16 hexadecimal digits of its hash.
    [[nodiscard]] Result<std::string> mark() const;
    /// Looks through everything. Faults are in the answer; a Problem is only what kept from
    /// looking.
    [[nodiscard]] Result<Verification> verify(const VerifyOptions& options = {}) const;
    /// Makes lists, links, keys and measurements anew from the records.
    [[nodiscard]] Result<void> rebuild();

    /// A copy in a new folder while others read and write: books.db and manifest.json, checked.
    /// Of PostgreSQL as well, as a books.db.
    [[nodiscard]] Result<Copy> copy(const std::string& folder, const std::string& at) const;
    /// Everything but secrets in open files that need no program of ours: docs/reference/store.md.
    [[nodiscard]] Result<void> export_to(const std::string& folder, const std::string& at) const;

    /// Passwords: argon2id (47 104 KiB, 1 pass, 1 lane); 15 to 1024 bytes. One is set by the change
    /// that carries its hash, which resets the count of failures and ends the person's sessions.
    ///
    /// Errors   BadInput for a password of another length.
    [[nodiscard]] static Result<void> check_password(std::string_view password);
    [[nodiscard]] static Result<std::string> hashed_password(std::string_view password);
    /// As long for an unknown person as for a known one. From the 5th failure in a row on, attempts
    /// wait (1, 2, 4 ... s, at most 15 min), and after 100 in a row none is looked at any more.
    [[nodiscard]] Result<PasswordCheck> check_password(std::string_view person,
                                                       std::string_view password,
                                                       std::string_view at);
    [[nodiscard]] Result<void> reset_failures(std::string_view person);
    [[nodiscard]] Result<bool> has_password(std::string_view person) const;

    /// A new token of 256 random bits in hexadecimal; the books keep its hash only. It ends
    /// `idle_minutes` after its last use and 12 h after it was opened.
    [[nodiscard]] Result<std::string> open_session(std::string_view person, std::string_view device,
                                                   std::string_view at, int idle_minutes = 30);
    /// The session of a token, which counts as a use; NotFound when there is none or it has ended.
    [[nodiscard]] Result<Session> session(std::string_view token, std::string_view at);
    [[nodiscard]] Result<void> close_session(std::string_view token);
    [[nodiscard]] Result<void> close_all_sessions(std::string_view person);

    class Shelf;  ///< what is behind; store/shelf.hpp

private:
    explicit Books(std::unique_ptr<Shelf> shelf);
    std::unique_ptr<Shelf> shelf_;
};

}  // namespace bw::store
