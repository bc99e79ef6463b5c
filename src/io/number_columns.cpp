// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/number_columns.hpp"

#include <algorithm>
#include <array>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"

namespace bw::io {
namespace {

tl::unexpected<Problem> bad(const NumberColumns& table, int line, std::string why) {
    return fail(ProblemCode::BadInput, std::move(why), {table.file, line, {}});
}

char mark_of(std::string_view names) {
    constexpr std::array kMarks{',', ';', '\t'};
    return *std::max_element(kMarks.begin(), kMarks.end(), [&](char a, char b) {
        return std::count(names.begin(), names.end(), a) <
               std::count(names.begin(), names.end(), b);
    });
}

/// The cells of a line; nothing where a quote stays open.
std::optional<std::vector<std::string>> cells_of(std::string_view line, char mark) {
    std::vector<std::string> out(1);
    bool quoted = false;
    for (std::size_t i = 0; i < line.size(); ++i) {
        const char c = line[i];
        if (quoted) {
            if (c == '"' && i + 1 < line.size() && line[i + 1] == '"') {
                out.back() += c;
                ++i;
            } else if (c == '"') {
                quoted = false;
            } else {
                out.back() += c;
            }
        } else if (c == '"' && base::trim(out.back()).empty()) {
            quoted = true;
            out.back().clear();
        } else if (c == mark) {
            out.emplace_back();
        } else {
            out.back() += c;
        }
    }
    if (quoted) {
        return std::nullopt;
    }
    for (std::string& cell : out) {
        cell = std::string(base::trim(cell));
    }
    return out;
}

Result<void> take_names(NumberColumns& table, std::vector<std::string> names, int line) {
    for (std::size_t i = 0; i < names.size(); ++i) {
        const auto rest = names.begin() + static_cast<std::ptrdiff_t>(i);
        if (names[i].empty() || std::find(names.begin(), rest, names[i]) != rest) {
            return bad(table, line,
                       fmt::format("column {} of the line of names is empty or stands twice: give "
                                   "each column a name of its own",
                                   i + 1));
        }
    }
    table.names = std::move(names);
    return {};
}

Result<void> take_line(NumberColumns& table, std::string_view line, int number, char& mark) {
    if (base::trim(line).empty()) {
        return {};
    }
    if (table.names.empty()) {
        mark = mark_of(line);
    }
    auto cells = cells_of(line, mark);
    if (!cells) {
        return bad(table, number, "a quote is opened and not closed on its line");
    }
    if (table.names.empty()) {
        return take_names(table, std::move(*cells), number);
    }
    if (cells->size() != table.names.size()) {
        return bad(
            table, number,
            fmt::format("the row has {} cells, the line of names {}: they have to be as many",
                        cells->size(), table.names.size()));
    }
    table.rows.push_back(std::move(*cells));
    table.lines.push_back(number);
    return {};
}

}  // namespace

Result<NumberColumns> parse_columns(std::string_view text, std::string name) {
    NumberColumns out;
    out.file = std::move(name);
    constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
    if (text.starts_with(kByteOrderMark)) {
        text.remove_prefix(kByteOrderMark.size());
    }
    if (base::first_invalid_utf8(text)) {
        return bad(out, 0, "the file is not UTF-8 text: save it as \"CSV UTF-8\"");
    }
    char mark = ',';
    int number = 0;
    while (!text.empty()) {
        ++number;
        const std::size_t end = std::min(text.find('\n'), text.size());
        std::string_view line = text.substr(0, end);
        text.remove_prefix(std::min(end + 1, text.size()));
        if (line.ends_with('\r')) {
            line.remove_suffix(1);
        }
        if (line.starts_with('#')) {
            out.head += line.substr(1);
        } else {
            BW_CHECK(take_line(out, line, number, mark));
        }
        out.head += '\n';
    }
    if (out.rows.empty()) {
        return bad(out, 0, "the file holds no rows below a line of names");
    }
    return out;
}

Result<NumberColumns> read_columns(const std::string& path) {
    std::error_code error;
    const auto status = std::filesystem::status(path, error);
    if (!std::filesystem::exists(status) || std::filesystem::is_directory(status)) {
        return fail(ProblemCode::BadInput,
                    std::filesystem::is_directory(status) ? "this is a folder: name a file"
                                                          : "there is no such file",
                    {path, 0, {}});
    }
    std::ifstream in(path, std::ios::binary);
    std::string text(kLargestFile + 1, '\0');
    in.read(text.data(), static_cast<std::streamsize>(text.size()));
    if (!in.is_open() || in.bad()) {
        return fail(ProblemCode::Disk,
                    fmt::format("the file cannot be read: {}", std::strerror(errno)),
                    {path, 0, {}});
    }
    text.resize(static_cast<std::size_t>(in.gcount()));
    if (text.size() > kLargestFile) {
        return fail(
            ProblemCode::TooLarge,
            fmt::format("the file is larger than {} bytes, the most that is read", kLargestFile),
            {path, 0, {}});
    }
    return parse_columns(text, path);
}

Result<std::size_t> column(const NumberColumns& table, std::string_view name) {
    const auto found = std::find(table.names.begin(), table.names.end(), name);
    if (found == table.names.end()) {
        return fail(ProblemCode::UnknownName,
                    fmt::format("there is no column {}: there are {}", base::quoted(name),
                                base::join_words(table.names)),
                    {table.file, 0, {}});
    }
    return static_cast<std::size_t>(found - table.names.begin());
}

bool is_numeric(const NumberColumns& table, std::size_t column) {
    return std::all_of(table.rows.begin(), table.rows.end(), [&](const auto& row) {
        return base::parse_number(row[column]).has_value();
    });
}

Result<std::vector<double>> numbers(const NumberColumns& table, std::size_t column) {
    std::vector<double> out;
    for (std::size_t i = 0; i < table.rows.size(); ++i) {
        auto value = base::parse_number(table.rows[i][column]);
        if (!value) {
            Problem problem = std::move(value).error();
            problem.place = {table.file, table.lines[i], table.names[column]};
            return tl::make_unexpected(std::move(problem));
        }
        out.push_back(*value);
    }
    return out;
}

bool is_document_name(std::string_view path) {
    const std::string lower = base::lower_ascii(path);
    return lower.ends_with(".toml") || lower.ends_with(".json");
}

}  // namespace bw::io
