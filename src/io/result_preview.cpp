// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "io/result_preview.hpp"

#include <algorithm>
#include <map>
#include <set>
#include <unordered_map>

namespace bw::io {
namespace {

std::string_view words_for(DecimalSign sign) {
    return sign == DecimalSign::Point   ? "point"
           : sign == DecimalSign::Comma ? "comma"
                                        : "not found";
}

std::string shown(const Reading& r) {
    if (!r.below_limit && !r.over_range) {
        return r.digits;
    }
    return (r.below_limit ? "<" : ">") + (r.limit ? " " + r.limit->digits : std::string());
}

class Gathering {
public:
    Gathering(ResultPreview& out, TableLayout layout, std::size_t most_rows)
        : out_(&out), layout_(layout), most_rows_(most_rows) {}

    void take(const std::vector<const Reading*>& readings) {
        for (const Reading* r : readings) {
            const std::size_t line = line_of(*r);
            count(*r, line);
            if (r->kind == SampleKind::Sample) {
                samples_.insert(r->sample);
            }
            if (const PreviewRow* row = row_of(*r)) {
                values_[row->row][line] = shown(*r);
            }
        }
        for (PreviewRow& row : out_->first_rows) {
            row.values.resize(out_->lines.size());
            for (const auto& [line, text] : values_[row.row]) {
                row.values[line] = text;
            }
        }
        out_->samples = samples_.size();
    }

private:
    std::size_t line_of(const Reading& r) {
        const std::string key = r.analyte + '\x1f' + r.wavelength + '\x1f' + r.unit.text();
        const auto [found, fresh] = lines_.emplace(key, out_->lines.size());
        if (fresh) {
            out_->lines.push_back(
                {r.analyte, r.wavelength, r.unit.text(), basis_of(r.unit), 0, 0, 0, "", ""});
        }
        return found->second;
    }
    void count(const Reading& r, std::size_t line) {
        PreviewLine& into = out_->lines[line];
        ++into.readings;
        into.below_limit += r.below_limit ? 1U : 0U;
        into.over_range += r.over_range ? 1U : 0U;
        if (r.kind != SampleKind::Sample || !r.value) {
            return;
        }
        const auto [range, fresh] = ranges_.emplace(line, std::pair(*r.value, *r.value));
        if (fresh || *r.value < range->second.first) {
            range->second.first = *r.value;
            into.lowest = r.digits;
        }
        if (fresh || *r.value > range->second.second) {
            range->second.second = *r.value;
            into.highest = r.digits;
        }
    }
    /// The row that is shown, or nothing when enough are.
    const PreviewRow* row_of(const Reading& r) {
        const std::string key = layout_ == TableLayout::Wide
                                    ? std::to_string(r.row)
                                    : std::to_string(r.repeat) + '\x1f' + r.sample;
        const auto found = rows_.find(key);
        if (found != rows_.end()) {
            return &out_->first_rows[found->second];
        }
        if (out_->first_rows.size() >= most_rows_) {
            return nullptr;
        }
        rows_.emplace(key, out_->first_rows.size());
        out_->first_rows.push_back({r.row, r.sample, r.kind, {}});
        return &out_->first_rows.back();
    }

    ResultPreview* out_;
    TableLayout layout_;
    std::size_t most_rows_;
    std::unordered_map<std::string, std::size_t> lines_, rows_;
    std::map<std::size_t, std::pair<double, double>> ranges_;
    std::map<std::size_t, std::map<std::size_t, std::string>> values_;
    std::set<std::string_view> samples_;
};

}  // namespace

ResultPreview preview_of(const ResultImport& import, std::size_t rows) {
    ResultPreview out;
    out.encoding = name_of(import.encoding);
    out.separator = name_of(import.separator);
    out.decimal_sign = words_for(import.decimal_sign);
    out.readings = import.readings.size();
    out.blanks = import.blanks.size();
    out.checks = import.checks.size();
    out.not_tested = import.not_tested;
    std::vector<const Reading*> all;
    for (const auto* list : {&import.readings, &import.blanks, &import.checks}) {
        for (const Reading& r : *list) {
            all.push_back(&r);
        }
    }
    std::stable_sort(all.begin(), all.end(),
                     [](const Reading* a, const Reading* b) { return a->row < b->row; });
    Gathering(out, import.layout, rows).take(all);
    out.refused = import.refused;
    out.refused_count = import.refused_count;
    out.notices = import.notices;
    out.committable = import.committable();
    return out;
}

}  // namespace bw::io
