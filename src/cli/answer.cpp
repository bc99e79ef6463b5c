// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/answer.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "io/outputs.hpp"

namespace bw::cli {

void add_output_flags(Command command, bool& json, bool& quiet, bool writes_files) {
    command.add_flag("--json", json, "One JSON document instead of text");
    command.add_flag(
        "--quiet", quiet,
        writes_files ? "No text; files and the exit code only" : "No text; the exit code only");
}

int complain_of(const Problem& problem, const Streams& streams) {
    std::fputs(("brinewright: " + problem.text() + "\n").c_str(), streams.err);
    return base::exit_code(problem.code);
}

Problem as_option(Problem problem) {
    std::string& field = problem.place.field;
    const bool argument =
        !field.empty() && base::is_upper(field.front());  // "RESULT" has no dashes
    if (problem.place.file.empty() && !field.empty() && !argument && !field.starts_with("--")) {
        std::ranges::replace(field, '_', '-');
        field.insert(0, "--");
        if (field == "--password") {  // never typed itself
            field += "-file";
        }
    }
    return problem;
}

std::string named(const std::string& file) { return file.empty() ? "a file's name is empty" : ""; }

Result<void> write_files(const std::vector<WrittenFile>& files,
                         const std::vector<std::string>& read) {
    io::Outputs outputs;
    for (std::size_t i = 0; i < files.size(); ++i) {
        const WrittenFile& f = files[i];
        if (f.path.empty()) {
            continue;
        }
        for (const std::string& other : read) {
            if (io::same_file(other, f.path)) {
                return fail(ProblemCode::BadInput,
                            fmt::format("{} would overwrite {}, which was read: name another",
                                        f.option, base::quoted(other)));
            }
        }
        for (std::size_t j = 0; j < i; ++j) {
            if (io::same_file(files[j].path, f.path)) {
                return fail(ProblemCode::BadInput,
                            fmt::format("{} and {} name one file", files[j].option, f.option));
            }
        }
        BW_CHECK(outputs.add_text(f.path, f.text));
    }
    return outputs.publish();
}

void put(const std::string& text, const Streams& streams) { std::fputs(text.c_str(), streams.out); }

std::string wrapped(std::string lead, std::string_view text) {
    constexpr std::size_t kWidth = 100;
    std::string out;
    for (const std::string& line : base::wrap(text, kWidth - lead.size())) {
        out += lead + line + "\n";
        lead.assign(lead.size(), ' ');
    }
    return out;
}

std::string bullets(const std::vector<std::string>& sentences) {
    std::string out;
    for (const std::string& sentence : sentences) {
        out += wrapped("  * ", sentence);
    }
    return out;
}

std::string dashes(const std::vector<std::string>& sentences) {
    std::string out;
    for (const std::string& sentence : sentences) {
        out += wrapped("  - ", sentence);
    }
    return out;
}

std::string dashes(const base::Notices& notices) { return dashes(sentences_of(notices)); }

std::vector<std::string> sentences_of(const base::Notices& notices) {
    std::vector<std::string> out;
    for (const base::Notice& n : notices) {
        out.push_back(n.text);
    }
    return out;
}

std::string with_uncertainty(double value, double u, int places) {
    return u > 0 ? base::format_with_uncertainty(value, u).text()
                 : base::format_places(value, places);
}

void Sheet::add(std::string name, double value, int places, std::string unit) {
    rows_.add({std::move(name), base::format_places(value, places), std::move(unit)});
}

void Sheet::add_with_u(std::string name, double value, double u, int places, std::string unit) {
    rows_.add({std::move(name), with_uncertainty(value, u, places), std::move(unit)});
}

}  // namespace bw::cli
