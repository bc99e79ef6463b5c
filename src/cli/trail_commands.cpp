// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <memory>

#include <CLI/CLI.hpp>
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

/// What an entry changed: for each record the fields that differ from the version before.
Result<std::string> changes_of(const store::Books& books, const store::Entry& e) {
    std::string out;
    for (const store::Entry::Version& v : e.records) {
        BW_TRY(after, books.at(v.kind, v.id, v.version));
        const Json now = Json::parse(after.body);
        Json before = Json::object();
        if (v.version > 1) {
            BW_TRY(earlier, books.at(v.kind, v.id, v.version - 1));
            before = Json::parse(earlier.body);
        }
        for (const auto& [key, value] : now.items()) {
            constexpr std::size_t kLongest = 60;
            const auto cut = [](const Json& json) {
                const std::string text = json.is_string() ? json.get<std::string>() : json.dump();
                return text.size() > kLongest ? base::quoted(text) : base::one_line(text);
            };
            if (v.version > 1 && before.value(key, Json()) != value) {
                out +=
                    wrapped("       ", fmt::format("{} {} {}: {} -> {}", v.kind, v.id, key,
                                                   cut(before.value(key, Json(""))), cut(value)));
            }
        }
        if (v.version == 1) {
            out += wrapped("       ", fmt::format("{} {}: new", v.kind, v.id));
        }
    }
    return out;
}

void add_show(CLI::App& noun, BookCommands& commands) {
    auto a = std::make_shared<TrailArguments>();
    CLI::App& show = add_command(noun, "show", "Who did what, when and why; the newest first",
                                 "trail show --about batch/B26-0001-K --books books");
    show.add_option("--about", a->subject, "KIND/ID of a record: batch/B26-0001-K");
    show.add_option("--by", a->person, "One person's acts");
    show.add_option("--last", a->last, "So many, at most 10000");
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
            rows.push_back(as_json(e));
            if (!a->books.json) {
                put(fmt::format("{:>6}  {}  {} ({}){}  {}  {} {}\n", e.seq, e.at, e.person, e.duty,
                                e.device.empty() ? "" : " at " + e.device, e.act, e.subject_kind,
                                e.subject_id),
                    streams);
                BW_TRY(changed, changes_of(books, e));
                put(changed + (e.why.empty() ? "" : wrapped("       why: ", e.why)), streams);
            }
        }
        if (a->books.json) {
            put(json_text({{"version", 1}, {"entries", rows}}), streams);
        }
        return 0;
    });
}

void add_verify(CLI::App& noun, BookCommands& commands) {
    auto a = std::make_shared<TrailArguments>();
    CLI::App& verify = add_command(
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

void add_trail_commands(CLI::App& app, BookCommands& commands) {
    CLI::App& noun = noun_of(app, "trail", "The trail: show, verify");
    add_show(noun, commands);
    add_verify(noun, commands);
}

}  // namespace bw::cli
