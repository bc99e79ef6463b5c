// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/workbook_parts.hpp"

#include <array>
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
            return fail(ProblemCode::BadInput, "the workbook is encrypted: save it without a password");
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
        return fail(ProblemCode::TooLarge,
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
        return fail(ProblemCode::BadInput,
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
    const bool whole = got == static_cast<zip_int64_t>(out.size()) && zip_fread(file, &beyond, 1) == 0;
    return zip_fclose(file) == 0 && whole ? Result<std::string>(std::move(out)) : damaged();
}

Result<std::string> date_of_serial(double days, bool from_1904) {
    constexpr double kSecondsPerDay = 86400;
    constexpr double kLast = 2958466;        // 10000-01-01
    constexpr double kFalseLeapDay = 60;     // of 1900
    constexpr long kDaysTo1904 = 1462;       // from 1899-12-30
    constexpr long kCivilDaysTo1899 = 25569;  // from 1899-12-30 to 1970-01-01
    if (!(days >= 0) || days >= kLast || (!from_1904 && std::floor(days) == kFalseLeapDay)) {
        return fail(ProblemCode::OutOfRange, "the date does not exist");
    }
    const double rounded = std::round(days * kSecondsPerDay);
    const long day = static_cast<long>(std::floor(rounded / kSecondsPerDay));
    const long second = static_cast<long>(rounded - static_cast<double>(day) * kSecondsPerDay);
    constexpr long kPerHour = 3600;
    constexpr long kPerMinute = 60;
    const std::string time = fmt::format("{:02}:{:02}:{:02}", second / kPerHour,
                                         second % kPerHour / kPerMinute, second % kPerMinute);
    if (day == 0 && !from_1904) {
        return time;
    }
    const long before_false_day = !from_1904 && day < static_cast<long>(kFalseLeapDay) ? 1 : 0;
    // Days since 1970 to year, month, day: eras of 400 years that begin on 1 March.
    constexpr long kDaysTo1970 = 719468;  // from 0000-03-01
    constexpr long kDaysOfEra = 146097;
    constexpr long kDaysOfYear = 365;
    constexpr long kDaysOf4Years = 1460;
    constexpr long kDaysOfCentury = 36524;
    const long z = day + before_false_day + (from_1904 ? kDaysTo1904 : 0) - kCivilDaysTo1899 + kDaysTo1970;
    const long era = z / kDaysOfEra;
    const long of_era = z - era * kDaysOfEra;
    const long year_of_era =
        (of_era - of_era / kDaysOf4Years + of_era / kDaysOfCentury - of_era / (kDaysOfEra - 1)) / kDaysOfYear;
    const long of_year = of_era - (kDaysOfYear * year_of_era + year_of_era / 4 - year_of_era / 100);
    const long from_march = (5 * of_year + 2) / 153;  // months of 153 days in five
    const long month = from_march < 10 ? from_march + 3 : from_march - 9;
    const long year = year_of_era + era * 400 + (month <= 2 ? 1 : 0);
    const std::string date = fmt::format("{:04}-{:02}-{:02}", year, month,
                                         of_year - (153 * from_march + 2) / 5 + 1);
    return second == 0 ? date : date + "T" + time;
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
        } else if (!in_brackets && std::string_view("dmyhsDMYHS").find(c) != std::string_view::npos) {
            return !code.starts_with("General") && !code.starts_with("Standard");
        }
    }
    return false;
}

bool is_date_form(int number) {
    constexpr auto kRanges = std::to_array<std::pair<int, int>>({{14, 22}, {27, 36}, {45, 47}, {50, 58}});
    for (const auto& [first, last] : kRanges) {
        if (number >= first && number <= last) {
            return true;
        }
    }
    return false;
}

}  // namespace bw::io
