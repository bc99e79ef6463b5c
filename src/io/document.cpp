// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/document.hpp"

#include <algorithm>
#include <cerrno>
#include <charconv>
#include <cmath>
#include <cstring>
#include <filesystem>
#include <fstream>
#include <set>

#include <fmt/format.h>
#include <nlohmann/json.hpp>

// The library's own assertions are reachable by input in this version ("[+a]"); it reports the
// error all the same.
#define TOML_ASSERT(expression) static_cast<void>(0)
#include <toml++/toml.h>

#include "base/text.hpp"

namespace bw::io {
namespace {

constexpr int kDeepest = 32;

tl::unexpected<Problem> bad(const std::string& name, int line, std::string why,
                            std::string field = {}) {
    return fail(ProblemCode::BadInput, std::move(why), {name, line, std::move(field)});
}

int line_of_offset(std::string_view text, std::size_t offset) {
    return 1 + static_cast<int>(std::count(
                   text.begin(), text.begin() + static_cast<std::ptrdiff_t>(offset), '\n'));
}

Result<Node> from_toml(const toml::node& in, const std::string& name, int depth) {
    Node out;
    out.line = static_cast<int>(in.source().begin.line);
    if (depth > kDeepest) {
        return bad(name, out.line, "tables are nested too deep");
    }
    if (const auto* table = in.as_table()) {
        Node::Table entries;
        for (const auto& [key, value] : *table) {
            BW_TRY(node, from_toml(value, name, depth + 1));
            entries.push_back({std::string(key.str()), std::move(node)});
        }
        // toml++ keeps keys sorted by name; the order of the file is the order of lines.
        std::stable_sort(entries.begin(), entries.end(),
                         [](const auto& a, const auto& b) { return a.value.line < b.value.line; });
        out.value = std::move(entries);
    } else if (const auto* array = in.as_array()) {
        Node::Array items;
        for (const auto& value : *array) {
            BW_TRY(node, from_toml(value, name, depth + 1));
            items.push_back(std::move(node));
        }
        out.value = std::move(items);
    } else if (const auto text = in.value_exact<std::string>()) {
        out.value = *text;
    } else if (const auto flag = in.value_exact<bool>()) {
        out.value = *flag;
    } else if (const auto whole = in.value_exact<std::int64_t>()) {
        out.value = static_cast<double>(*whole);
    } else if (const auto number = in.value_exact<double>()) {
        if (!std::isfinite(*number)) {
            return bad(name, out.line,
                       "a number is nan or inf: write a finite number, or leave the key out");
        }
        out.value = *number;
    } else {
        return bad(name, out.line, "a date or time stands where none is used: put it in quotes");
    }
    return out;
}

/// Looks for what the TOML library cannot be given: characters outside quotes and comments that are
/// not ASCII, and lines with so many dots that its recursion over dotted keys would not end well.
Result<void> screen_toml(std::string_view text, const std::string& name) {
    constexpr int kMostDots = 2 * kDeepest;  // of one key
    constexpr int kMostDotsInLine = 1000;    // whatever it holds
    constexpr unsigned char kAscii = 0x80;
    int line = 1;
    int dots = 0;
    int dots_in_line = 0;
    std::string closing;  // what ends the string or comment that is open
    for (std::size_t i = 0; i < text.size(); ++i) {
        const char c = text[i];
        dots_in_line = c == '\n' ? 0 : dots_in_line + (c == '.' ? 1 : 0);
        line += c == '\n' ? 1 : 0;
        if (dots_in_line > kMostDotsInLine) {
            return bad(name, line, "tables are nested too deep");
        }
        if (!closing.empty()) {
            if (closing[0] == '"' && c == '\\' && i + 1 < text.size() && text[i + 1] != '\n') {
                ++i;
                if (static_cast<unsigned char>(text[i]) >= kAscii) {
                    return bad(name, line,
                               "not valid TOML: a backslash stands before a letter that is not "
                               "plain ASCII; write two backslashes for one");
                }
            } else if (text.substr(i, closing.size()) == closing ||
                       (closing.size() == 1 && c == '\n')) {
                i += closing.size() - 1;
                closing.clear();
            }
        } else if (c == '"' || c == '\'') {
            const bool many = text.substr(i, 3) == std::string(3, c);
            closing.assign(many ? 3 : 1, c);
            i += closing.size() - 1;
        } else if (c == '#') {
            closing = "\n";
        } else if (static_cast<unsigned char>(c) >= kAscii) {
            return bad(name, line,
                       "not valid TOML: a letter outside quotes is not plain ASCII; put the key or "
                       "value in quotes");
        } else {
            dots = c == '.' ? dots + 1 : c == '\n' || c == '=' || c == ',' ? 0 : dots;
            if (dots > kMostDots) {
                return bad(name, line, "tables are nested too deep");
            }
        }
    }
    return {};
}

/// Text of plain ASCII that stands for the given one. This version of the TOML library runs into
/// undefined behaviour on some letters where it expects none, and what it takes for quoted need not
/// be what screen_toml takes for it; so it is never shown any.
class AsciiTwin {
public:
    explicit AsciiTwin(std::string_view text) {
        // The mark depends on the text, so that no text can hold its own, not even by way of
        // escapes. It begins with a letter that no escape has: a backslash before it stays an
        // error.
        std::size_t seed = std::hash<std::string_view>{}(text);
        do {
            mark_ = fmt::format("qc{:x}x", seed++);
        } while (text.find(mark_) != std::string_view::npos);
        for (const char c : text) {
            const auto byte = static_cast<unsigned char>(c);
            constexpr unsigned char kAscii = 0x80;
            twin_ += byte < kAscii ? std::string(1, c) : fmt::format("{}{:02x}", mark_, byte);
        }
    }
    [[nodiscard]] const std::string& text() const { return twin_; }
    [[nodiscard]] std::string back(std::string_view twin) const {
        std::string out;
        while (true) {
            const auto at = twin.find(mark_);
            out += twin.substr(0, at);
            unsigned byte = 0;
            if (at == std::string_view::npos) {
                return out;
            }
            const char* digits = twin.data() + at + mark_.size();
            constexpr int kHex = 16;
            if (twin.size() < at + mark_.size() + 2 ||
                std::from_chars(digits, digits + 2, byte, kHex).ptr != digits + 2) {
                out += mark_;
                twin.remove_prefix(at + mark_.size());
                continue;
            }
            out += static_cast<char>(byte);
            twin.remove_prefix(at + mark_.size() + 2);
        }
    }

private:
    std::string mark_;
    std::string twin_;
};

void restore(Node& node, const AsciiTwin& twin) {
    if (auto* text = std::get_if<std::string>(&node.value)) {
        *text = twin.back(*text);
    } else if (auto* table = std::get_if<Node::Table>(&node.value)) {
        for (Node::Entry& entry : *table) {
            entry.key = twin.back(entry.key);
            restore(entry.value, twin);
        }
    } else if (auto* array = std::get_if<Node::Array>(&node.value)) {
        for (Node& item : *array) {
            restore(item, twin);
        }
    }
}

Result<Document> parse_toml(std::string_view text, std::string name) {
    BW_CHECK(screen_toml(text, name));
    const AsciiTwin twin(text);
    try {
        const toml::table table = toml::parse(twin.text(), std::string_view(name));
        BW_TRY(root, from_toml(table, name, 0));
        restore(root, twin);
        return Document{std::move(name), std::move(root)};
    } catch (const toml::parse_error& e) {
        std::string what = twin.back(e.description());
        std::replace(what.begin(), what.end(), '\n', ' ');
        return bad(name, static_cast<int>(e.source().begin.line),
                   fmt::format("not valid TOML: {}", what));
    }
}

Result<Node> from_json(const nlohmann::ordered_json& in, const std::string& name,
                       const std::string& path, int depth) {
    Node out;
    if (depth > kDeepest) {
        return bad(name, 0, "objects are nested too deep", path);
    }
    if (in.is_object()) {
        Node::Table entries;
        for (const auto& [key, value] : in.items()) {
            const std::string inner = path.empty() ? key : fmt::format("{}.{}", path, key);
            BW_TRY(node, from_json(value, name, inner, depth + 1));
            entries.push_back({key, std::move(node)});
        }
        out.value = std::move(entries);
    } else if (in.is_array()) {
        Node::Array items;
        for (std::size_t i = 0; i < in.size(); ++i) {
            BW_TRY(node, from_json(in[i], name, fmt::format("{}[{}]", path, i), depth + 1));
            items.push_back(std::move(node));
        }
        out.value = std::move(items);
    } else if (in.is_string()) {
        out.value = in.get<std::string>();
    } else if (in.is_boolean()) {
        out.value = in.get<bool>();
    } else if (in.is_number()) {
        const double number = in.get<double>();
        if (!std::isfinite(number)) {
            return bad(name, 0, "a number is not finite", path);
        }
        out.value = number;
    } else {
        return bad(name, 0, "null stands where a value is needed: leave the key out", path);
    }
    return out;
}

Result<Document> parse_json(std::string_view text, std::string name) {
    std::vector<std::set<std::string>> keys;
    std::string twice;
    bool too_many = false;
    constexpr std::size_t kMostKeys = 10000;  // of one object: beyond any file of these kinds
    const auto watch = [&](int depth, nlohmann::ordered_json::parse_event_t event,
                           nlohmann::ordered_json& parsed) {
        using Event = nlohmann::ordered_json::parse_event_t;
        if (event == Event::object_start) {
            keys.resize(static_cast<std::size_t>(depth) + 1);
            keys.back().clear();
        } else if (event == Event::key && !keys.empty()) {
            const auto at =
                std::min(static_cast<std::size_t>(std::max(depth - 1, 0)), keys.size() - 1);
            if (!keys[at].insert(parsed.get<std::string>()).second && twice.empty()) {
                twice = parsed.get<std::string>();
            }
            too_many = too_many || keys[at].size() > kMostKeys;
            return !too_many;
        }
        return true;
    };
    try {
        const auto json = nlohmann::ordered_json::parse(text, watch);
        if (too_many) {
            return bad(name, 0, fmt::format("an object has more than {} keys", kMostKeys));
        }
        if (!twice.empty()) {
            return bad(name, 0, "this key stands twice in one object", twice);
        }
        BW_TRY(root, from_json(json, name, "", 0));
        return Document{std::move(name), std::move(root)};
    } catch (const nlohmann::ordered_json::parse_error& e) {
        const std::size_t offset = std::min(e.byte > 0 ? e.byte - 1 : 0, text.size());
        return bad(name, line_of_offset(text, offset),
                   "not valid JSON: a value, comma, quote or bracket is missing or misplaced");
    } catch (const nlohmann::ordered_json::exception&) {
        return bad(name, 0, "not valid JSON: a number is too large");
    }
}

}  // namespace

const Node* Node::find(std::string_view key) const {
    const Table* entries = table();
    if (entries == nullptr) {
        return nullptr;
    }
    for (const auto& [name, node] : *entries) {
        if (name == key) {
            return &node;
        }
    }
    return nullptr;
}

std::string_view Node::kind() const {
    switch (value.index()) {
        case 0:
            return "text";
        case 1:
            return "a number";
        case 2:
            return "true or false";
        case 3:
            return "a table";
        default:
            return "a list";
    }
}

Result<Document> parse_document(std::string_view text, std::string name) {
    if (text.size() > kLargestFile) {
        return fail(
            ProblemCode::TooLarge,
            fmt::format("the file has {} bytes: at most {} are read", text.size(), kLargestFile),
            {name, 0, {}});
    }
    constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
    if (text.substr(0, kByteOrderMark.size()) == kByteOrderMark) {
        text.remove_prefix(kByteOrderMark.size());
    }
    if (base::trim(text).empty()) {
        return bad(name, 0,
                   "the file is empty: it needs at least format, kind and what the kind holds");
    }
    if (const auto at = base::first_invalid_utf8(text)) {
        return bad(name, line_of_offset(text, *at),
                   "these bytes are not UTF-8: save the file as UTF-8 text (it may be UTF-16, or a "
                   "Windows code page)");
    }
    if (const auto at = text.find('\0'); at != std::string_view::npos) {
        return bad(name, line_of_offset(text, at), "there is a NUL byte: this is not a text file");
    }
    return base::trim(text).front() == '{' ? parse_json(text, std::move(name))
                                           : parse_toml(text, std::move(name));
}

Result<Document> read_document(const std::string& path) {
    namespace fs = std::filesystem;
    std::error_code error;
    const fs::file_status status = fs::status(path, error);
    if (!fs::exists(status)) {
        return bad(path, 0, "there is no such file");
    }
    if (fs::is_directory(status)) {
        return bad(path, 0, "this is a folder: name a file");
    }
    std::ifstream in(path, std::ios::binary);
    if (!in) {
        return fail(ProblemCode::Disk,
                    fmt::format("the file cannot be opened: {}", std::strerror(errno)),
                    {path, 0, {}});
    }
    std::string text(kLargestFile + 1, '\0');
    in.read(text.data(), static_cast<std::streamsize>(text.size()));
    if (in.bad()) {
        return fail(ProblemCode::Disk, "the file cannot be read to its end", {path, 0, {}});
    }
    text.resize(static_cast<std::size_t>(in.gcount()));
    if (text.size() > kLargestFile) {
        return fail(
            ProblemCode::TooLarge,
            fmt::format("the file is larger than {} bytes, the most that is read", kLargestFile),
            {path, 0, {}});
    }
    return parse_document(text, path);
}

Result<std::vector<Document>> read_documents(const std::vector<std::string>& paths) {
    std::vector<Document> out;
    for (const std::string& path : paths) {
        BW_TRY(document, read_document(path));
        out.push_back(std::move(document));
    }
    return out;
}

bool is_kind(const Document& document, std::string_view kind) {
    const Node* node = document.root.find("kind");
    return node != nullptr && node->text() != nullptr && *node->text() == kind;
}

}  // namespace bw::io
