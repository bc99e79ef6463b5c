// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "matter/formula.hpp"

#include <algorithm>
#include <array>
#include <cmath>

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::matter {
namespace {

constexpr std::size_t kLongest = 200;
constexpr int kDeepest = 8;
constexpr double kLargestCount = 10000;

/// Groups whose central atom says in which form it dissolves: two elements in a row with these
/// counts.
struct Group {
    std::string_view first;
    double first_count;
    std::string_view second;
    double second_count;
    std::string_view name;
};
constexpr auto kGroups = std::to_array<Group>({
    {"S", 2, "O", 3, "S2O3"},
    {"S", 1, "O", 4, "SO4"},
    {"N", 1, "H", 4, "NH4"},
    {"N", 1, "O", 3, "NO3"},
    {"N", 1, "O", 2, "NO2"},
    {"C", 1, "O", 3, "CO3"},
});

std::string replace_all(std::string text, std::string_view what, std::string_view with) {
    for (auto at = text.find(what); at != std::string::npos;
         at = text.find(what, at + with.size())) {
        text.replace(at, what.size(), with);
    }
    return text;
}

/// Subscript digits and the various dots of print become plain ASCII.
std::string plain_ascii(std::string_view text) {
    std::string out(text);
    constexpr auto kDots =
        std::to_array<std::string_view>({"\u00B7", "\u2022", "\u22C5", "\u2219", "*"});
    for (const auto dot : kDots) {
        out = replace_all(std::move(out), dot, ".");
    }
    constexpr auto kSubscripts =
        std::to_array<std::string_view>({"\u2080", "\u2081", "\u2082", "\u2083", "\u2084", "\u2085",
                                         "\u2086", "\u2087", "\u2088", "\u2089"});
    for (std::size_t d = 0; d < kSubscripts.size(); ++d) {
        out =
            replace_all(std::move(out), kSubscripts[d], std::string(1, static_cast<char>('0' + d)));
    }
    return replace_all(std::move(out), "\u2212", "-");
}

/// An element as written: its own count, and the product of the counts of the brackets around it.
struct Token {
    std::string element;
    double count;
    double factor;
    int bracket;  ///< which bracket it stands directly in; 0 for none
};

class Reader {
public:
    explicit Reader(std::string_view shown, std::string text)
        : shown_(shown), text_(std::move(text)) {}

    Result<Formula> read() {
        Formula out;
        out.text = std::string(shown_);
        BW_TRY(charge, take_charge());
        out.charge = charge;
        if (text_.empty()) {
            return bad("nothing is there but a charge");
        }
        while (true) {
            BW_CHECK(read_part(out));
            if (at_ == text_.size()) {
                break;
            }
            ++at_;  // the dot that ended the part
            if (at_ == text_.size()) {
                return bad("it ends with a dot");
            }
        }
        return out;
    }

private:
    [[nodiscard]] tl::unexpected<Problem> bad(std::string_view why) const {
        return fail(
            ProblemCode::BadFormula,
            fmt::format("{} is not a formula: {}; write, for example, MgCl2.6H2O or (NH4)2SO4",
                        base::quoted(shown_), why));
    }
    [[nodiscard]] char here() const { return at_ < text_.size() ? text_[at_] : '\0'; }
    [[nodiscard]] char next() const { return at_ + 1 < text_.size() ? text_[at_ + 1] : '\0'; }

    /// Cuts a charge from the end of the text.
    Result<int> take_charge() {
        const auto sign_at = text_.find_last_of("+-");
        if (sign_at == std::string::npos) {
            return 0;
        }
        const int sign = text_[sign_at] == '+' ? 1 : -1;
        const std::string after = text_.substr(sign_at + 1);
        std::string before = text_.substr(0, sign_at);
        if (after.size() > 1 ||
            (after.size() == 1 && (!base::is_digit(after[0]) || after[0] == '0'))) {
            return bad("a charge is written at the end, as in SO4^2- or SO4-2");
        }
        if (after.size() == 1) {  // SO4-2
            text_ = std::string(base::trim(before));
            return sign * (after[0] - '0');
        }
        std::size_t digits = before.size();
        while (digits > 0 && base::is_digit(before[digits - 1])) {
            --digits;
        }
        const std::string number = before.substr(digits);
        const std::string_view head = std::string_view(before).substr(0, digits);
        const bool set_off = !head.empty() && (head.back() == '^' || head.back() == ' ');
        const bool lone_element =
            (head.size() == 1 && base::is_upper(head[0])) ||
            (head.size() == 2 && base::is_upper(head[0]) && base::is_lower(head[1]));
        int size = 1;
        if (!number.empty() && (set_off || lone_element)) {
            if (number.size() > 1 || number[0] == '0') {
                return bad("a charge has one digit");
            }
            size = number[0] - '0';
            before = std::string(head);
        } else if (number.size() > 1) {
            return bad("it is not clear which digits are the charge: write SO4^2- or SO4-2");
        }
        if (!before.empty() && before.back() == '^') {
            before.pop_back();
        }
        text_ = std::string(base::trim(before));
        return sign * size;
    }

    /// One part between dots, with its leading number.
    Result<void> read_part(Formula& out) {
        double times = 1;
        if (base::is_digit(here())) {
            BW_TRY(number, read_leading_number());
            times = number;
        }
        std::vector<Token> tokens;
        BW_CHECK(read_sequence(tokens, 0, 0));
        if (tokens.empty()) {
            return bad("a part between dots holds no element");
        }
        add_part(out, tokens, times);
        return {};
    }

    /// "6", "0.5", "1/2" before an element.
    Result<double> read_leading_number() {
        const auto digits = [&] {
            const std::size_t from = at_;
            while (base::is_digit(here())) {
                ++at_;
            }
            return text_.substr(from, at_ - from);
        };
        std::string number = digits();
        double divisor = 1;
        if (here() == '.' && base::is_digit(next())) {
            ++at_;
            number += "." + digits();
        } else if (here() == '/' && base::is_digit(next())) {
            ++at_;
            const std::string below = digits();
            divisor = below.size() < 3 ? std::stod(below) : 0;
        }
        constexpr std::size_t kMostDigits = 9;
        const double value =
            number.size() <= kMostDigits && divisor > 0 ? std::stod(number) / divisor : -1;
        if (!(value > 0) || value > kLargestCount) {
            return bad("a leading number is above 0 and at most 10000");
        }
        return value;
    }

    /// A count after an element or bracket; 1 when none is written.
    Result<double> read_count() {
        const std::size_t from = at_;
        while (base::is_digit(here())) {
            ++at_;
        }
        if (at_ == from) {
            return 1.0;
        }
        const std::string digits = text_.substr(from, at_ - from);
        constexpr std::size_t kMostDigits = 5;
        const double value =
            digits.size() <= kMostDigits && digits[0] != '0' ? std::stod(digits) : -1;
        if (!(value >= 1) || value > kLargestCount) {
            return bad(fmt::format("the count '{}' is not between 1 and 10000", digits));
        }
        return value;
    }

    Result<void> read_sequence(std::vector<Token>& tokens, int bracket, int depth) {
        if (depth > kDeepest) {
            return bad("brackets are nested too deep");
        }
        while (at_ < text_.size() && here() != '.' && here() != ')' && here() != ']') {
            if (here() == '(' || here() == '[') {
                BW_CHECK(read_bracket(tokens, depth));
            } else {
                BW_CHECK(read_element(tokens, bracket));
            }
        }
        if (depth == 0 && (here() == ')' || here() == ']')) {
            return bad("a bracket closes that was not opened");
        }
        return {};
    }

    Result<void> read_bracket(std::vector<Token>& tokens, int depth) {
        const char closing = here() == '(' ? ')' : ']';
        ++at_;
        const std::size_t first = tokens.size();
        BW_CHECK(read_sequence(tokens, ++brackets_, depth + 1));
        if (here() != closing) {
            return bad("a bracket is not closed");
        }
        if (tokens.size() == first) {
            return bad("a bracket holds nothing");
        }
        ++at_;
        BW_TRY(count, read_count());
        for (std::size_t i = first; i < tokens.size(); ++i) {
            tokens[i].factor *= count;
        }
        return {};
    }

    Result<void> read_element(std::vector<Token>& tokens, int bracket) {
        if (!base::is_upper(here())) {
            return bad(fmt::format("an element starts with a capital letter, not with {}",
                                   base::quoted(text_.substr(at_, 1))));
        }
        std::string symbol = text_.substr(at_, base::is_lower(next()) ? 2 : 1);
        if (!is_element(symbol)) {
            return bad(fmt::format("{} is not an element", symbol));
        }
        at_ += symbol.size();
        BW_TRY(count, read_count());
        tokens.push_back({std::move(symbol), count, 1, bracket});
        return {};
    }

    /// Adds a part's atoms and groups to the formula. A group is recognised within its bracket,
    /// before the bracket's count is applied, so (NH4)2SO4 holds 2 NH4 and 1 SO4.
    static void add_part(Formula& out, const std::vector<Token>& tokens, double times) {
        const bool water = tokens.size() == 2 && tokens[0].element == "H" && tokens[0].count == 2 &&
                           tokens[1].element == "O" && tokens[1].count == 1;
        if (water && !out.atoms.empty()) {
            out.waters += times * tokens[1].factor;
        }
        for (std::size_t i = 0; i + 1 < tokens.size(); ++i) {
            const Token& a = tokens[i];
            const Token& b = tokens[i + 1];
            for (const Group& group : kGroups) {
                if (a.bracket == b.bracket && a.element == group.first &&
                    b.element == group.second && a.count == group.first_count &&
                    b.count == group.second_count) {
                    add_group(out, group.name, a.factor * times);
                }
            }
        }
        for (std::size_t k = 0; k + 1 < tokens.size(); ++k) {
            const Token& a = tokens[k];
            const Token& b = tokens[k + 1];
            const auto halogen = [](const Token& t) {
                return t.element == "Cl" || t.element == "Br";
            };
            const bool chlorate = halogen(a) && b.element == "O";                      // NaClO3
            const bool hypochlorite = a.element == "O" && halogen(b) && a.count == 1;  // NaOCl
            if (a.bracket == b.bracket && (chlorate || hypochlorite)) {
                add_group(out, "oxohalide", a.factor * times);
            }
        }
        for (const Token& token : tokens) {
            add_atoms(out, token.element, token.count * token.factor * times);
        }
    }

    static void add_atoms(Formula& out, const std::string& element, double count) {
        const auto found = std::find_if(out.atoms.begin(), out.atoms.end(),
                                        [&](const AtomCount& a) { return a.element == element; });
        if (found != out.atoms.end()) {
            found->count += count;
        } else {
            out.atoms.push_back({element, count});
        }
    }

    static void add_group(Formula& out, std::string_view group, double count) {
        const auto found = std::find_if(out.groups.begin(), out.groups.end(),
                                        [&](const GroupCount& g) { return g.group == group; });
        if (found != out.groups.end()) {
            found->count += count;
        } else {
            out.groups.push_back({std::string(group), count});
        }
    }

    std::string_view shown_;
    std::string text_;
    std::size_t at_ = 0;
    int brackets_ = 0;
};

}  // namespace

double Formula::count(std::string_view element) const {
    for (const AtomCount& atom : atoms) {
        if (atom.element == element) {
            return atom.count;
        }
    }
    return 0;
}

double Formula::group_count(std::string_view group) const {
    for (const GroupCount& g : groups) {
        if (g.group == group) {
            return g.count;
        }
    }
    return 0;
}

Result<Formula> parse_formula(std::string_view text) {
    const std::string_view trimmed = base::trim(text);
    if (trimmed.empty()) {
        return fail(ProblemCode::BadFormula, "a formula is empty: write, for example, MgCl2.6H2O");
    }
    if (trimmed.size() > kLongest) {
        return fail(ProblemCode::BadFormula,
                    fmt::format("a formula of {} characters is too long: at most {}",
                                trimmed.size(), kLongest));
    }
    return Reader(trimmed, plain_ascii(trimmed)).read();
}

Result<double> molar_mass_g_per_mol(const Formula& formula, WeightSet set) {
    double mass = 0;
    for (const AtomCount& atom : formula.atoms) {
        const auto weight = atomic_weight(atom.element, set);
        if (!weight) {
            return fail(ProblemCode::BadFormula,
                        fmt::format("{} in {} has no standard atomic weight{}", atom.element,
                                    base::quoted(formula.text),
                                    set == WeightSet::Ciaaw2005 ? " in the 2005 set" : ""));
        }
        mass += weight->value_g_per_mol * atom.count;
    }
    return mass;
}

Result<double> molar_mass_uncertainty_g_per_mol(const Formula& formula) {
    constexpr double kRectangular =
        3;  // variance of a rectangle of half-width a is a^2/3 (JCGM 100, 4.3.7)
    double variance = 0;
    for (const AtomCount& atom : formula.atoms) {
        const auto weight = atomic_weight(atom.element);
        if (!weight) {
            return fail(ProblemCode::BadFormula,
                        fmt::format("{} has no standard atomic weight", atom.element));
        }
        const double half = weight->limit_g_per_mol * atom.count;
        variance += half * half / kRectangular;
    }
    return std::sqrt(variance);
}

}  // namespace bw::matter
