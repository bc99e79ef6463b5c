// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "base/notice.hpp"
#include "base/result.hpp"
#include "cli/command_line.hpp"
#include "cli/commands.hpp"
#include "cli/table.hpp"

namespace bw::cli {

/// --json and --quiet.
void add_output_flags(Command command, bool& json, bool& quiet, bool writes_files = false);

/// Prints a problem in one line and gives its exit code.
[[nodiscard]] int complain_of(const Problem& problem, const Streams& streams);

/// Names the option of a field that belongs to no file: "heat_to" becomes "--heat-to".
[[nodiscard]] Problem as_option(Problem problem);

/// What is wrong with a file's name as Option::check() wants it: nothing, unless it is empty.
[[nodiscard]] std::string named(const std::string& file);

/// A file that a command writes beside its answer.
struct WrittenFile {
    std::string option, path, text;
};
/// Writes those with a path together or not at all.
///
/// Errors   BadInput where one is a file that was read, or two are one; those of io::Outputs.
[[nodiscard]] Result<void> write_files(const std::vector<WrittenFile>& files,
                                       const std::vector<std::string>& read);

void put(const std::string& text, const Streams& streams);

/// A text after a lead, as wide as the page; further lines stand under its first word.
[[nodiscard]] std::string wrapped(std::string lead, std::string_view text);
/// Sentences as a list.
[[nodiscard]] std::string bullets(const std::vector<std::string>& sentences);
/// The same with another sign.
[[nodiscard]] std::string dashes(const std::vector<std::string>& sentences);
[[nodiscard]] std::string dashes(const base::Notices& notices);

[[nodiscard]] std::vector<std::string> sentences_of(const base::Notices& notices);

/// "35.165 \u00B1 0.020"; with `places` where the uncertainty is 0 or not known.
[[nodiscard]] std::string with_uncertainty(double value, double u, int places);

/// A table of names, values and units; the standard uncertainty stands after the value.
class Sheet {
public:
    void add(std::string name, double value, int places, std::string unit);
    void add_with_u(std::string name, double value, double u, int places, std::string unit);
    [[nodiscard]] std::string text() const { return rows_.rows_only(); }

private:
    TextTable rows_{{{{""}, Align::Left}, {{""}, Align::Decimal}, {{""}, Align::Left}}};
};

}  // namespace bw::cli
