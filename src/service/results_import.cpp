// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/results_import.hpp"

#include <algorithm>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "io/table_file.hpp"
#include "store/digest.hpp"

namespace bw::service {
namespace {

constexpr std::size_t kShortDigest = 16;

const std::string* named(const std::vector<std::pair<std::string, std::string>>& pairs,
                         const std::string& name) {
    for (const auto& [key, value] : pairs) {
        if (key == name) {
            return &value;
        }
    }
    return nullptr;
}

/// A sample of which it is not known what test portion it is, with all its readings.
struct Unplaced {
    std::string name, why, first_cell, last_cell;
    int readings = 1;
    [[nodiscard]] std::string sentence() const {
        return readings == 1 ? fmt::format("{} ({}): {}", first_cell, base::quoted(name), why)
                             : fmt::format("{} to {} ({} readings of {}): {}", first_cell,
                                           last_cell, readings, base::quoted(name), why);
    }
};

/// Matches readings with the books, one after the other.
class Matcher {
public:
    Matcher(const Desk& desk, const ImportOrder& order) : desk_(desk), order_(order) {}

    Result<void> add(const io::Reading& reading) {
        BW_TRY(portion, portion_of(reading));
        if (!portion) {
            return {};
        }
        ResultEntry entry;
        entry.portion = *portion;
        return take(reading, std::move(entry));
    }

    /// A check sample that the reading's method has; others stay in the file.
    Result<void> add_check(const io::Reading& reading) {
        const std::string* own = named(order_.methods, reading.analyte);
        BW_TRY(method, if_kept<works::Method>(*desk_.books, own != nullptr ? *own : order_.method));
        if (!method || std::none_of(method->is.checks.begin(), method->is.checks.end(),
                                    [&](const works::CheckSample& c) {
                                        return c.name == reading.sample &&
                                               c.analyte == reading.analyte;
                                    })) {
            return {};
        }
        ResultEntry entry;
        entry.check_sample = reading.sample;
        return take(reading, std::move(entry));
    }

    [[nodiscard]] std::vector<ResultEntry>& entries() { return entries_; }
    [[nodiscard]] const std::vector<Unplaced>& unplaced() const { return unplaced_; }

private:
    Result<void> take(const io::Reading& reading, ResultEntry entry) {
        const std::string* own = named(order_.methods, reading.analyte);
        entry.analyte = reading.analyte;
        entry.method = own != nullptr ? *own : order_.method;
        entry.unit = reading.unit.text();
        entry.read_at = reading.measured_at;
        entry.place = reading.cell;
        if (entry.method.empty()) {
            return refused(reading, fmt::format("no method is named for {}", reading.analyte));
        }
        if (reading.over_range) {
            return refused(reading, "it is over the range: dilute and read again");
        }
        if (!reading.unit.dimension) {
            return refused(reading, "a pure number is no amount of a constituent");
        }
        BW_TRY(digits, digits_of(reading));
        entry.digits = digits;
        BW_TRY(dilution, dilution_of(reading));
        entry.dilution = dilution;
        if (reading.blank) {
            entry.blank = base::format_exact(*reading.blank);
        }
        entries_.push_back(std::move(entry));
        return {};
    }

