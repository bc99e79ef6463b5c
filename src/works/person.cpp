// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "works/person.hpp"

#include <algorithm>
#include <array>

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::works {
namespace {

struct DeedRow {
    Deed deed;
    std::string_view name;
    std::vector<Duty> duties;
};

/// Who may do what. No duty both makes and releases.
const std::vector<DeedRow>& deeds() {
    using enum Duty;
    static const std::vector<DeedRow> kRows = {
        {Deed::ChangePeople, "change people", {Administrator}},
        {Deed::ChangeCatalogue, "change materials and scales", {Formulator, Receiving}},
        {Deed::ChangeSuppliers, "change suppliers", {Receiving, QualityManager}},
        {Deed::ReceiveLot, "receive a lot", {Receiving}},
        {Deed::JudgeLot, "judge a lot", {Analyst, QualityManager}},
        {Deed::DraftRecipe, "draft a recipe", {Formulator}},
        {Deed::ApproveRecipe, "approve a recipe", {QualityManager}},
        {Deed::SetLimits, "set limits", {QualityManager}},
        {Deed::PlanBatch, "plan a batch", {Formulator, Operator}},
        {Deed::ApproveAdjustment, "approve a lot adjustment", {Formulator, QualityManager}},
        {Deed::Weigh, "weigh", {Operator}},
        {Deed::CloseBatch, "close a batch", {Operator}},
        {Deed::TakeSample, "take a sample", {Operator, Analyst}},
        {Deed::RaiseDeparture,
         "raise a departure",
         {Formulator, Receiving, Operator, Analyst, QualityManager}},
        {Deed::AnswerDeparture, "answer a departure", {Formulator, Operator, Analyst}},
        {Deed::CloseDeparture, "close a departure", {QualityManager}},
        {Deed::ChangeMethods, "change methods", {Analyst, QualityManager}},
        {Deed::EnterResults, "enter results", {Analyst}},
        {Deed::CheckResults, "check results", {Analyst, QualityManager}},
        {Deed::DecideRelease, "decide on a release", {QualityManager}},
        {Deed::IssueCertificate, "issue a certificate", {QualityManager}},
        {Deed::SignMixingSheet, "sign a mixing sheet", {QualityManager}},
        {Deed::ChangeOwnPassword,
         "change their own password",
         {Formulator, Receiving, Operator, Analyst, QualityManager, Administrator}},
    };
    return kRows;
}

const DeedRow& row_of(Deed deed) {
    const auto& rows = deeds();
    const auto found =
        std::find_if(rows.begin(), rows.end(), [&](const DeedRow& r) { return r.deed == deed; });
    base::expect(found != rows.end(), "every deed has its row");
    return *found;
}

constexpr std::size_t kShortestId = 2;
constexpr std::size_t kLongestId = 32;

}  // namespace

std::string_view name(Duty duty) {
    constexpr std::array<std::string_view, kWords<Duty>> kNames = {
        "formulator", "receiving", "operator", "analyst", "quality manager", "administrator"};
    return kNames.at(static_cast<std::size_t>(duty));
}

std::string_view name(PersonState state) {
    return state == PersonState::Active ? "active" : "stopped";
}

std::string_view name(Deed deed) { return row_of(deed).name; }

bool may(Duty duty, Deed deed) {
    const auto& duties = row_of(deed).duties;
    return std::find(duties.begin(), duties.end(), duty) != duties.end();
}

Result<Duty> duty_for(const Person& person, Deed deed) {
    if (person.state == PersonState::Stopped) {
        return fail(ProblemCode::Refused,
                    fmt::format("{} is stopped and may do nothing in the books", person.id));
    }
    for (const Duty duty : person.duties) {
        if (may(duty, deed)) {
            return duty;
        }
    }
    std::vector<std::string> who;
    for (const Duty duty : row_of(deed).duties) {
        who.emplace_back(name(duty));
    }
    std::vector<std::string> own;
    for (const Duty duty : person.duties) {
        own.emplace_back(name(duty));
    }
    return fail(ProblemCode::Refused,
                fmt::format("{} may not {}: that is for the duty {}, and theirs is {}", person.id,
                            name(deed), base::join_words(who, "or"), base::join_words(own)));
}

Result<void> check(const Person& person) {
    const std::string& id = person.id;
    const bool fits = id.size() >= kShortestId && id.size() <= kLongestId &&
                      base::is_lower(id.front()) && std::all_of(id.begin(), id.end(), [](char c) {
                          return base::is_lower(c) || base::is_digit(c) || c == '.' || c == '-';
                      });
    if (!fits) {
        return fail(ProblemCode::BadInput,
                    fmt::format("{} is no name to sign in by: write 2 to 32 of a-z, 0-9, '.' and "
                                "'-', a letter first",
                                base::quoted(id)),
                    {"", 0, "id"});
    }
    if (base::trim(person.name).empty()) {
        return fail(ProblemCode::BadInput, "a person needs a name as it is to be printed",
                    {"", 0, "name"});
    }
    if (person.duties.empty()) {
        return fail(ProblemCode::BadInput, "a person needs a duty: " + all_words<Duty>(),
                    {"", 0, "duties"});
    }
    for (std::size_t i = 0; i < person.duties.size(); ++i) {
        for (std::size_t k = 0; k < i; ++k) {
            if (person.duties[i] == person.duties[k]) {
                return fail(ProblemCode::BadInput,
                            fmt::format("the duty {} stands twice", name(person.duties[i])),
                            {"", 0, "duties"});
            }
        }
    }
    return {};
}

}  // namespace bw::works
