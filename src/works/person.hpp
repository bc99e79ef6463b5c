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

/// What a person is there for.
enum class Duty : std::uint8_t {
    Formulator,
    Receiving,
    Operator,
    Analyst,
    QualityManager,
    Administrator
};

/// What needs a duty.
enum class Deed : std::uint8_t {
    ChangePeople,
    ChangeCatalogue,  ///< materials, scales
    ChangeSuppliers,
    ReceiveLot,
    JudgeLot,
    DraftRecipe,
    ApproveRecipe,
    SetLimits,
    PlanBatch,
    ApproveAdjustment,
    Weigh,
    CloseBatch,
    TakeSample,
    RaiseDeparture,
    AnswerDeparture,
    CloseDeparture,
    ChangeMethods,
    EnterResults,
    CheckResults,
    DecideRelease,
    IssueCertificate,
    SignMixingSheet,
    ChangeOwnPassword
};

template <>
inline constexpr std::size_t kWords<Duty> = 6;

enum class PersonState : std::uint8_t { Active, Stopped };
template <>
inline constexpr std::size_t kWords<PersonState> = 2;

/// Somebody who keeps the books; the password is kept apart.
struct Person {
    std::string id;  ///< short, as typed at sign-in
    std::string name;
    std::vector<Duty> duties;
    PersonState state = PersonState::Active;

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("id", x.id);
        v("name", x.name);
        v("duties", x.duties);
        v("state", x.state);
    }
};

[[nodiscard]] std::string_view name(Duty duty);
[[nodiscard]] std::string_view name(PersonState state);
[[nodiscard]] std::string_view name(Deed deed);

/// Whether a duty carries a deed.
[[nodiscard]] bool may(Duty duty, Deed deed);

/// The duty in which a person does a deed: the first of theirs that carries it.
///
/// Errors   Refused for one who is stopped or has no such duty; the message names the duties that
///          have it.
[[nodiscard]] Result<Duty> duty_for(const Person& person, Deed deed);

/// Errors   BadInput: an id that is not 2 to 32 of a-z, 0-9, '.', '-', or starts otherwise than
/// with
///          a letter; an empty name; no duty; a duty twice.
[[nodiscard]] Result<void> check(const Person& person);

}  // namespace bw::works