    static tl::unexpected<Problem> refused(const io::Reading& reading, const std::string& why) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} ({} of {}): {}", reading.cell, reading.analyte,
                                base::quoted(reading.sample), why));
    }

    static Result<std::string> digits_of(const io::Reading& reading) {
        if (!reading.below_limit) {
            return reading.digits;
        }
        if (!reading.limit) {
            return refused(reading, "it is below a limit that neither the table nor the map says");
        }
        return "< " + reading.limit->digits;
    }

    /// The factor that is still to be multiplied in.
    static Result<std::string> dilution_of(const io::Reading& reading) {
        if (reading.dilution) {
            return reading.dilution_applied ? std::string() : reading.dilution->digits;
        }
        if (reading.final_volume && reading.sample_mass) {
            return refused(reading, "a mass made up to a volume needs its dilution in the table");
        }
        if (!reading.final_mass || !reading.sample_mass || reading.dilution_applied) {
            return std::string();
        }
        if (reading.final_mass->unit != reading.sample_mass->unit ||
            !(reading.sample_mass->value > 0)) {
            return refused(reading, "its masses before and after dilution are in two units");
        }
        return base::format_exact(reading.final_mass->value / reading.sample_mass->value);
    }

    /// Nothing where it is not known; unplaced() tells.
    Result<std::optional<std::string>> portion_of(const io::Reading& reading) {
        const std::string* given = named(order_.portions, reading.sample);
        const std::string name = given != nullptr ? *given : reading.sample;
        if (const std::string* known = named(known_, name)) {
            return std::optional(*known);
        }
        BW_TRY(portion, look_up(reading, name));
        if (portion && !order_.batch.empty()) {
            BW_TRY(is, kept<works::TestPortion>(*desk_.books, *portion));
            if (is.is.batch != order_.batch) {
                return refused(reading, fmt::format("it is of batch {}, and the import is for {}",
                                                    is.is.batch, order_.batch));
            }
        }
        if (portion) {
            known_.emplace_back(name, *portion);
        }
        return std::move(portion);
    }

    Result<std::optional<std::string>> look_up(const io::Reading& reading,
                                               const std::string& name) {
        BW_TRY(portion, if_kept<works::TestPortion>(*desk_.books, name));
        if (portion) {
            return std::optional(portion->is.id());
        }
        store::ListQuery query;
        query.id_prefix = name + "/";
        BW_TRY(all, kept_list<works::TestPortion>(*desk_.books, query));
        std::vector<std::string> of_sample;
        for (const auto& one : all) {
            if (!one.is.set_aside) {
                of_sample.push_back(one.is.id());
            }
        }
        if (of_sample.size() == 1) {
            return std::optional(of_sample.front());
        }
        const auto before = std::ranges::find(unplaced_, reading.sample, &Unplaced::name);
        if (before != unplaced_.end()) {
            before->last_cell = reading.cell;
            ++before->readings;
        } else {
            unplaced_.push_back(
                {reading.sample,
                 of_sample.empty()
                     ? "no test portion has this name: say which test portion it is"
                     : fmt::format("the sample has {} test portions: say which of them it is",
                                   of_sample.size()),
                 reading.cell, reading.cell});
        }
        return std::optional<std::string>();
    }

    const Desk& desk_;
    const ImportOrder& order_;
    std::vector<ResultEntry> entries_;
    std::vector<Unplaced> unplaced_;
    std::vector<std::pair<std::string, std::string>> known_;
};

/// What readings that are no results of a batch are for; of one kind or of both.
std::string beside_words(std::size_t blanks, std::size_t checks) {
    const auto counted = [](std::size_t count, const char* one, const char* more) {
        return count == 0 ? std::string() : fmt::format("{} {}", count, count == 1 ? one : more);
    };
    std::vector<std::string> both{
        counted(blanks, "reading of a blank", "readings of blanks"),
        counted(checks, "reading of a check sample", "readings of check samples")};
    std::erase(both, std::string());
    return fmt::format(
        "{} {}{}", base::join_words(both),
        blanks + checks == 1 ? "is no result of a batch" : "are no results of a batch",
        checks == 0 ? "." : "; check samples that a method asks for judge the run.");
}

