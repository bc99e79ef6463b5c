// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "check/case_file.hpp"

#include <algorithm>
#include <cmath>

#include <fmt/format.h>

#include "base/decimal.hpp"
#include "base/text.hpp"

namespace bw::check {
namespace {

using io::Fields;
using io::Node;

constexpr std::string_view kAsPrinted = "as printed";

const std::shared_ptr<const io::Document>& nothing_given() {
    static const auto kEmpty =
        std::make_shared<const io::Document>(io::Document{"", Node{Node::Table{}, 0}});
    return kEmpty;
}

/// "23.926 g NaCl" without amount and unit.
std::string formula_of(const std::string& salt) { return salt.substr(salt.rfind(' ') + 1); }

class Reader {
public:
    explicit Reader(std::string name) : name_(std::move(name)) {}

    CaseFile read(std::string_view text) {
        auto parsed = io::parse_document(text, name_);
        if (!parsed) {
            out_.faults.push_back(parsed.error().text());
            return std::move(out_);
        }
        document_ = std::make_shared<const io::Document>(std::move(*parsed));
        const auto root = Fields::of(*document_, document_->root, "");
        if (!root) {
            out_.faults.push_back(root.error().text());
            return std::move(out_);
        }
        note(root->allow({"group", "note", "recipe", "case"}), out_.faults);
        group_ = text_of(*root, "group", out_.faults);
        read_recipes(*root);
        const auto cases = root->tables("case");
        if (!cases) {
            out_.faults.push_back(cases.error().text());
            return std::move(out_);
        }
        for (const Fields& table : *cases) {
            out_.cases.push_back(read_case(table));
        }
        if (out_.cases.empty()) {
            out_.faults.push_back(fmt::format("{}: there is no [[case]]", name_));
        }
        for (Case& c : out_.cases) {
            find_totals(c);
        }
        return std::move(out_);
    }

private:
    template <class T>
    static void note(const Result<T>& result, std::vector<std::string>& faults) {
        if (!result) {
            faults.push_back(result.error().text());
        }
    }

    /// A text that must be there; an empty one is a fault.
    static std::string text_of(const Fields& table, std::string_view key,
                               std::vector<std::string>& faults) {
        const auto found = table.required_text(key);
        note(found, faults);
        return found.value_or("");
    }

    static std::string optional_text(const Fields& table, std::string_view key,
                                     std::vector<std::string>& faults) {
        return table.has(key) ? text_of(table, key, faults) : std::string();
    }

    void read_recipes(const Fields& root) {
        const auto tables = root.tables("recipe");
        note(tables, out_.faults);
        if (!tables) {
            return;
        }
        for (const Fields& table : *tables) {
            auto& faults = out_.faults;
            note(table.allow(
                     {"id", "title", "source", "at", "seen", "basis", "salts", "density", "note"}),
                 faults);
            PrintedRecipe recipe;
            recipe.id = text_of(table, "id", faults);
            recipe.source = text_of(table, "source", faults);
            recipe.at = text_of(table, "at", faults);
            recipe.seen = text_of(table, "seen", faults);
            recipe.basis = text_of(table, "basis", faults);
            recipe.density = optional_text(table, "density", faults);
            const auto salts = table.texts("salts");
            note(salts, faults);
            recipe.salts = salts.value_or(std::vector<std::string>{});
            if (recipe.salts.empty()) {
                faults.push_back(fmt::format("{}: recipe {} has no salts", name_, recipe.id));
            }
            if (recipe_named(recipe.id) != nullptr) {
                faults.push_back(fmt::format("{}: recipe {} stands twice", name_, recipe.id));
            }
            recipes_.push_back(std::move(recipe));
        }
    }

    const PrintedRecipe* recipe_named(std::string_view id) const {
        const auto found = std::find_if(recipes_.begin(), recipes_.end(),
                                        [&](const PrintedRecipe& r) { return r.id == id; });
        return found == recipes_.end() ? nullptr : &*found;
    }

    Case read_case(const Fields& table) {
        Case c;
        c.document = document_;
        c.file = name_;
        c.line = table.self().line;
        note(
            table.allow({"id", "operation", "recipe", "source", "at", "seen", "why", "tolerance",
                         "given", "expect", "expect_problem", "complete", "contradiction", "note"}),
            c.faults);
        c.id = text_of(table, "id", c.faults);
        c.group = group_;
        c.operation = text_of(table, "operation", c.faults);
        c.why = text_of(table, "why", c.faults);
        c.contradiction = optional_text(table, "contradiction", c.faults);
        c.expect_problem = optional_text(table, "expect_problem", c.faults);
        const auto complete = table.flag("complete");
        note(complete, c.faults);
        c.complete = complete && complete->value_or(false);
        read_provenance(table, c);
        read_given(table, c);
        const Tolerance tolerance = read_tolerance(table, c);
        read_expectations(table, tolerance, c);
        check_identity(c);
        return c;
    }

