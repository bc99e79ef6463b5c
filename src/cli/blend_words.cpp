// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/blend_words.hpp"

#include <utility>

#include "base/decimal.hpp"
#include "base/text.hpp"
#include "cli/measured.hpp"
#include "unit/factors.hpp"

namespace bw::cli {

std::string mass_words(double kg) {
    constexpr int kDigits = 3;
    return kg < 1 ? base::format_short(kg * unit::kGramPerKg, kDigits) + " g"
                  : base::format_short(kg, kDigits) + " kg";
}

std::string percent_words(double share, int digits) {
    return base::format_short(share * unit::kPercent, digits);
}

Result<double> kilograms(const char* field, const std::string& text) {
    return parse_plain(field, text, {unit::Dimension::Mass});
}

Result<double> share_in_percent(std::string_view field, std::string_view text) {
    BW_TRY(percent, in_unit(field, text, "%", "2 %"));
    return percent / unit::kPercent;
}

Result<service::RelativeFigure> figures_of(const std::string& field,
                                           const std::vector<std::string>& texts, double usual) {
    service::RelativeFigure out{usual, {}};
    bool general = false;
    for (const std::string& text : texts) {
        const auto equals = text.find('=');
        BW_TRY(value, share_in_percent(field, equals == std::string::npos
                                                  ? std::string_view(text)
                                                  : std::string_view(text).substr(equals + 1)));
        if (equals == std::string::npos) {
            if (std::exchange(general, true)) {
                return fail(ProblemCode::BadInput, "a figure for all is given twice",
                            {"", 0, field});
            }
            out.all = value;
        } else {
            out.own.emplace_back(base::trim(text.substr(0, equals)), value);
        }
    }
    return out;
}

}  // namespace bw::cli
