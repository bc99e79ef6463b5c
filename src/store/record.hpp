// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <optional>
#include <string>
#include <vector>

namespace bw::store {

// Text fields of this header are UTF-8 without control bytes unless a field says otherwise.
// Instants are ISO 8601 in UTC with milliseconds, "2026-11-26T09:30:00.000Z": the store reads no
// clock, its callers do.

/// One version of one thing that the works keeps. Versions count 1, 2, ...; none is ever changed.
struct Record {
    std::string kind;  ///< "lot", "batch": lower-case letters, digits and '_'
    std::string id;    ///< up to 200 bytes
    std::int64_t version = 0;
    std::string body;        ///< canonical JSON (store/canonical_json.hpp)
    std::int64_t entry = 0;  ///< sequence number of the trail entry that wrote it
    std::string state;
    std::string title;
};

/// To what a record points, with the part it plays: {"made of", "lot", "L25-0317-X"}.
struct Link {
    std::string role, kind, id;
    bool operator==(const Link&) const = default;
};

/// One result as it is looked for: by batch, by sample, by analyte and time. The rows of a record
/// are replaced by those of its next version.
struct Measurement {
    std::string analyte, sample, batch, run;
    std::int64_t line = 0;        ///< of the run, from 1; or as the run counts
    std::string at;               ///< instant of the reading
    std::string digits;           ///< as typed or imported: "412.3", "< 0.5"
    std::optional<double> value;  ///< derived from the digits, in `unit`; none for "< 0.5"
    std::optional<double> u;      ///< standard uncertainty in `unit`; none when not stated
    std::string unit;
    std::string state;  ///< "entered", "checked", "counted", "set aside"
    bool operator==(const Measurement&) const = default;
};

/// A new version of a record.
struct Write {
    std::string kind, id;
    std::int64_t expected_version = 0;  ///< the version it supersedes; 0: the record must be new
    std::string body;                   ///< canonical JSON, up to 16 MiB
    std::string state;
    std::string title;  ///< one line for lists
    std::vector<Link> links;
    std::vector<std::string> keys;  ///< what else it is found by; upper and lower case are one
    std::vector<Measurement> measurements;
};

/// A record that was read for a decision and must not have moved since. Version 0: must not exist.
struct Expect {
    std::string kind, id;
    std::int64_t version = 0;
};

/// A file or a rendered paper, kept as it is and named by its SHA-256.
struct Attachment {
    std::string name, media_type;
    std::string bytes;  ///< any bytes, up to 20 MiB
};

/// Who does what to what, when, on which device and why.
struct Act {
    std::string request;  ///< made by the caller once for one intention, sent again on a retry
    std::string person, duty, device;
    std::string act;  ///< "lot receive"
    std::string subject_kind, subject_id;
    std::string why;  ///< may be empty; line breaks allowed
    std::string at;
    std::string asked = {};  ///< SHA-256 of the order, in hexadecimal; empty: it was not stated
};

/// What a person signs in with from now on; either ends their sessions. Not a part of the trail.
struct Secret {
    std::string person;
    std::string hash;           ///< of Books::hashed_password(); empty: they can no longer sign in
    std::string session = {};   ///< token of the one session that goes on; empty: none does
    std::string replaces = {};  ///< PasswordCheck::of: Conflict where that one is no longer in use;
                                ///< empty: whichever is
};

/// One act with all it writes.
struct Change {
    Act act;
    std::vector<Write> writes;
    std::vector<Expect> expects;
    std::vector<Attachment> attachments;
    std::string answer;  ///< any UTF-8 text, given back to each repeat of the request
    std::vector<Secret> secrets = {};
};

/// What a change came to. A repeat gets the first receipt, with `repeated` set.
struct Receipt {
    std::int64_t entry = 0;
    std::string mark;  ///< trail mark at that entry: "128-9f3a6b1c22d04e57"
    bool repeated = false;
    std::string answer;
    std::vector<std::string> attachments;  ///< SHA-256 in hexadecimal, in the order given
};

/// Newest version of a record, as lists show it.
struct Listed {
    std::string kind, id;
    std::int64_t version = 0;
    std::string state, title;
    std::int64_t entry = 0;
    std::string body;  ///< only when asked for
};

/// Which records a list holds; empty fields do not choose. Ordered by id (by bytes).
struct ListQuery {
    std::string kind;  ///< needed
    std::string state;
    std::string id_prefix, title_prefix;
    std::optional<Link> pointing_to;  ///< has this link; an empty role is any
    std::string after;                ///< id of the last row of the page before
    bool descending = false;
    bool with_bodies = false;
    std::int64_t limit = 200;  ///< 1 to 10 000
};

/// A link with the record it starts from.
struct LinkRow {
    std::string from_kind, from_id;
    Link to;
};

/// Records that point to any of these of one kind, in one role.
struct PointingTo {
    std::string role, kind;
    std::vector<std::string> ids;
};

/// Which measurements; empty fields do not choose, but one of analyte, batch, sample and run must.
struct MeasurementQuery {
    std::string analyte, batch, sample, run, state;
    std::string from, before;  ///< instants: from <= at < before
    std::int64_t last = 0;     ///< only so many, the newest; 0: all
    std::int64_t limit = 100000;
    std::vector<PointingTo> batches;      ///< their "batch" points to one of each of these
    std::optional<PointingTo> stated_by;  ///< the record that stated them points to one of these
};

/// A measurement with the record that stated it.
struct MeasurementRow {
    std::string kind, id;
    Measurement is;
};

/// One entry of the trail, opened up.
struct Entry {
    std::int64_t seq = 0;
    std::string at, person, duty, device, act, subject_kind, subject_id, why, request;
    struct Version {
        std::string kind, id;
        std::int64_t version = 0;
        std::string before, after;  ///< SHA-256 of the bodies; before is empty for a first version
    };
    std::vector<Version> records;
    struct File {
        std::string name, media_type, sha256;
        std::int64_t size = 0;
    };
    std::vector<File> attachments;
    std::string hash;        ///< SHA-256 of the chain up to and with this entry
    std::string body;        ///< the canonical bytes that were hashed
    std::string asked = {};  ///< SHA-256 of the order; empty: it was not stated
};

/// Which entries, newest first unless `from_seq` is given; empty fields do not choose.
struct EntryQuery {
    std::string subject_kind, subject_id;  ///< entries about this record or writing it
    std::string person;
    std::int64_t from_seq = 0;    ///< upwards from here
    std::int64_t before_seq = 0;  ///< downwards from below here; 0: from the newest
    std::int64_t limit = 200;     ///< 1 to 10 000
};

}  // namespace bw::store
