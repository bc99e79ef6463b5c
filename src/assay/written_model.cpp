// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/written_model.hpp"

#include <algorithm>
#include <cmath>
#include <memory>
#include <vector>

#include <fmt/format.h>
#include <muParser.h>

#include "base/text.hpp"

namespace bw::assay {
namespace {

using base::fail;
using base::ProblemCode;

constexpr std::size_t kLongest = 2000;

struct Formula {
    mu::Parser parser;
    std::vector<double> values;
};

tl::unexpected<base::Problem> bad(const std::string& why) {
    return fail(ProblemCode::BadInput, why, {"", 0, "model"});
}

void know_functions(mu::Parser& parser) {
    parser.ClearFun();
    parser.ClearConst();
    parser.EnableBuiltInOprt(true);
    parser.DefineFun("exp", [](double x) { return std::exp(x); });
    parser.DefineFun("ln", [](double x) { return std::log(x); });
    parser.DefineFun("log10", [](double x) { return std::log10(x); });
    parser.DefineFun("sqrt", [](double x) { return std::sqrt(x); });
    parser.DefineFun("abs", [](double x) { return std::abs(x); });
    parser.DefineFun("min", [](double x, double y) { return std::min(x, y); });
    parser.DefineFun("max", [](double x, double y) { return std::max(x, y); });
}

Result<void> check_text(const std::string& formula) {
    if (base::trim(formula).empty()) {
        return bad("the model is empty: write a formula, \"(V - V0) * c / m\"");
    }
    if (formula.size() > kLongest) {
        return bad(
            fmt::format("the model has {} characters, {} at most", formula.size(), kLongest));
    }
    const auto strange = std::find_if(formula.begin(), formula.end(), [](char c) {
        return !base::is_lower(c) && !base::is_upper(c) && !base::is_digit(c) &&
               std::string_view(" _.,+-*/^()").find(c) == std::string_view::npos;
    });
    if (strange != formula.end()) {
        return bad(
            fmt::format("{} at place {} is no part of a formula: write names, numbers, + - "
                        "* / ^, brackets and exp, ln, log10, sqrt, abs, min, max",
                        base::quoted(std::string(1, *strange)), strange - formula.begin() + 1));
    }
    return {};
}

}  // namespace

Result<Model> written_model(const std::string& formula, std::span<const std::string> names) {
    BW_CHECK(check_text(formula));
    auto held = std::make_shared<Formula>();
    held->values.resize(names.size());
    try {
        know_functions(held->parser);
        for (std::size_t i = 0; i < names.size(); ++i) {
            if (std::count(names.begin(), names.end(), names[i]) > 1) {
                return bad(fmt::format("input {} stands twice", base::quoted(names[i])));
            }
            held->parser.DefineVar(names[i], &held->values[i]);
        }
        held->parser.SetExpr(formula);
        const auto used = held->parser.GetUsedVar();
        for (const auto& [name, place] : used) {
            if (std::find(names.begin(), names.end(), name) == names.end()) {
                return bad(fmt::format("the model uses {}, which is no input", base::quoted(name)));
            }
        }
        for (const std::string& name : names) {
            if (!used.contains(name)) {
                return bad(fmt::format("input {} is not in the model", base::quoted(name)));
            }
        }
        int results = 0;
        held->parser.Eval(results);
        if (results != 1) {
            return bad("the model gives several results: a comma stands only within min and max");
        }
    } catch (const mu::ParserError& error) {
        return bad(fmt::format("the model {} is not understood near place {}",
                               base::quoted(formula), error.GetPos() + 1));
    }
    return Model([held](std::span<const double> inputs) {
        std::copy(inputs.begin(), inputs.end(), held->values.begin());
        return held->parser.Eval();
    });
}

}  // namespace bw::assay
