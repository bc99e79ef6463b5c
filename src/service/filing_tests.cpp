// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
// How tests, decisions and papers are filed; the rest of service/filing.hpp is in filing.cpp.
#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "base/text.hpp"
#include "service/filed.hpp"
#include "service/filing.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

constexpr double kMilli = 1000;  // mmol per mol

store::Measurement measured(const works::Run& run, const works::TestResult& r) {
    store::Measurement m;
    m.analyte = r.analyte;
    m.sample = r.sample;
    m.batch = r.batch;
    m.run = run.number;
    m.line = r.line;
    m.at = r.read_at;
    m.digits = r.digits;
    m.unit = "mmol/kg";
    if (!r.below_limit) {
        m.value = r.mol_per_kg * kMilli;
        m.u = *m.value * r.u_percent / unit::kPercent;
    }
    m.state = name(r.state);
    return m;
}

}  // namespace

store::Write filing_of(const works::Method& method) {
    store::Write out = filed(method.id, name(method.state),
                             fmt::format("{} (version {})", method.title, method.number));
    out.keys = method.analytes;
    return out;
}

store::Write filing_of(const works::Limits& limits) {
    return filed(limits.product, "",
                 fmt::format("version {}, {} constituents, rule {}", limits.number,
                             limits.bands.size(), name(limits.rule)));
}

store::Write filing_of(const works::TestPortion& portion) {
    store::Write out = filed(portion.id(), portion.set_aside ? "set aside" : "",
                             fmt::format("{} in {} of water", portion.salt, portion.water));
    out.links = {{"of", kKind<works::Sample>, portion.sample},
                 {"tests", kKind<works::Batch>, portion.batch}};
    return out;
}

store::Write filing_of(const works::Run& run) {
    std::set<std::string> batches, samples, methods;
    store::Write out = filed(run.number, name(run.state), "");
    for (const works::TestResult& r : run.results) {
        batches.insert(r.batch);
        samples.insert(r.sample);
        methods.insert(r.method);
        out.measurements.push_back(measured(run, r));
    }
    for (const std::string& b : batches) {
        out.links.push_back({"tests", kKind<works::Batch>, b});
    }
    for (const std::string& s : samples) {
        out.links.push_back({"of", kKind<works::Sample>, s});
    }
    for (const std::string& m : methods) {
        out.links.push_back({"by", kKind<works::Method>, m});
    }
    out.title = fmt::format("{} results of {}{}", run.results.size(), fmt::join(batches, ", "),
                            run.file_name.empty() ? "" : ", " + base::one_line(run.file_name));
    return out;
}

store::Write filing_of(const works::Release& release) {
    store::Write out =
        filed(release.batch, name(release.decision),
              fmt::format("decision {} by {}", release.number, release.approved.name));
    out.links = {{"of", kKind<works::Batch>, release.batch}};
    return out;
}

store::Write filing_of(const works::Certificate& certificate) {
    store::Write out = filed(certificate.id(), name(certificate.state),
                             fmt::format("{}, batch {}", certificate.product, certificate.batch));
    out.links = {{"of", kKind<works::Batch>, certificate.batch}};
    out.keys = {certificate.number, certificate.code};
    return out;
}

store::Write filing_of(const works::MixingSheet& sheet) {
    store::Write out = filed(sheet.id(), "",
                             fmt::format("{}, batch {}, use by {}, signed by {}", sheet.product,
                                         sheet.batch, sheet.use_by, sheet.approved.name));
    out.links = {{"of", kKind<works::Batch>, sheet.batch}};
    return out;
}

store::Write filing_of(const works::KeptMap& map) {
    return filed(map.name, "", fmt::format("column map of tables, kept by {}", map.kept_by));
}

}  // namespace bw::service
