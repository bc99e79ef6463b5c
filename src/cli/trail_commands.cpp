// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <memory>
#include <vector>

#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/books_options.hpp"
#include "cli/json_values.inl"

namespace bw::cli {
namespace {

struct TrailArguments {
    BooksOptions books;
    std::string subject;
    std::string person;
    std::string against;
    std::int64_t last = 50;
    bool brief = false;
};

Json as_json(const store::Entry& e) {
    Json records = Json::array();
    for (const store::Entry::Version& v : e.records) {
        records.push_back({{"kind", v.kind},
                           {"id", v.id},
                           {"version", v.version},
                           {"sha256_before", v.before},
                           {"sha256_after", v.after}});
    }
    return {{"entry", e.seq},
            {"at", e.at},
            {"person", e.person},
            {"duty", e.duty},
            {"device", e.device},
            {"act", e.act},
            {"subject_kind", e.subject_kind},
            {"subject", e.subject_id},
            {"why", e.why},
            {"request", e.request},
            {"records", records},
            {"hash", e.hash}};
}

/// A field that an entry changed, with both values whole.
struct ChangedField {
    std::string kind, id;
    std::string field;  ///< path within the record: "results[3].state"; empty: the record is new
    Json before, after;
};

/// Records keep some parts as the JSON text that was signed: it is looked into as well.
Json opened(const Json& value) {
    if (value.is_string() && value.get_ref<const std::string&>().starts_with('{')) {
        Json inside = Json::parse(value.get_ref<const std::string&>(), nullptr, false);
        return inside.is_object() ? inside : value;
    }
    return value;
}

/// Adds what differs at a path and below it, down to single values.
void compare(const Json& before_whole, const Json& after_whole, const std::string& path,
             std::vector<ChangedField>& out) {
    if (before_whole == after_whole) {
        return;
    }
    const Json before = opened(before_whole);
    const Json after = opened(after_whole);
    const auto both = [&](Json::value_t type) {
        return (before.type() == type || before.is_null()) &&
               (after.type() == type || after.is_null());
    };
    if (both(Json::value_t::object)) {
        Json keys = before.is_null() ? Json::object() : before;
        keys.update(after.is_null() ? Json::object() : after);
        for (const auto& [key, unused] : keys.items()) {
            const auto in = [&key = key](const Json& x) {
                return x.is_null() ? x : x.value(key, Json());
            };
            compare(in(before), in(after),
                    fmt::format("{}{}{}", path, path.empty() ? "" : ".", key), out);
        }
    } else if (both(Json::value_t::array)) {
        for (std::size_t i = 0; i < std::max(before.size(), after.size()); ++i) {
            const auto in = [i](const Json& x) { return i < x.size() ? x[i] : Json(); };
            compare(in(before), in(after), fmt::format("{}[{}]", path, i + 1), out);
        }
    } else {
        out.push_back({{}, {}, path, before, after});
    }
}

/// What an entry changed: for each record what differs from the version before.
Result<std::vector<ChangedField>> changes_of(const store::Books& books, const store::Entry& e) {
    std::vector<ChangedField> out;
    for (const store::Entry::Version& v : e.records) {
        if (v.version == 1) {
            out.push_back({v.kind, v.id, "", {}, {}});
            continue;
        }
        BW_TRY(after, books.at(v.kind, v.id, v.version));
        BW_TRY(before, books.at(v.kind, v.id, v.version - 1));
        std::vector<ChangedField> fields;
        compare(json_of_text(before.body), json_of_text(after.body), "", fields);
        for (ChangedField& f : fields) {
            f.kind = v.kind;
            f.id = v.id;
            out.push_back(std::move(f));
        }
    }
    return out;
}

std::string value_text(const Json& value, bool brief) {
    if (value.is_null() || (value.is_string() && value.get_ref<const std::string&>().empty())) {
        return "nothing";
    }
    constexpr std::size_t kLongest = 60;
    const std::string text = value.is_string() ? value.get<std::string>() : value.dump();
    return brief && text.size() > kLongest ? base::quoted(text) : base::one_line(text);
}

std::string changes_text(const std::vector<ChangedField>& changes, bool brief) {
    std::string out;
    for (const ChangedField& c : changes) {
        out +=
            wrapped("       ", c.field.empty() ? fmt::format("{} {}: new", c.kind, c.id)
                                               : fmt::format("{} {} {}: {} -> {}", c.kind, c.id,
                                                             c.field, value_text(c.before, brief),
                                                             value_text(c.after, brief)));
    }
    return out;
}

Json changes_json(const std::vector<ChangedField>& changes) {
    Json out = Json::array();
    for (const ChangedField& c : changes) {
        Json one = {{"kind", c.kind}, {"id", c.id}, {"new", c.field.empty()}};
        if (!c.field.empty()) {
            one.update({{"field", c.field}, {"before", c.before}, {"after", c.after}});
        }
        out.push_back(std::move(one));
    }
    return out;
}

void add_show(Command noun, BookCommands& commands) {
    auto a = std::make_shared<TrailArguments>();
    const Command show = add_command(noun, "show", "Who did what, when and why; the newest first",
                                     "trail show --about batch/B26-0001-K --books books");
    show.add_option("--about", a->subject, "KIND/ID of a record: batch/B26-0001-K");
    show.add_option("--by", a->person, "One person's acts");
    show.add_option("--last", a->last, "So many, at most 10000");
    show.add_flag("--short", a->brief, "Cuts long texts; with --json they are always whole");
    add_reading_options(show, a->books);
    commands.add(show, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        store::EntryQuery query;
        if (!a->subject.empty()) {
            const std::size_t slash = a->subject.find('/');
            if (slash == std::string::npos) {
                return fail(ProblemCode::BadInput,
                            fmt::format("{} is no record: write KIND/ID, as batch/B26-0001-K",
                                        base::quoted(a->subject)),
                            {"", 0, "--about"});
            }
            query.subject_kind = a->subject.substr(0, slash);
            query.subject_id = a->subject.substr(slash + 1);
        }
        query.person = a->person;
        query.limit = a->last;
        BW_TRY(entries, books.entries(query));
        Json rows = Json::array();
        for (const store::Entry& e : entries) {
            BW_TRY(changed, changes_of(books, e));
            if (a->books.json) {
                Json row = as_json(e);
                row["changes"] = changes_json(changed);
                rows.push_back(std::move(row));
            } else {
                put(fmt::format("{:>6}  {}  {} ({}){}  {}  {} {}\n", e.seq, e.at, e.person, e.duty,
                                e.device.empty() ? "" : " at " + e.device, e.act, e.subject_kind,
                                e.subject_id),
                    streams);
                put(changes_text(changed, a->brief) +
                        (e.why.empty() ? "" : wrapped("       why: ", e.why)),
                    streams);
            }
        }
        if (a->books.json) {
            put(json_text({{"version", 1}, {"entries", rows}}), streams);
        }
        return 0;
    });
}

void add_verify(Command noun, BookCommands& commands) {
    auto a = std::make_shared<TrailArguments>();
    const Command verify = add_command(
        noun, "verify", "Looks for any record that was changed, taken out, put in or cut off",
        "trail verify --against 128-9f3a6b1c22d04e57 --books books");
    verify.add_option("--against", a->against, "A trail mark printed on a paper");
    add_reading_options(verify, a->books);
    commands.add(verify, [a](const Streams& streams) -> Result<int> {
        BW_TRY(books, open_books(a->books, store::Mode::ReadOnly));
        store::VerifyOptions options;
        if (!a->against.empty()) {
            options.against = a->against;
        }
        BW_TRY(found, books.verify(options));
        if (a->books.json) {
            put(json_text({{"version", 1},
                           {"sound", found.sound()},
                           {"entries", found.entries},
                           {"records", found.records},
                           {"attachments", found.attachments},
                           {"trail_mark", found.mark},
                           {"fault_count", found.fault_count},
                           {"faults", found.faults},
                           {"notices", found.notices}}),
                streams);
        } else if (!a->books.quiet) {
            put(fmt::format("{}\n  {} entries, {} versions of records, {} files looked at; newest "
                            "trail mark {}\n",
                            found.sound() ? "The trail is whole."
                                          : fmt::format("The trail is NOT whole: {} faults.",
                                                        found.fault_count),
                            found.entries, found.records, found.attachments, found.mark) +
                    bullets(found.faults) + dashes(found.notices),
                streams);
            if (a->against.empty() && found.sound()) {
                put(dashes({"Whether the newest entries were cut off shows only against a trail "
                            "mark printed earlier: give it with --against."}),
                    streams);
            }
        }
        return found.sound() ? 0 : 1;
    });
}

}  // namespace

void add_trail_commands(Command app, BookCommands& commands) {
    const Command noun = noun_of(app, "trail", "The trail: show, verify");
    add_show(noun, commands);
    add_verify(noun, commands);
}

}  // namespace bw::cli
