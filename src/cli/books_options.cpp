// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/books_options.hpp"

#include <algorithm>
#include <array>
#include <chrono>
#include <cstdlib>
#include <filesystem>
#include <fstream>

#include <fmt/chrono.h>
#include <fmt/format.h>

#include "base/text.hpp"
#include "cli/file_bytes.hpp"
#include "cli/json_values.inl"
#include "service/people.hpp"
#include "store/digest.hpp"

namespace bw::cli {
namespace {

constexpr int kRequestBytes = 16;

std::string from_environment(const std::string& given, const char* variable) {
    if (!given.empty()) {
        return given;
    }
    const char* value = std::getenv(variable);  // NOLINT(concurrency-mt-unsafe): nothing sets it
    return value == nullptr ? std::string() : std::string(value);
}

/// Whether a text is an instant as the store keeps it.
bool is_instant(std::string_view text) {
    constexpr std::string_view kShape = "0000-00-00T00:00:00.000Z";
    if (text.size() != kShape.size()) {
        return false;
    }
    for (std::size_t i = 0; i < text.size(); ++i) {
        if (kShape[i] == '0' ? !base::is_digit(text[i]) : text[i] != kShape[i]) {
            return false;
        }
    }
    return true;
}

Result<std::string> instant_of(const BooksOptions& options, const store::Books& books) {
    if (options.at.empty()) {
        return instant_now();
    }
    if (!is_instant(options.at)) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} is no instant: write it as \"2026-11-26T09:30:00.000Z\"",
                                base::quoted(options.at)),
                    {"", 0, "--at"});
    }
    BW_TRY(site, service::site_of(books));
    if (!site.invented) {
        return fail(ProblemCode::Refused,
                    "an act is written with the instant at which it is done; only invented books "
                    "take another",
                    {"", 0, "--at"});
    }
    return options.at;
}

/// What a repeat may change: who signs in and how, where and when it is done, what is printed.
/// Passwords and keys are never hashed into the trail.
constexpr std::array<std::string_view, 11> kNotTheOrder{
    "--books",  "--session", "--person", "--password-file", "--new-password-file",
    "--device", "--request", "--at",     "--json",          "--quiet",
    "--key"};
/// Options whose files are read: their bytes are the order, wherever they lie.
constexpr std::array<std::string_view, 6> kFiles{"FILE",     "--file",   "--map",
                                                 "--target", "--recipe", "--certificate"};

/// A value as given; of a file, or of what stands behind NAME=, the SHA-256 of its bytes.
Result<std::string> given_value(const std::string& option, const std::string& value) {
    if (std::ranges::find(kFiles, option) == kFiles.end()) {
        return value;
    }
    std::error_code unknown;
    const bool whole = std::filesystem::is_regular_file(value, unknown);
    const std::size_t start = whole ? 0 : value.find('=') + 1;  // 0 where there is none
    const std::string file = value.substr(start);
    if (!std::filesystem::is_regular_file(file, unknown)) {
        return value;
    }
    BW_TRY(bytes, bytes_of(file, kMostAttached));
    return value.substr(0, start) + "sha256:" + store::sha256_hex(bytes);
}

/// SHA-256 of what a command was asked: its name, its options in the order of their help.
Result<std::string> asked_by(Command command) {
    Json given = Json::array();
    for (const auto& [option, words] : command.given()) {
        if (std::ranges::find(kNotTheOrder, option) != kNotTheOrder.end()) {
            continue;
        }
        Json values = Json::array();
        for (const std::string& word : words) {
            BW_TRY(value, given_value(option, word));
            values.push_back(value);
        }
        given.push_back({option, values});
    }
    return store::sha256_hex(json_text({{"command", command.full_name()}, {"given", given}}));
}

}  // namespace

void add_reading_options(Command command, BooksOptions& options) {
    command.add_option(
        "--books", options.where,
        "Folder of the books, or postgresql://...; else what BRINEWRIGHT_BOOKS says");
    add_output_flags(command, options.json, options.quiet);
}

void add_writing_options(Command command, BooksOptions& options) {
    add_reading_options(command, options);
    options.command = command;
    command.add_option("--session", options.session,
                       "File of a session from `person sign-in`; else BRINEWRIGHT_SESSION");
    command.add_option("--person", options.person, "Who acts, in place of a session");
    command.add_option("--password-file", options.password_file,
                       "File with the password of --person, or of whoever signs");
    command.add_option("--device", options.device, "Where it is done: \"tablet 2\"");
    command.add_option("--request", options.request,
                       "Number of this request: sent twice, it acts once");
    command.add_option("--why", options.why, "The reason, for the trail");
    command.add_option("--at", options.at,
                       "An instant of its own, \"2026-11-26T09:30:00.000Z\": invented books only");
}

