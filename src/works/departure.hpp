// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "works/word.hpp"

namespace bw::works {

enum class DepartureState : std::uint8_t { Open, Answered, Closed };
template <>
inline constexpr std::size_t kWords<DepartureState> = 3;
[[nodiscard]] std::string_view name(DepartureState state);

/// What a departure about a batch speaks of; only that is lifted by it.
enum class Concern : std::uint8_t { Making, Samples, Charges, Fault };
template <>
inline constexpr std::size_t kWords<Concern> = 4;
[[nodiscard]] std::string_view name(Concern concern);

/// What a departure about a line of a batch sheet has for its subject's kind; the subject is
/// "B26-0142-K/7".
inline constexpr const char* kAddition = "addition";

/// An unplanned difference from the sheet or method.
struct Departure {
    std::string number;
    std::string subject_kind;  ///< record it belongs to
    std::string subject;
    std::string batch;  ///< whose release waits for it; empty: none
    Concern about = Concern::Making;
    std::string what;
    DepartureState state = DepartureState::Open;
    std::string raised_by;
    std::string answer;
    std::string answered_by;
    std::vector<std::string> answered_before;  ///< by these, when it was answered anew
    std::string closed_by;
    std::vector<std::string> over;  ///< what of its concern was to be seen when it was closed

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("number", x.number);
        v("subject_kind", x.subject_kind);
        v("subject", x.subject);
        v("batch", x.batch);
        v("about", x.about);
        v("what", x.what);
        v("state", x.state);
        v("raised_by", x.raised_by);
        v("answer", x.answer);
        v("answered_by", x.answered_by);
        v("answered_before", x.answered_before);
        v("closed_by", x.closed_by);
        v("over", x.over);
    }
};

/// " about its samples"; empty for what is about the making.
[[nodiscard]] std::string about_words(const Departure& departure);

/// Errors   Refused unless open; BadInput for an empty answer.
[[nodiscard]] Result<Departure> answered(Departure departure, std::string_view by,
                                         std::string_view answer);

/// `over`: the sentences of its concern that the tests show now; it lifts these and no others.
///
/// Errors   Refused unless answered, or by anyone who answered it.
[[nodiscard]] Result<Departure> closed(Departure departure, std::string_view by,
                                       std::vector<std::string> over = {});

}  // namespace bw::works
