// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "cli/answer.hpp"
#include "cli/command_line.hpp"
#include "service/desk.hpp"

namespace bw::cli {

/// What every command on the works' books is told.
struct BooksOptions {
    std::string where;          ///< folder or connection string
    std::string session;        ///< file with the token of a session
    std::string person;         ///< or who signs in for this one act,
    std::string password_file;  ///< and the file with the password
    std::string device = "command line";
    std::string request;
    std::string why;
    std::string at;  ///< an instant of their own: in invented books only
    bool json = false;
    bool quiet = false;
    Command command;  ///< that writes: its options are the order
};

/// --books alone, for commands that only read.
void add_reading_options(Command command, BooksOptions& options);
/// All of them, for commands that write.
void add_writing_options(Command command, BooksOptions& options);

/// The instant now, ISO 8601 in UTC with milliseconds.
[[nodiscard]] std::string instant_now();

/// First line of a file that only its owner should read, without its line end.
///
/// Errors   BadInput for none, or an empty one; Disk.
[[nodiscard]] Result<std::string> secret_from(const std::string& option, const std::string& file);

/// Where the books are: --books, else BRINEWRIGHT_BOOKS.
[[nodiscard]] Result<std::string> books_place(const BooksOptions& options);

[[nodiscard]] Result<store::Books> open_books(const BooksOptions& options, store::Mode mode);

/// The books with the desk of who signs in; the desk points into the books.
struct OpenDesk {
    std::unique_ptr<store::Books> books;
    service::Desk desk;
    service::Intent intent;
    std::string session;  ///< its token; empty: who acts signed in by password for this one act
};
[[nodiscard]] Result<OpenDesk> open_desk(const BooksOptions& options);

/// A signature's password, from --password-file.
[[nodiscard]] Result<service::Signing> signing_from(const BooksOptions& options);

/// Prints what an act came to: a sentence and the trail mark, or the same as JSON.
void report_receipt(const BooksOptions& options, const store::Receipt& receipt,
                    const std::string& sentence, const Streams& streams);

/// Writes a paper, whole or not at all, and says so.
[[nodiscard]] Result<int> write_paper(const BooksOptions& options, const std::string& path,
                                      const std::string& bytes, const Streams& streams);

/// The commands of the books, each with what it does.
class BookCommands {
public:
    using Run = std::function<Result<int>(const Streams&)>;
    /// A command that was made of `parent`, and what carries it out.
    void add(Command command, Run run) { commands_.emplace_back(command, std::move(run)); }
    /// Whether one of these was asked for.
    [[nodiscard]] bool asked() const;
    /// Carries out the command that was asked for; nothing if it is none of these.
    [[nodiscard]] std::optional<int> carry_out(const Streams& streams) const;

private:
    std::vector<std::pair<Command, Run>> commands_;
};

/// A new command under a noun with its help: one line, and a worked example.
[[nodiscard]] Command add_command(Command noun, const std::string& name, const std::string& what,
                                  const std::string& example);
/// The noun of this name, made when it is not there yet.
[[nodiscard]] Command noun_of(Command app, const std::string& name, const std::string& what);

void add_store_commands(Command app, BookCommands& commands);
void add_shelf_commands(Command app, BookCommands& commands);
void add_supplier_commands(Command app, BookCommands& commands);
void add_recipe_version_commands(Command app, BookCommands& commands);
void add_batch_commands(Command app, BookCommands& commands);
void add_batch_run_commands(Command app, BookCommands& commands);
void add_method_commands(Command app, BookCommands& commands);
void add_method_budget(Command noun, BookCommands& commands);
void add_results_commands(Command app, BookCommands& commands);
void add_results_import(Command noun, BookCommands& commands);
void add_release_commands(Command app, BookCommands& commands);
void add_certificate_commands(Command app, BookCommands& commands);
void add_mixing_sheet_command(Command app, BookCommands& commands);
void add_evidence_commands(Command app, BookCommands& commands);
void add_trail_commands(Command app, BookCommands& commands);

}  // namespace bw::cli