std::string instant_now() {
    const auto now =
        std::chrono::time_point_cast<std::chrono::milliseconds>(std::chrono::system_clock::now());
    constexpr int kMillisecondsOfSecond = 1000;
    return fmt::format("{:%Y-%m-%dT%H:%M:%S}.{:03}Z",
                       fmt::gmtime(std::chrono::system_clock::to_time_t(now)),
                       now.time_since_epoch().count() % kMillisecondsOfSecond);
}

Result<std::string> secret_from(const std::string& option, const std::string& file) {
    if (file.empty()) {
        return fail(ProblemCode::BadInput,
                    "a password is needed: name the file that holds it (never the password itself)",
                    {"", 0, option});
    }
    std::ifstream in(file, std::ios::binary);
    std::string line;
    if (!in || !std::getline(in, line)) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} cannot be read, or is empty", base::quoted(file)),
                    {"", 0, option});
    }
    if (!line.empty() && line.back() == '\r') {
        line.pop_back();
    }
    return line;
}

Result<std::string> books_place(const BooksOptions& options) {
    std::string where = from_environment(options.where, "BRINEWRIGHT_BOOKS");
    if (where.empty()) {
        return fail(ProblemCode::BadInput,
                    "which books? Name their folder, or set BRINEWRIGHT_BOOKS", {"", 0, "--books"});
    }
    return where;
}

Result<store::Books> open_books(const BooksOptions& options, store::Mode mode) {
    BW_TRY(where, books_place(options));
    store::OpenOptions how;
    how.mode = mode;
    return store::Books::open(where, how);
}

Result<OpenDesk> open_desk(const BooksOptions& options) {
    BW_TRY(books, open_books(options, store::Mode::ReadWrite));
    OpenDesk out;
    out.books = std::make_unique<store::Books>(std::move(books));
    BW_TRY(at, instant_of(options, *out.books));
    const std::string session = from_environment(options.session, "BRINEWRIGHT_SESSION");
    if (!options.person.empty()) {
        BW_TRY(password, secret_from("--password-file", options.password_file));
        BW_TRY(desk,
               service::desk_by_password(*out.books, options.person, password, options.device, at));
        out.desk = std::move(desk);
    } else if (!session.empty()) {
        BW_TRY(token, secret_from("--session", session));
        BW_TRY(desk, service::desk_by_session(*out.books, token, at));
        out.desk = std::move(desk);
        out.session = token;
    } else {
        return fail(ProblemCode::BadInput,
                    "who acts? Sign in (`person sign-in`) and give --session, or give --person "
                    "and --password-file");
    }
    out.intent.request =
        options.request.empty() ? store::random_hex(kRequestBytes) : options.request;
    out.intent.why = options.why;
    if (!options.request.empty() && options.command != Command()) {
        BW_TRY(asked, asked_by(options.command));
        out.intent.asked = asked;
    }
    return out;
}

Result<service::Signing> signing_from(const BooksOptions& options) {
    BW_TRY(password, secret_from("--password-file", options.password_file));
    return service::Signing{std::move(password)};
}

void report_receipt(const BooksOptions& options, const store::Receipt& receipt,
                    const std::string& sentence, const Streams& streams) {
    if (options.json) {
        const Json out = {{"version", 1},
                          {"answer", receipt.answer},
                          {"entry", receipt.entry},
                          {"trail_mark", receipt.mark},
                          {"repeated", receipt.repeated},
                          {"attachments", receipt.attachments}};
        put(json_text(out), streams);
        return;
    }
    if (!options.quiet) {
        put(fmt::format("{}{}\n  trail mark {}\n", sentence,
                        receipt.repeated ? " (done before; nothing was written again)" : "",
                        receipt.mark),
            streams);
    }
}

bool BookCommands::asked() const {
    return std::any_of(commands_.begin(), commands_.end(),
                       [](const auto& entry) { return entry.first.parsed(); });
}

std::optional<int> BookCommands::carry_out(const Streams& streams) const {
    for (const auto& [command, run] : commands_) {
        if (command.parsed()) {
            const Result<int> code = run(streams);
            return code ? *code : complain_of(as_option(code.error()), streams);
        }
    }
    return std::nullopt;
}

Command add_command(Command noun, const std::string& name, const std::string& what,
                    const std::string& example) {
    const Command command = noun.add_subcommand(name, what);
    command.footer("Example:\n  brinewright " + example);
    return command;
}

Command noun_of(Command app, const std::string& name, const std::string& what) {
    for (const Command noun : app.subcommands()) {
        if (noun.name() == name) {
            return noun;
        }
    }
    const Command noun = app.add_subcommand(name, what);
    noun.require_subcommand();
    return noun;
}

}  // namespace bw::cli
