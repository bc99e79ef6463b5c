// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/explain_batch.hpp"

#include <algorithm>
#include <cmath>
#include <map>
#include <tuple>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "matter/formula.hpp"
#include "service/explain_words.hpp"
#include "service/weighed_water.hpp"
#include "stat/quantiles.hpp"
#include "unit/factors.hpp"

namespace bw::service {
namespace {

constexpr std::size_t kLeastElements = 3;

const works::ElementShare* share_of(const works::Batch& batch, const std::string& symbol) {
    const auto found =
        std::find_if(batch.shares.begin(), batch.shares.end(),
                     [&](const works::ElementShare& s) { return s.symbol == symbol; });
    return found == batch.shares.end() ? nullptr : &*found;
}

const works::Predicted* predicted(const works::Batch& batch, const std::string& symbol) {
    const auto found = std::find_if(batch.water.begin(), batch.water.end(),
                                    [&](const works::Predicted& p) { return p.symbol == symbol; });
    return found == batch.water.end() ? nullptr : &*found;
}

/// How many methods count in the mean of an element: 1/sum(w^2) of weights 1/u^2 that sum to 1.
double methods_behind(const works::Tested& t) {
    double sum = 0;
    double squares = 0;
    for (const works::MethodValue& m : t.methods) {
        const double weight = m.u > 0 ? 1 / (m.u * m.u) : 0;
        sum += weight;
        squares += weight * weight;
    }
    return squares > 0 ? sum * sum / squares : 1;
}

std::vector<PatternLine> pattern_of(const works::BatchFile& file) {
    const std::vector<double> ratios = weighed_ratios(file.batch, file.weighings);
    std::vector<PatternLine> out;
    for (const works::Tested& t : file.assessment.elements) {
        const works::ElementShare* share = share_of(file.batch, t.symbol);
        const works::Predicted* water = predicted(file.batch, t.symbol);
        if (t.verdict == works::Verdict::NotTested || t.below_limit || share == nullptr ||
            water == nullptr || !(water->mol_per_kg > 0)) {
            continue;
        }
        PatternLine line{t.symbol, as_weighed_mol_per_kg(file.batch, *water, *share, ratios),
                         t.value,  0,
                         0,        methods_behind(t)};
        line.deviation = line.found / line.expected - 1;
        line.u = std::hypot(t.u_own / t.value, water->u_mol_per_kg / water->mol_per_kg);
        out.push_back(std::move(line));
    }
    return out;
}

/// 0 for what is no formula.
double molar_mass(const std::string& text) {
    const auto formula = matter::parse_formula(text);
    const auto mass = formula ? matter::molar_mass_g_per_mol(*formula) : Result<double>(0.0);
    return mass.value_or(0.0);
}

/// A hydrate may be taken for the salt without its water.
void add_other_form(const BatchReading& reading, std::size_t place, const std::string& material,
                    assay::BatchMakeUp& out) {
    for (const works::RecipeShare& s : reading.recipe.shares) {
        const std::size_t water = s.formula.find('.');
        if (s.material != material || water == std::string::npos) {
            continue;
        }
        const double whole = molar_mass(s.formula);
        const double dry = molar_mass(s.formula.substr(0, water));
        if (whole > 0 && dry > 0) {
            out.other_forms.push_back({place, "without its water, for " + s.formula, whole / dry});
        }
    }
}

/// Places of the causes that each addition belongs to: what is weighed of one lot in several lines,
/// as a premix is carried, is one cause.
std::vector<std::size_t> causes_of(const works::Batch& batch, std::vector<std::string>& names) {
    std::vector<std::size_t> out;
    for (const works::Addition& a : batch.additions) {
        const std::string cause = cause_name(a);
        const auto known = std::find(names.begin(), names.end(), cause);
        out.push_back(static_cast<std::size_t>(known - names.begin()));
        if (known == names.end()) {
            names.push_back(cause);
        }
    }
    return out;
}

assay::BatchMakeUp make_up_of(const BatchReading& reading,
                              const std::vector<PatternLine>& pattern) {
    const works::Batch& batch = reading.file.batch;
    assay::BatchMakeUp out;
    const std::vector<std::size_t> cause = causes_of(batch, out.materials);
    // Of the blend's mass, hydrate water in it: the strength counts the blend as it is weighed.
    out.salt_share.assign(out.materials.size(), 0);
    std::vector<std::size_t> premix, late_premix;
    for (std::size_t k = 0; k < batch.additions.size(); ++k) {
        const works::Addition& a = batch.additions[k];
        if (out.salt_share[cause[k]] == 0) {
            add_other_form(reading, cause[k], a.material, out);
        }
        out.salt_share[cause[k]] += a.target_kg / batch.size_kg;
        if (a.into == works::kPremix) {
            premix.push_back(cause[k]);
        } else if (a.into == works::kLatePremix) {
            late_premix.push_back(cause[k]);
        }
    }
    for (const auto& together : {premix, late_premix}) {
        if (together.size() > 1) {
            out.premixes.push_back(together);
        }
    }
    for (const PatternLine& line : pattern) {
        std::vector<double> shares(out.materials.size(), 0);
        const works::ElementShare* by_step = share_of(batch, line.symbol);
        for (std::size_t k = 0; k < batch.additions.size(); ++k) {
            shares[cause[k]] += by_step->by_step[k];
        }
        out.share.push_back(std::move(shares));
    }
    return out;
}

PortionSpread spread_of(const works::BatchFile& file) {
    // Repeatability is of one run: what differs between runs says nothing of the portions.
    using Key = std::tuple<std::string, std::string, std::string>;
    std::map<Key, std::vector<const works::TestResult*>> groups;
    for (const works::PlacedResult& r : file.results) {
        if (r.is.state == works::ResultState::Counted && !r.is.below_limit) {
            groups[{r.is.analyte, r.is.method, r.run}].push_back(&r.is);
        }
    }
    PortionSpread out;
    for (const auto& [key, results] : groups) {
        double mean = 0;
        for (const works::TestResult* r : results) {
            mean += r->mol_per_kg / static_cast<double>(results.size());
        }
        const double sr = results.front()->repeatability_percent / unit::kPercent * mean;
        if (results.size() < 2 || !(sr > 0)) {
            continue;
        }
        for (const works::TestResult* r : results) {
            out.chi_squared += (r->mol_per_kg - mean) * (r->mol_per_kg - mean) / (sr * sr);
        }
        out.freedom += static_cast<double>(results.size()) - 1;
    }
    constexpr double kSeldom = 0.99;  // a fault is called where chance does so once in a hundred
    out.most = out.freedom > 0 ? stat::chi_squared_quantile(kSeldom, out.freedom) : 0;
    return out;
}

/// Whether all portions behind what is counted were brought to strength by their dry mass.
bool by_dry_mass(const works::BatchFile& file) {
    return std::all_of(file.results.begin(), file.results.end(), [&](const auto& r) {
        const auto portion =
            std::find_if(file.portions.begin(), file.portions.end(),
                         [&](const works::TestPortion& p) { return p.id() == r.is.portion; });
        return r.is.state != works::ResultState::Counted ||
               (portion != file.portions.end() &&
                portion->strength_by == works::StrengthBy::DryMass);
    });
}

}  // namespace

Result<BatchExplanation> explain_batch(const BatchReading& reading) {
    BatchExplanation out;
    out.batch = reading.file.batch.number;
    out.pattern = pattern_of(reading.file);
    out.u_common = reading.file.assessment.u_strength;
    if (out.pattern.size() < kLeastElements) {
        out.too_few = true;
        out.sentences = {fmt::format(
            "{}: three tested elements of its target are the least from which a cause can be told.",
            out.pattern.empty()
                ? fmt::format("Nothing of batch {} is tested yet", out.batch)
                : fmt::format("Batch {} has {} tested element{}", out.batch, out.pattern.size(),
                              out.pattern.size() == 1 ? "" : "s"))};
        return out;
    }
    assay::BatchPattern pattern;
    for (const PatternLine& line : out.pattern) {
        pattern.elements.push_back(line.symbol);
        pattern.deviation.push_back(line.deviation);
        pattern.u.push_back(line.u);
        pattern.methods.push_back(line.methods);
    }
    pattern.u_common = out.u_common;
    pattern.by_mass = by_dry_mass(reading.file);
    const assay::BatchMakeUp make_up = make_up_of(reading, out.pattern);
    out.causes = make_up.materials;
    BW_TRY(diagnosis, assay::diagnose(pattern, make_up));
    out.diagnosis = std::move(diagnosis);
    out.spread = spread_of(reading.file);
    out.sentences = sentences_of(out, reading.file);
    return out;
}

Result<BatchExplanation> explain_batch(const store::Books& books, const std::string& number) {
    BW_TRY(reading, read_batch(books, number));
    return explain_batch(reading);
}

}  // namespace bw::service
