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
    const CLI::App* command = nullptr;  ///< that writes: its options are the order
};

/// --books alone, for commands that only read.
void add_reading_options(CLI::App& command, BooksOptions& options);
/// All of them, for commands that write.
void add_writing_options(CLI::App& command, BooksOptions& options);

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
    void add(CLI::App& command, Run run) { commands_.emplace_back(&command, std::move(run)); }
    /// Whether one of these was asked for.
    [[nodiscard]] bool asked() const;
    /// Carries out the command that was asked for; nothing if it is none of these.
    [[nodiscard]] std::optional<int> carry_out(const Streams& streams) const;

private:
    std::vector<std::pair<CLI::App*, Run>> commands_;
};

/// A new command under a noun with its help: one line, and a worked example.
[[nodiscard]] CLI::App& add_command(CLI::App& noun, const std::string& name,
                                    const std::string& what, const std::string& example);
/// The noun of this name, made when it is not there yet.
[[nodiscard]] CLI::App& noun_of(CLI::App& app, const std::string& name, const std::string& what);

void add_store_commands(CLI::App& app, BookCommands& commands);
void add_shelf_commands(CLI::App& app, BookCommands& commands);
void add_supplier_commands(CLI::App& app, BookCommands& commands);
void add_recipe_version_commands(CLI::App& app, BookCommands& commands);
void add_batch_commands(CLI::App& app, BookCommands& commands);
void add_batch_run_commands(CLI::App& app, BookCommands& commands);
void add_method_commands(CLI::App& app, BookCommands& commands);
void add_method_budget(CLI::App& noun, BookCommands& commands);
void add_results_commands(CLI::App& app, BookCommands& commands);
void add_results_import(CLI::App& noun, BookCommands& commands);
void add_release_commands(CLI::App& app, BookCommands& commands);
void add_certificate_commands(CLI::App& app, BookCommands& commands);
void add_mixing_sheet_command(CLI::App& app, BookCommands& commands);
void add_evidence_commands(CLI::App& app, BookCommands& commands);
void add_trail_commands(CLI::App& app, BookCommands& commands);

}  // namespace bw::cli
