// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include <algorithm>
#include <cerrno>
#include <charconv>
#include <cstdio>
#include <cstring>
#include <filesystem>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include "store/digest.hpp"
#include "store/instant.hpp"
#include "store/shelf.hpp"
#include "store/trail.hpp"

namespace bw::store {
namespace {

using nlohmann::json;
namespace fs = std::filesystem;

constexpr std::string_view kReadme =
    R"(Open archive of the works' books: plain files that need no program of ours.

trail.jsonl         one entry of the trail in each line: seq, hash, body (the hashed text)
records.jsonl       one version of a record in each line: kind, id, version, entry, state, title,
                    body, facts (links, search keys and measurements it states)
requests.jsonl      request numbers with the answers that were given
attachments.csv     what lies in attachments/, where each file is named by its SHA-256
measurements.csv    measurements of the newest versions
manifest.json       SHA-256 of each file above, the first page of the books, the trail mark

To check: each file has the SHA-256 of the manifest. hash 0 is the SHA-256 of
{"format":"brinewright books 1","identity":"...","made":"..."} with the values of the manifest.
hash n is the SHA-256 of the 32 bytes of hash n-1 followed by the UTF-8 bytes of body n. The body
names the SHA-256 of each record's body ("after") and attachment, and "facts": the SHA-256 of
state, line break, title, line break, facts. The mark is the last number, "-" and the first 16
digits of the last hash; compare it with one that was printed.
)";

/// A text file that is written piece by piece.
class Sheet {
public:
    static Result<Sheet> open(const std::string& path) {
        std::FILE* file = std::fopen(path.c_str(), "wbex");
        if (file == nullptr) {
            return failed(path);
        }
        return Sheet(path, file);
    }
    Result<void> add(std::string_view bytes) {
        if (std::fwrite(bytes.data(), 1, bytes.size(), file_.get()) != bytes.size()) {
            return failed(path_);
        }
        return {};
    }
    Result<void> close() {
        if (std::fclose(file_.release()) != 0) {
            return failed(path_);
        }
        return {};
    }

private:
    struct Close {
        void operator()(std::FILE* file) const { std::fclose(file); }
    };
    Sheet(std::string path, std::FILE* file) : path_(std::move(path)), file_(file) {}
    static tl::unexpected<Problem> failed(const std::string& path) {
        return fail(ProblemCode::Disk, fmt::format("writing failed: {}", std::strerror(errno)),
                    {path, 0, {}});
    }
    std::string path_;
    std::unique_ptr<std::FILE, Close> file_;
};

/// Rows of a statement as one JSON object a line.
Result<void> json_lines(Connection& c, const std::string& path, const std::string& sql,
                        const std::vector<std::string>& names) {
    BW_TRY(sheet, Sheet::open(path));
    BW_CHECK(c.each(sql, [&](Row& row) -> Result<void> {
        json line = json::object();
        for (std::size_t i = 0; i < names.size(); ++i) {
            if (std::holds_alternative<std::int64_t>(row.values()[i])) {
                line[names[i]] = row.integer(i);
            } else {
                line[names[i]] = row.text(i);
            }
        }
        return sheet.add(line.dump(-1, ' ', false, json::error_handler_t::replace) + "\n");
    }));
    return sheet.close();
}

bool is_number(const std::string& cell) {
    double value = 0;
    const auto read = std::from_chars(cell.data(), cell.data() + cell.size(), value);
    return read.ec == std::errc{} && read.ptr == cell.data() + cell.size();
}

/// RFC 4180; a text that a spreadsheet would run as a formula gets an apostrophe.
std::string cell_of(const Value& value) {
    if (const auto* integer = std::get_if<std::int64_t>(&value)) {
        return fmt::format("{}", *integer);
    }
    if (const auto* real = std::get_if<double>(&value)) {
        return fmt::format("{}", *real);
    }
    const auto* words = std::get_if<std::string>(&value);
    if (words == nullptr || words->empty()) {
        return {};
    }
    const bool guarded = std::string_view("=+-@\t\r").find(words->front()) != std::string::npos &&
                         !is_number(*words);
    std::string quoted = guarded ? "'" : "";
    for (const char c : *words) {
        quoted += c == '"' ? std::string("\"\"") : std::string(1, c);
    }
    return quoted.find_first_of("\",\r\n") != std::string::npos ? "\"" + quoted + "\"" : quoted;
}

Result<void> csv(Connection& c, const std::string& path, const std::string& columns,
                 const std::string& from) {
    BW_TRY(sheet, Sheet::open(path));
    BW_CHECK(sheet.add(columns + "\r\n"));
    BW_CHECK(c.each("SELECT " + columns + from, [&](Row& row) -> Result<void> {
        std::string line;
        for (const Value& value : row.values()) {
            line += (line.empty() && &value == row.values().data() ? "" : ",") + cell_of(value);
        }
        return sheet.add(line + "\r\n");
    }));
    return sheet.close();
}

Result<void> attachments(Connection& c, const std::string& folder) {
    BW_CHECK(csv(c, folder + "/attachments.csv", "sha256,entry,name,media_type,size",
                 " FROM attachment ORDER BY entry, sha256"));
    return c.each("SELECT sha256, bytes FROM attachment", [&](Row& row) -> Result<void> {
        BW_TRY(sheet, Sheet::open(folder + "/attachments/" + row.text(0)));
        BW_CHECK(sheet.add(row.bytes(1)));
        return sheet.close();
    });
}

Result<void> manifest(Connection& c, const std::string& folder, const std::string& at) {
    json files = json::object();
    for (const fs::directory_entry& file : fs::directory_iterator(folder)) {
        if (file.is_regular_file()) {
            BW_TRY(sha256, sha256_of_file(file.path().string()));
            files[file.path().filename().string()] = sha256;
        }
    }
    BW_TRY(first, c.query("SELECT identity, made, genesis FROM books"));
    BW_TRY(last, c.query("SELECT seq, hash FROM entry ORDER BY seq DESC LIMIT 1"));
    const Row& page = first.front();
    const json all = {
        {"format", "brinewright archive 1"},
        {"at", at},
        {"identity", page.text(0)},
        {"made", page.text(1)},
        {"mark", last.empty() ? mark_of(0, page.text(2))
                              : mark_of(last.front().integer(0), last.front().text(1))},
        {"files", files}};
    constexpr int kIndent = 2;
    return write_file(folder + "/manifest.json", all.dump(kIndent) + "\n");
}

Result<void> export_all(Connection& c, const std::string& folder, const std::string& at) {
    BW_CHECK(write_file(folder + "/README.txt", kReadme));
    BW_CHECK(json_lines(c, folder + "/trail.jsonl",
                        "SELECT seq, hash, body FROM entry ORDER BY seq", {"seq", "hash", "body"}));
    BW_CHECK(json_lines(c, folder + "/records.jsonl",
                        "SELECT kind, id, version, entry, state, title, body, facts FROM record "
                        "ORDER BY entry, kind, id, version",
                        {"kind", "id", "version", "entry", "state", "title", "body", "facts"}));
    BW_CHECK(json_lines(c, folder + "/requests.jsonl",
                        "SELECT request, entry, answer FROM request ORDER BY entry",
                        {"request", "entry", "answer"}));
    BW_CHECK(csv(c, folder + "/measurements.csv",
                 "kind,id,analyte,sample,batch,run,line,at,digits,value,u,unit,state",
                 " FROM measurement ORDER BY kind, id, ordinal"));
    BW_CHECK(attachments(c, folder));
    return manifest(c, folder, at);
}

}  // namespace

Result<void> Books::export_to(const std::string& folder, const std::string& at) const {
    BW_CHECK(milliseconds_of(at));
    std::error_code error;
    if (fs::exists(folder, error) && !fs::is_empty(folder, error)) {
        return fail(ProblemCode::DuplicateName, "the folder is not empty: name a new one",
                    {folder, 0, {}});
    }
    fs::create_directories(folder + "/attachments", error);
    if (error) {
        return fail(ProblemCode::Disk, fmt::format("making the folder failed: {}", error.message()),
                    {folder, 0, {}});
    }
    return shelf_->read_snapshot([&](Connection& c) { return export_all(c, folder, at); });
}

}  // namespace bw::store
