// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/recipe_sweep.hpp"

#include <algorithm>
#include <set>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/program.hpp"
#include "base/text.hpp"
#include "recipe/explain.hpp"
#include "ref/tables.hpp"
#include "store/digest.hpp"

namespace bw::service {
namespace {

/// A document's content as one text; equal for documents that say the same in the same order.
std::string canonical(const io::Node& node) {
    if (const std::string* text = node.text()) {
        return fmt::format("{}:{}", text->size(), *text);
    }
    if (const double* number = node.number()) {
        return "#" + base::format_exact(*number);
    }
    if (const bool* flag = node.flag()) {
        return *flag ? "+" : "-";
    }
    std::string out = "[";
    if (const io::Node::Table* table = node.table()) {
        for (const auto& [key, value] : *table) {
            out += fmt::format("{}:{}={},", key.size(), key, canonical(value));
        }
    } else if (const io::Node::Array* array = node.array()) {
        for (const io::Node& item : *array) {
            out += canonical(item) + ",";
        }
    }
    return out + "]";
}

io::Node* entry(io::Node& table, std::string_view key) {
    auto* entries = std::get_if<io::Node::Table>(&table.value);
    if (entries == nullptr) {
        return nullptr;
    }
    const auto found =
        std::find_if(entries->begin(), entries->end(), [&](const auto& e) { return e.key == key; });
    return found == entries->end() ? nullptr : &found->value;
}

/// The price of a material where it is written; nothing where no document names the material.
io::Node* price_of(std::vector<io::Document>& materials, const std::string& name, bool& known) {
    for (io::Document& document : materials) {
        io::Node* list = entry(document.root, "material");
        auto* items = list == nullptr ? nullptr : std::get_if<io::Node::Array>(&list->value);
        for (std::size_t i = 0; items != nullptr && i < items->size(); ++i) {
            const io::Node* called = entry((*items)[i], "name");
            if (called != nullptr && called->text() != nullptr && *called->text() == name) {
                known = true;
                return entry((*items)[i], "price");
            }
        }
    }
    return nullptr;
}

/// "0.29 EUR/kg" times a factor.
Result<std::string> times(const std::string& price, double factor) {
    const std::string_view whole = base::trim(price);
    const auto space = whole.find(' ');
    const auto unit =
        space != std::string_view::npos ? space : whole.find_first_not_of("0123456789.");
    BW_TRY(number, base::parse_number(whole.substr(0, unit)));
    return base::format_exact(number * factor) +
           (unit == std::string_view::npos ? ""
                                           : " " + std::string(base::trim(whole.substr(unit))));
}

Result<std::vector<io::Document>> priced(const SweepRequest& r,
                                         const std::vector<double>& factors) {
    std::vector<io::Document> out = r.materials;
    for (std::size_t i = 0; i < r.prices.size(); ++i) {
        bool known = false;
        io::Node* price = price_of(out, r.prices[i].material, known);
        if (!known) {
            return fail(
                ProblemCode::UnknownName,
                fmt::format("{} is not among the materials", base::quoted(r.prices[i].material)),
                {"", 0, "price"});
        }
        auto* text = price == nullptr ? nullptr : std::get_if<std::string>(&price->value);
        if (text == nullptr) {
            return fail(ProblemCode::BadInput,
                        fmt::format("{} has no price to multiply: state one in its file",
                                    base::quoted(r.prices[i].material)),
                        {"", 0, "price"});
        }
        auto changed = times(*text, factors[i]);
        if (!changed) {
            return fail(ProblemCode::BadInput,
                        fmt::format("the price of {}, {}, cannot be multiplied: write \"0.62 "
                                    "EUR/kg\"",
                                    base::quoted(r.prices[i].material), base::quoted(*text)),
                        {"", 0, "price"});
        }
        *text = std::move(*changed);
    }
    return out;
}

Result<std::size_t> count_of(const SweepRequest& r) {
    if (r.targets.empty()) {
        return fail(ProblemCode::BadInput, "a sweep needs a target at least", {"", 0, "target"});
    }
    std::size_t out = r.targets.size() * std::max<std::size_t>(r.lots.size(), 1);
    std::set<std::string> seen;
    for (const PriceSteps& steps : r.prices) {
        if (!seen.insert(steps.material).second) {
            return fail(ProblemCode::BadInput,
                        fmt::format("the price of {} is stepped twice: give all of its factors at "
                                    "once",
                                    base::quoted(steps.material)),
                        {"", 0, "price"});
        }
        for (const double factor : steps.factors) {
            if (!(factor > 0)) {
                return fail(
                    ProblemCode::BadInput,
                    fmt::format("a price is multiplied by a factor above 0, not by {:g}", factor),
                    {"", 0, "price"});
            }
        }
        out *= steps.factors.size();
        if (out > kMostSweepCases) {
            break;
        }
    }
    if (out == 0 || out > kMostSweepCases) {
        return fail(ProblemCode::OutOfRange,
                    fmt::format("a sweep has 1 to {} cases: give fewer targets, lots or factors",
                                kMostSweepCases),
                    {"", 0, "price"});
    }
    return out;
}

std::string digest_of(const std::vector<io::Document>& documents) {
    std::string all;
    for (const io::Document& document : documents) {
        all += canonical(document.root) + "\n";
    }
    return store::sha256_hex(all);
}

}  // namespace

Result<std::vector<SweepCase>> sweep_cases(const SweepRequest& r) {
    BW_TRY(count, count_of(r));
    std::vector<double> ones;
    for (const PriceSteps& steps : r.prices) {
        ones.push_back(steps.factors.front());
    }
    BW_TRY(checked, priced(r, ones));  // names and prices
    static_cast<void>(checked);
    const std::string materials = digest_of(r.materials);
    std::vector<SweepCase> out;
    for (std::size_t i = 0; i < count; ++i) {
        SweepCase one;
        std::size_t rest = i;
        one.factors.resize(r.prices.size());
        std::string words = fmt::format("{} {} {} {} {}", base::kProgramVersion, ref::data_digest(),
                                        materials, r.draws, r.seed);
        for (std::size_t p = r.prices.size(); p-- > 0;) {
            const std::vector<double>& factors = r.prices[p].factors;
            one.factors[p] = factors[rest % factors.size()];
            rest /= factors.size();
            words += fmt::format(" {}:{}={}", r.prices[p].material.size(), r.prices[p].material,
                                 base::format_exact(one.factors[p]));
        }
        if (!r.lots.empty()) {
            one.lots = rest % r.lots.size();
            rest /= r.lots.size();
            words += " lots " + canonical(r.lots[*one.lots].root);
        }
        one.target = rest;
        words += " target " + canonical(r.targets[rest].root);
        constexpr std::size_t kDigits = 32;
        one.id = store::sha256_hex(words).substr(0, kDigits);
        out.push_back(std::move(one));
    }
    return out;
}

Result<SweepAnswer> sweep_case(const SweepRequest& r, const SweepCase& of) {
    BW_TRY(materials, priced(r, of.factors));
    RecipeRequest ask;
    ask.target = r.targets[of.target];
    ask.materials = std::move(materials);
    if (of.lots) {
        ask.lots = r.lots[*of.lots];
    }
    ask.draws = r.draws;
    ask.seed = r.seed;
    ask.explain = false;
    BW_TRY(report, solve_recipe(ask));
    SweepAnswer out;
    out.target = report.target.name;
    out.solved = report.feasible();
    out.currency = report.currency;
    if (!out.solved) {
        out.why = report.conflict && !report.conflict->sentences.empty()
                      ? report.conflict->sentences.front()
                      : "no recipe was proven";
        return out;
    }
    const recipe::Solution& s = report.solution;
    if (!report.currency.empty() && recipe::all_priced(report.supplies, s)) {
        out.cost_per_t_blend = recipe::cost_per_t_blend(report.supplies, s);
    }
    out.all_inside = report.robustness.all_inside;
    const double blend = s.blend_kg_per_kg();
    for (std::size_t j = 0; j < s.dose_kg_per_kg.size(); ++j) {
        if (s.dose_kg_per_kg[j] > 0) {
            out.parts.push_back({report.supplies[j].material.name, report.supplies[j].material.lot,
                                 s.dose_kg_per_kg[j] / blend});
        }
    }
    return out;
}

}  // namespace bw::service
