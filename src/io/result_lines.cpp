// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/result_lines.hpp"

#include <algorithm>
#include <map>
#include <unordered_map>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"

namespace bw::io {
namespace {

constexpr char kBetween = '\x1f';  // stands in no name

std::string analyte_key(const Reading& r) {
    return r.sample + kBetween + r.analyte + kBetween + std::to_string(r.repeat);
}

std::string line_key(const Reading& r) {
    return r.sample + kBetween + r.analyte + kBetween + r.wavelength;
}

/// "Ca 317.933".
std::string line_name(const Reading& r) {
    return r.wavelength.empty() ? r.analyte : r.analyte + " " + r.wavelength;
}

Refusal refusal_of(const Reading& r, std::string why, std::string mend) {
    return {r.cell, line_name(r), r.typed, std::move(why), std::move(mend)};
}

/// The most places after the point; nothing where a number has an exponent.
std::optional<int> places_of(const std::vector<std::string>& numbers) {
    std::size_t most = 0;
    for (const std::string& digits : numbers) {
        if (digits.find('e') != std::string::npos) {
            return std::nullopt;
        }
        const auto point = digits.find('.');
        most = std::max(most, point == std::string::npos ? 0 : digits.size() - point - 1);
    }
    constexpr std::size_t kMostPlaces = 20;  // more than a double has
    return most <= kMostPlaces ? std::optional(static_cast<int>(most)) : std::nullopt;
}

/// What makes a mean of several readings of one sample.
class MeanOfLines {
public:
    explicit MeanOfLines(Refusals& refusals) : refusals_(&refusals) {}

    Reading of(const std::vector<Reading>& lines) {
        Reading out = lines.front();
        double sum = 0;
        out.mean_of.clear();
        std::vector<std::string> wavelengths;
        for (const Reading& line : lines) {
            if (!line.value || !(line.unit == out.unit)) {
                refusals_->add(refusal_of(
                    line,
                    line.value ? fmt::format("its unit differs from that of {}, with which a mean "
                                             "is to be made",
                                             out.cell)
                               : std::string("a mean of wavelengths needs a number of each"),
                    "write lines = \"both\" or \"first\" in the map"));
                return out;
            }
            sum += *line.value;
            out.mean_of.push_back(line.digits);
            wavelengths.push_back(line.wavelength);
        }
        // One place more than the readings have: exact for two, and it invents no digits for more.
        const double mean = sum / static_cast<double>(lines.size());
        const auto places = places_of(out.mean_of);
        out.digits = places ? base::format_places(mean, *places + 1) : base::format_exact(mean);
        out.value = base::parse_number(out.digits).value_or(mean);
        out.wavelength = base::join_words(wavelengths);
        return out;
    }

private:
    Refusals* refusals_;
};

std::vector<Reading> settled(std::vector<Reading> readings, LinePolicy policy, Refusals& refusals,
                             std::size_t& dropped) {
    std::unordered_map<std::string, std::vector<std::size_t>> groups;
    for (std::size_t i = 0; i < readings.size(); ++i) {
        groups[analyte_key(readings[i])].push_back(i);
    }
    std::vector<Reading> out;
    MeanOfLines mean(refusals);
    for (std::size_t i = 0; i < readings.size(); ++i) {
        const auto& members = groups[analyte_key(readings[i])];
        if (members.front() != i) {
            ++dropped;
            continue;
        }
        if (members.size() == 1 || policy == LinePolicy::First) {
            out.push_back(readings[i]);
            continue;
        }
        std::vector<Reading> lines;
        for (const std::size_t m : members) {
            lines.push_back(readings[m]);
        }
        out.push_back(mean.of(lines));
    }
    return out;
}

}  // namespace

void number_repeats(ResultImport& import, const ColumnMap& map, Refusals& refusals) {
    for (auto* list : {&import.readings, &import.blanks, &import.checks}) {
        std::unordered_map<std::string, std::pair<int, std::string>> seen;
        for (Reading& reading : *list) {
            auto& [count, first_cell] = seen[line_key(reading)];
            reading.repeat = ++count;
            if (count == 1) {
                first_cell = reading.cell;
            } else if (list == &import.readings && !map.keep_repeats) {
                refusals.add(refusal_of(
                    reading,
                    fmt::format("{} of sample {} stands in {} already", line_name(reading),
                                base::quoted(reading.sample), first_cell),
                    "give each sample its own name, or write repeats = \"keep\" in the map"));
            }
        }
    }
}

void settle_lines(ResultImport& import, const ColumnMap& map, Refusals& refusals) {
    if (map.lines == LinePolicy::Both) {
        return;
    }
    std::size_t dropped = 0;
    for (auto* list : {&import.readings, &import.blanks, &import.checks}) {
        *list = settled(std::move(*list), map.lines, refusals, dropped);
    }
    if (dropped > 0) {
        import.notices.push_back(
            {"lines",
             map.lines == LinePolicy::First
                 ? fmt::format("{} readings of further wavelengths were left out: the map "
                               "keeps the first of each element.",
                               dropped)
                 : fmt::format("{} readings of further wavelengths went into means.", dropped)});
    }
}

void state_blanks(ResultImport& import, const ColumnMap& map, Refusals& refusals) {
    if (map.blanks != BlankPolicy::SubtractMean) {
        return;
    }
    struct Blank {
        double sum = 0;
        int count = 0;
    };
    const auto key = [](const Reading& r) {
        return r.analyte + kBetween + r.wavelength + kBetween + r.unit.text();
    };
    std::map<std::string, Blank> blanks;
    for (const Reading& blank : import.blanks) {
        Blank& into = blanks[key(blank)];
        ++into.count;
        if (blank.value) {
            into.sum += *blank.value;
        } else {
            refusals.add(
                refusal_of(blank, "a blank that is no number cannot be taken off",
                           "write blanks = \"keep\" in the map, or report the blank's number"));
        }
    }
    for (auto* list : {&import.readings, &import.checks}) {
        for (Reading& reading : *list) {
            const auto found = blanks.find(key(reading));
            if (found != blanks.end()) {
                reading.blank = found->second.sum / found->second.count;
            } else {
                refusals.add(refusal_of(reading,
                                        fmt::format("there is no blank of {} in {} to take off",
                                                    line_name(reading), reading.unit.text()),
                                        "write blanks = \"keep\" in the map, or add the blank"));
            }
        }
    }
}

}  // namespace bw::io
