// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/workbook_parts.hpp"

#include <array>
#include <chrono>
#include <cmath>
#include <utility>

#include <fmt/format.h>
#include <zip.h>

#include "base/text.hpp"
#include "io/workbook_table.hpp"

namespace bw::io {
namespace {

// A part as a tree takes ten times its bytes or more.
constexpr zip_uint64_t kMostPartBytes = 24U << 20U;

tl::unexpected<Problem> damaged() {
    return fail(ProblemCode::BadInput,
                "the workbook is damaged: save it again, or export comma-separated text");
}

Result<void> check_limits(zip_t* archive, std::size_t packed) {
    const zip_int64_t entries = zip_get_num_entries(archive, 0);
    if (entries > static_cast<zip_int64_t>(kMostPackedEntries)) {
        return fail(ProblemCode::TooLarge,
                    fmt::format("the workbook packs {} files: at most {} are read", entries,
                                kMostPackedEntries));
    }
    zip_uint64_t unpacked = 0;
    for (zip_int64_t i = 0; i < entries; ++i) {
        zip_stat_t entry{};
        if (zip_stat_index(archive, static_cast<zip_uint64_t>(i), 0, &entry) != 0) {
            return damaged();
        }
        if (entry.encryption_method != ZIP_EM_NONE) {
            return fail(ProblemCode::BadInput,
                        "the workbook is encrypted: save it without a password");
        }
        if (entry.size > kMostUnpackedBytes) {
            unpacked = kMostUnpackedBytes + 1;
            break;
        }
        unpacked += entry.size;
        if (entry.size > kMostUnpackedRatio * (entry.comp_size + 1)) {
            unpacked = kMostUnpackedBytes + 1;
            break;
        }
    }
    if (unpacked > kMostUnpackedBytes || unpacked > kMostUnpackedRatio * packed) {
        return fail(
            ProblemCode::TooLarge,
            fmt::format("the workbook unpacks to more than {} MiB or {} times its size: it is "
                        "no table of a laboratory",
                        kMostUnpackedBytes >> 20U, kMostUnpackedRatio));
    }
    return {};
}

}  // namespace

Result<WorkbookParts> WorkbookParts::open(std::string_view bytes) {
    constexpr std::string_view kPacked = "PK\x03\x04";
    if (!bytes.starts_with(kPacked)) {
        const bool old = bytes.starts_with("\xD0\xCF\x11\xE0");
        return fail(
            ProblemCode::BadInput,
            old ? "this is a workbook of the old binary form, or one with a password: save it "
                  "as .xlsx without a password"
                : "this is no workbook, whatever its name says: name comma-separated text .csv");
    }
    zip_error_t error;
    zip_error_init(&error);
    zip_source_t* source = zip_source_buffer_create(bytes.data(), bytes.size(), 0, &error);
    zip_t* archive = source == nullptr ? nullptr : zip_open_from_source(source, ZIP_RDONLY, &error);
    zip_error_fini(&error);
    if (archive == nullptr) {
        if (source != nullptr) {
            zip_source_free(source);
        }
        return damaged();
    }
    WorkbookParts out(archive);
    BW_CHECK(check_limits(archive, bytes.size()));
    return out;
}

WorkbookParts::WorkbookParts(WorkbookParts&& other) noexcept
    : archive_(std::exchange(other.archive_, nullptr)) {}

WorkbookParts::~WorkbookParts() {
    if (archive_ != nullptr) {
        zip_discard(static_cast<zip_t*>(archive_));
    }
}

bool WorkbookParts::has(const std::string& name) const {
    return zip_name_locate(static_cast<zip_t*>(archive_), name.c_str(), 0) >= 0;
}

Result<std::string> WorkbookParts::read(const std::string& name) const {
    auto* archive = static_cast<zip_t*>(archive_);
    zip_stat_t entry{};
    if (zip_stat(archive, name.c_str(), 0, &entry) != 0) {
        return fail(ProblemCode::BadInput,
                    fmt::format("the packed file lacks {}: it is no workbook", base::quoted(name)));
    }
    if (entry.size > kMostPartBytes) {
        return fail(ProblemCode::TooLarge,
                    fmt::format("{} in the workbook has {} bytes: at most {} are read; export "
                                "comma-separated text",
                                base::quoted(name), entry.size, kMostPartBytes));
    }
    zip_file_t* file = zip_fopen(archive, name.c_str(), 0);
    if (file == nullptr) {
        return damaged();
    }
    std::string out(static_cast<std::size_t>(entry.size), '\0');
    const zip_int64_t got = zip_fread(file, out.data(), out.size());
    char beyond = 0;
    const bool whole =
        got == static_cast<zip_int64_t>(out.size()) && zip_fread(file, &beyond, 1) == 0;
    return zip_fclose(file) == 0 && whole ? Result<std::string>(std::move(out)) : damaged();
}

Result<std::string> date_of_serial(double days, bool from_1904) {
    constexpr double kSecondsPerDay = 86400;
    constexpr double kLast = 2957003;     // before the year 10000 in either calendar
    constexpr double kFalseLeapDay = 60;  // of 1900
    if (!(days >= 0) || days >= kLast || (!from_1904 && std::floor(days) == kFalseLeapDay)) {
        return fail(ProblemCode::OutOfRange, "the date does not exist");
    }
    const double rounded = std::round(days * kSecondsPerDay);
    const int day = static_cast<int>(std::floor(rounded / kSecondsPerDay));
    const auto second = std::chrono::seconds(static_cast<int>(rounded - day * kSecondsPerDay));
    const std::chrono::hh_mm_ss clock(second);
    const std::string time = fmt::format("{:02}:{:02}:{:02}", clock.hours().count(),
                                         clock.minutes().count(), clock.seconds().count());
    if (day == 0 && !from_1904) {
        return time;
    }
    using namespace std::chrono_literals;
    constexpr std::chrono::year_month_day kBegin1900 = 1899y / 12 / 30;
    constexpr std::chrono::year_month_day kBegin1904 = 1904y / 1 / 1;
    const int before_false_day = !from_1904 && day < kFalseLeapDay ? 1 : 0;
    const std::chrono::year_month_day found =
        std::chrono::sys_days(from_1904 ? kBegin1904 : kBegin1900) +
        std::chrono::days(day + before_false_day);
    const std::string date =
        fmt::format("{:04}-{:02}-{:02}", static_cast<int>(found.year()),
                    static_cast<unsigned>(found.month()), static_cast<unsigned>(found.day()));
    return second.count() == 0 ? date : date + "T" + time;
}

bool is_date_form(std::string_view code) {
    bool in_quotes = false;
    bool in_brackets = false;
    for (std::size_t i = 0; i < code.size(); ++i) {
        const char c = code[i];
        if (c == '"') {
            in_quotes = !in_quotes;
        } else if (in_quotes) {
            continue;
        } else if (c == '[') {
            in_brackets = true;
        } else if (c == ']') {
            in_brackets = false;
        } else if (c == '\\' || c == '_' || c == '*') {
            ++i;
        } else if (!in_brackets &&
                   std::string_view("dmyhsDMYHS").find(c) != std::string_view::npos) {
            return !code.starts_with("General") && !code.starts_with("Standard");
        }
    }
    return false;
}

bool is_date_form(int number) {
    constexpr auto kRanges =
        std::to_array<std::pair<int, int>>({{14, 22}, {27, 36}, {45, 47}, {50, 58}});
    for (const auto& [first, last] : kRanges) {
        if (number >= first && number <= last) {
            return true;
        }
    }
    return false;
}

}  // namespace bw::io