    void check_identity(Case& c) const {
        const bool plain = std::all_of(c.id.begin(), c.id.end(), [](char letter) {
            return base::is_lower(letter) || base::is_digit(letter) || letter == '_';
        });
        if (!plain) {
            c.faults.emplace_back("an id holds only a-z, 0-9 and _");
        }
        const bool twice = std::any_of(out_.cases.begin(), out_.cases.end(),
                                       [&](const Case& other) { return other.id == c.id; });
        if (twice) {
            c.faults.emplace_back("another case of this file has the same id");
        }
    }

    /// Source, place in it and how it is known: the case's own, else those of its recipe.
    void read_provenance(const Fields& table, Case& c) const {
        if (table.has("recipe")) {
            const std::string id = text_of(table, "recipe", c.faults);
            if (const PrintedRecipe* recipe = recipe_named(id)) {
                c.recipe = *recipe;
            } else {
                c.faults.push_back(fmt::format("there is no recipe {}", base::quoted(id)));
            }
        }
        const auto own_or = [&](std::string_view key, std::string PrintedRecipe::*of_recipe) {
            return !table.has(key) && c.recipe ? (*c.recipe).*of_recipe
                                               : text_of(table, key, c.faults);
        };
        c.source = own_or("source", &PrintedRecipe::source);
        c.at = own_or("at", &PrintedRecipe::at);
        c.seen = own_or("seen", &PrintedRecipe::seen);
    }

    static void read_given(const Fields& table, Case& c) {
        const auto given = table.table("given");
        note(given, c.faults);
        if (given && *given) {
            c.given = **given;
        } else {
            c.given = *Fields::of(*nothing_given(), nothing_given()->root, "given");
        }
    }

    static Tolerance read_tolerance(const Fields& table, Case& c) {
        Tolerance out;
        const auto stated = table.table("tolerance");
        note(stated, c.faults);
        if (stated && *stated) {
            note((*stated)->allow({"abs", "rel"}), c.faults);
            out.abs = number_of(**stated, "abs", c).value_or(0);
            out.rel = number_of(**stated, "rel", c).value_or(0);
            if (!out.sound()) {
                c.faults.emplace_back("the tolerance must be finite and above 0");
            }
        }
        return out;
    }

    static std::optional<double> number_of(const Fields& table, std::string_view key, Case& c) {
        const auto found = table.number(key);
        note(found, c.faults);
        return found ? *found : std::nullopt;
    }

    static void read_expectations(const Fields& table, const Tolerance& tolerance, Case& c) {
        const Node* expect = table.node("expect");
        if (expect != nullptr) {
            read_expected(*expect, "", tolerance, c);
        }
        if (c.numbers.empty() && c.words.empty() && c.expect_problem.empty()) {
            c.faults.emplace_back("nothing is expected: the reference is missing or empty");
        }
        if (!c.expect_problem.empty() && expect != nullptr) {
            c.faults.emplace_back("either a problem is expected or a result, not both");
        }
        bool contradicts = false;
        for (const ExpectedNumber& number : c.numbers) {
            check_number(number, c);
            contradicts = contradicts || number.printed || number.differs;
        }
        if (contradicts == c.contradiction.empty()) {
            c.faults.emplace_back(
                "`contradiction` in words and numbers with `printed` and `differs` go together");
        }
    }

    static void check_number(const ExpectedNumber& number, Case& c) {
        if (!std::isfinite(number.value)) {
            c.faults.push_back(fmt::format("{}: the reference is not finite", number.quantity));
        }
        if (!number.tolerance.sound()) {
            c.faults.push_back(
                fmt::format("{}: no tolerance, or one that is not above 0", number.quantity));
        }
        if (number.printed.has_value() != number.differs.has_value()) {
            c.faults.push_back(
                fmt::format("{}: `printed` and `differs` go together", number.quantity));
        } else if (number.printed &&
                   !(std::abs(*number.differs) > number.tolerance.at(number.value))) {
            c.faults.push_back(fmt::format(
                "{}: a difference within the tolerance is no contradiction", number.quantity));
        }
    }

