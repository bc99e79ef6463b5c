// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/duplicate_remarks.hpp"

#include <algorithm>
#include <iterator>

#include <fmt/format.h>

#include "works/method_results.hpp"

namespace bw::works {
namespace {

/// The symbols in the order in which they came.
std::vector<std::string> analytes_of(std::span<const PlacedResult> results) {
    std::vector<std::string> out;
    for (const PlacedResult& r : results) {
        if (std::find(out.begin(), out.end(), r.is.analyte) == out.end()) {
            out.push_back(r.is.analyte);
        }
    }
    return out;
}

std::string where_of(const MethodResults& sample, const std::string& analyte) {
    return fmt::format("{} by {}, sample {}", analyte, sample.method,
                       sample.portions.front().sample);
}

/// Of readings of one portion.
DuplicateRemark remark_of(const MethodResults& sample, const std::string& analyte,
                          const ReadingsApart& apart) {
    DuplicateRemark out{apart.portion->sample,
                        analyte,
                        sample.method,
                        {},
                        apart.apart_percent,
                        apart.allowed_percent,
                        sentence_of(apart, where_of(sample, analyte))};
    for (const PlacedResult* r : apart.portion->readings) {
        out.results.push_back(r->id());
    }
    return out;
}

DuplicateRemark remark_of(const MethodResults& sample, const std::string& analyte,
                          const PortionJudgement& judged) {
    DuplicateRemark out;
    out.sample = sample.portions.front().sample;
    out.analyte = analyte;
    out.method = sample.method;
    for (const TestedPortion& p : sample.portions) {
        for (const PlacedResult* r : p.readings) {
            out.results.push_back(r->id());
        }
    }
    out.apart_percent = judged.apart_percent;
    out.allowed_percent = judged.allowed_percent;
    out.sentence = sentence_of(judged, sample.portions.size(), where_of(sample, analyte));
    return out;
}

}  // namespace

Result<std::vector<DuplicateRemark>> duplicate_remarks(std::span<const PlacedResult> results) {
    std::vector<DuplicateRemark> out;
    for (const std::string& analyte : analytes_of(results)) {
        std::vector<const PlacedResult*> compared;
        for (const PlacedResult& r : results) {
            if (r.is.analyte == analyte && r.is.state != ResultState::SetAside &&
                !r.is.below_limit) {
                compared.push_back(&r);
            }
        }
        for (const MethodResults& method : by_method(compared)) {
            for (const MethodResults& sample : by_sample(method)) {
                BW_TRY(judged, judge_portions(sample));
                if (judged.far_apart()) {
                    out.push_back(remark_of(sample, analyte, judged));
                }
                for (const ReadingsApart& apart : readings_apart(sample)) {
                    out.push_back(remark_of(sample, analyte, apart));
                }
            }
        }
    }
    return out;
}

std::vector<DuplicateRemark> remarks_on(const std::vector<DuplicateRemark>& all,
                                        const std::string& run) {
    std::vector<DuplicateRemark> out;
    std::copy_if(all.begin(), all.end(), std::back_inserter(out), [&](const DuplicateRemark& r) {
        return std::any_of(r.results.begin(), r.results.end(),
                           [&](const std::string& id) { return id.starts_with(run + "/"); });
    });
    return out;
}

}  // namespace bw::works