Result<ImportPlan> planned(const Desk& desk, const ImportOrder& order) {
    BW_TRY(document, io::parse_document(order.map, "column map"));
    BW_TRY(map, io::read_column_map(document));
    BW_TRY(table,
           io::read_table(order.bytes, order.file_name, {map.encoding, map.separator}, map.sheet));
    const io::ResultImport read = io::import_results(table, map);
    ImportPlan out;
    out.preview = io::preview_of(read);
    for (const io::Refusal& refusal : read.refused) {
        out.problems.push_back(refusal.sentence());
    }
    if (read.refused_count > read.refused.size()) {
        out.problems.push_back(
            fmt::format("and {} more cells", read.refused_count - read.refused.size()));
    }
    Matcher matcher(desk, order);
    const auto note = [&](const Result<void>& added) -> Result<void> {
        if (!added && added.error().code != ProblemCode::BadInput) {
            return added;
        }
        if (!added) {
            out.problems.push_back(added.error().message);
        }
        return {};
    };
    for (const io::Reading& reading : read.readings) {
        BW_CHECK(note(matcher.add(reading)));
    }
    for (const Unplaced& one : matcher.unplaced()) {
        out.problems.push_back(one.sentence());
        out.unplaced.push_back(one.name);
    }
    for (const io::Reading& reading : read.checks) {
        BW_CHECK(note(matcher.add_check(reading)));
    }
    out.entries = std::move(matcher.entries());
    for (const base::Notice& notice : read.notices) {
        out.notes.push_back(notice.text);
    }
    if (!read.blanks.empty() || !read.checks.empty()) {
        out.notes.push_back(beside_words(read.blanks.size(), read.checks.size()));
    }
    if (out.problems.empty() && out.entries.empty()) {
        out.problems.emplace_back("the table holds no reading of a sample");
    }
    return out;
}

/// Errors   Refused for a table whose very bytes are in the books.
Result<void> expect_new(const Desk& desk, const ImportOrder& order) {
    const std::string digest = store::sha256_hex(order.bytes);
    const auto before = desk.books->attachment(digest);
    if (before) {
        return fail(
            ProblemCode::Refused,
            fmt::format("{} is in the books already, as {} (SHA-256 {}): a table is imported "
                        "once",
                        base::quoted(order.file_name), base::quoted(before->name),
                        digest.substr(0, kShortDigest)));
    }
    if (before.error().code != ProblemCode::NotFound) {
        return tl::make_unexpected(before.error());
    }
    return {};
}

/// What keeps the books from answering is no fault of a table.
bool is_of_books(ProblemCode code) {
    return code == ProblemCode::Disk || code == ProblemCode::BrokenBooks ||
           code == ProblemCode::Internal;
}

}  // namespace

Result<ImportPlan> plan_import(const Desk& desk, const ImportOrder& order) {
    BW_TRY(out, planned(desk, order));
    if (const auto fresh = expect_new(desk, order); !fresh) {
        if (fresh.error().code != ProblemCode::Refused) {
            return tl::make_unexpected(fresh.error());
        }
        out.problems.insert(out.problems.begin(), fresh.error().message);
    }
    if (out.problems.empty()) {
        auto run = preview_run(desk, out.entries);
        if (run) {
            out.run = std::move(*run);
            BW_TRY(remarks, duplicates_of_run(*desk.books, out.run));
            out.duplicates = std::move(remarks);
            BW_TRY(doubts, doubts_of_run(*desk.books, out.run));
            out.far_from_wanted = std::move(doubts);
        } else if (is_of_books(run.error().code)) {
            return tl::make_unexpected(run.error());
        } else {
            out.problems.push_back(run.error().message);
        }
    }
    return std::move(out);
}

namespace {

Result<store::Receipt> import_anew(const Desk& desk, const ImportOrder& order,
                                   const Intent& intent) {
    BW_CHECK(works::duty_for(desk.person, works::Deed::EnterResults));
    BW_CHECK(expect_new(desk, order));
    BW_TRY(plan, plan_import(desk, order));
    if (!plan.committable()) {
        return fail(ProblemCode::BadInput,
                    fmt::format("nothing is kept of {}: {}{}", base::quoted(order.file_name),
                                plan.problems.front(),
                                plan.problems.size() > 1
                                    ? fmt::format(" (and {} more)", plan.problems.size() - 1)
                                    : std::string()));
    }
    return enter_results(desk, plan.entries, ResultSource{order.file_name, order.bytes, order.map},
                         intent);
}

}  // namespace

Result<store::Receipt> import_results(const Desk& desk, const ImportOrder& order,
                                      const Intent& intent) {
    return done_once(desk, {works::Deed::EnterResults, "results import", "", ""}, intent,
                     [&] { return import_anew(desk, order, intent); });
}

}  // namespace bw::service