    static void read_expected(const Node& node, const std::string& quantity,
                              const Tolerance& tolerance, Case& c) {
        if (node.number() != nullptr) {
            c.numbers.push_back({quantity, *node.number(), tolerance, {}, {}});
        } else if (node.text() != nullptr) {
            read_expected_text(*node.text(), quantity, tolerance, c);
        } else if (node.array() != nullptr) {
            read_expected_words(*node.array(), quantity, c);
        } else if (node.table() != nullptr && node.find("value") != nullptr) {
            read_expected_value(node, quantity, tolerance, c);
        } else if (node.table() != nullptr && !node.table()->empty()) {
            for (const auto& [key, inner] : *node.table()) {
                read_expected(inner, quantity.empty() ? key : fmt::format("{}.{}", quantity, key),
                              tolerance, c);
            }
        } else {
            c.faults.push_back(fmt::format("expect.{} is empty or {}", quantity, node.kind()));
        }
    }

    static void read_expected_text(const std::string& text, const std::string& quantity,
                                   const Tolerance& tolerance, Case& c) {
        if (base::trim(text).empty()) {
            c.faults.push_back(fmt::format("expect.{} is empty", quantity));
        } else if (quantity == "amount" && text == kAsPrinted) {
            if (!c.recipe) {
                c.faults.emplace_back("amounts as printed need a recipe");
                return;
            }
            for (const std::string& salt : c.recipe->salts) {
                const double printed =
                    base::parse_number(salt.substr(0, salt.find(' '))).value_or(std::nan(""));
                c.numbers.push_back({"amount." + formula_of(salt), printed, tolerance, {}, {}});
            }
        } else {
            c.words.push_back({quantity, {text}});
        }
    }

    static void read_expected_words(const Node::Array& array, const std::string& quantity,
                                    Case& c) {
        ExpectedWords words{quantity, {}};
        for (const Node& item : array) {
            if (item.text() == nullptr || base::trim(*item.text()).empty()) {
                c.faults.push_back(
                    fmt::format("expect.{} may hold only text that is not empty", quantity));
                return;
            }
            words.words.push_back(*item.text());
        }
        if (words.words.empty()) {
            c.faults.push_back(fmt::format("expect.{} is empty", quantity));
            return;
        }
        c.words.push_back(std::move(words));
    }

    static void read_expected_value(const Node& node, const std::string& quantity,
                                    const Tolerance& tolerance, Case& c) {
        const auto table = Fields::of(*c.document, node, "expect." + quantity);
        note(table->allow({"value", "abs", "rel", "printed", "differs"}), c.faults);
        ExpectedNumber out;
        out.quantity = quantity;
        out.value = number_of(*table, "value", c).value_or(std::nan(""));
        const bool own = table->has("abs") || table->has("rel");
        out.tolerance = own ? Tolerance{number_of(*table, "abs", c).value_or(0),
                                        number_of(*table, "rel", c).value_or(0)}
                            : tolerance;
        out.printed = number_of(*table, "printed", c);
        out.differs = number_of(*table, "differs", c);
        c.numbers.push_back(std::move(out));
    }

    /// Totals for a case that goes from ions back to salts are those that another case expects.
    void find_totals(Case& c) const {
        if (!c.given || !c.given->has("totals_of")) {
            return;
        }
        const std::string id = text_of(*c.given, "totals_of", c.faults);
        constexpr std::string_view kTotals = "mmol.";
        for (const Case& other : out_.cases) {
            if (other.id != id) {
                continue;
            }
            for (const ExpectedNumber& number : other.numbers) {
                if (number.quantity.starts_with(kTotals)) {
                    c.totals.push_back(number);
                    c.totals.back().quantity.erase(0, kTotals.size());
                }
            }
        }
        if (c.totals.empty()) {
            c.faults.push_back(fmt::format("no case {} expects totals", base::quoted(id)));
        }
    }

    std::string name_;
    std::string group_;
    std::shared_ptr<const io::Document> document_;
    std::vector<PrintedRecipe> recipes_;
    CaseFile out_;
};

}  // namespace

double Tolerance::at(double expected) const { return abs + rel * std::abs(expected); }

bool Tolerance::sound() const {
    return std::isfinite(abs) && std::isfinite(rel) && abs >= 0 && rel >= 0 && abs + rel > 0;
}

CaseFile read_cases(std::string_view text, const std::string& name) {
    return Reader(name).read(text);
}

}  // namespace bw::check
