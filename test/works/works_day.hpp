// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <stdexcept>
#include <string>
#include <vector>

#include <fmt/format.h>
#include <gtest/gtest.h>

#include "service/batch_plan.hpp"
#include "service/batch_run.hpp"
#include "service/methods_limits.hpp"
#include "service/people.hpp"
#include "service/recipe_versions.hpp"
#include "service/releases.hpp"
#include "service/shelves.hpp"
#include "service/suppliers.hpp"
#include "service/test_files.hpp"
#include "service/tests.hpp"
#include "store/digest.hpp"
#include "store/ground.hpp"

namespace bw::worksday {

/// Prints the sentence of a problem where a result was expected.
#define BW_MUST(expression) ::bw::worksday::must((expression), __FILE__, __LINE__)
template <class T>
T must(bw::Result<T> result, const char* file, int line) {
    if (!result) {
        ADD_FAILURE_AT(file, line) << result.error().text();
        throw std::runtime_error(result.error().text());
    }
    return std::move(*result);
}
inline void must(const bw::Result<void>& result, const char* file, int line) {
    if (!result) {
        ADD_FAILURE_AT(file, line) << result.error().text();
        throw std::runtime_error(result.error().text());
    }
}

inline const std::string kPassword = "a long invented password";
inline const std::string kProduct = "Three salts";
// By hand: 27 g NaCl, 10 g MgCl2.6H2O and 1.5 g CaCl2.2H2O per kg of purified water.
inline constexpr double kMagnesium = 10 / 203.30 / 1.0385;  // mol per kg of water
inline constexpr double kCalcium = 1.5 / 147.01 / 1.0385;
inline constexpr double kSodium = 27 / 58.443 / 1.0385;
inline constexpr double kChloride = kSodium + 2 * (kMagnesium + kCalcium);

/// The books of an invented works with one product of three salts. Every test runs on SQLite and on
/// PostgreSQL; none is left out.
class WorksDay : public store::ground::OnBoth {
protected:
    void SetUp() override {
        place_ = ground_.place();
        books_.emplace(BW_MUST(store::Books::create(place_, at())));
        BW_MUST(service::begin_books(
            *books_, {"Invented works", "Invented laboratory", "1 Invented Quay", true},
            {"ada", "Ada Min", {works::Duty::Administrator}}, kPassword, at()));
        using enum works::Duty;
        for (const auto& [id, duty] :
             std::vector<std::pair<std::string, works::Duty>>{{"pia", Formulator},
                                                              {"rex", Receiving},
                                                              {"otto", Operator},
                                                              {"ana", Analyst},
                                                              {"ben", Analyst},
                                                              {"quinn", QualityManager},
                                                              {"quade", QualityManager}}) {
            add_person({id, "The " + id, {duty}});
        }
        stock();
        draft();
    }
    void TearDown() override { books_.reset(); }

    void add_person(const works::Person& person) {
        BW_MUST(service::set_person(desk("ada"), person, kPassword, intent()));
    }

    /// Each act a minute after the one before.
    std::string at() {
        ++minutes_;
        return fmt::format("2026-03-{:02}T{:02}:{:02}:00.000Z", 2 + minutes_ / 1440,
                           minutes_ / 60 % 24, minutes_ % 60);
    }
    service::Desk desk(const std::string& person) {
        return {&*books_, BW_MUST(service::kept<works::Person>(*books_, person)).is, "test", at()};
    }
    static service::Intent intent(const std::string& why = "as planned") {
        return {store::random_hex(16), why};
    }
    static service::Signing signing() { return {kPassword}; }

    static works::Supplier supplier() {
        return {"Invented salts",
                "1 Invented Road",
                {"sodium chloride", "magnesium chloride", "calcium chloride"},
                works::SupplierState::Approved,
                "",
                "2026-12-31"};
    }

    void stock() {
        const auto parse = [](const std::string& text) {
            return BW_MUST(io::parse_document(text, "test"));
        };
        BW_MUST(service::keep_materials(desk("pia"), parse(R"(
format = "brinewright/1"
kind = "materials"
name = "three"
invented = true
[[material]]
name = "sodium chloride"
formula = "NaCl"
assay = { value = "100 %", u = "0.05 %" }
[[material]]
name = "magnesium chloride"
formula = "MgCl2.6H2O"
assay = { value = "100 %", u = "0.3 %" }
[[material]]
name = "calcium chloride"
formula = "CaCl2.2H2O"
assay = { value = "100 %", u = "0.3 %" }
)"),
                                        intent()));
        BW_MUST(service::keep_scale(desk("rex"), {"F1", 0.01, 600, 0.01, "2026-12-31"}, intent()));
        BW_MUST(
            service::keep_scale(desk("rex"), {"P1", 0.0001, 6, 0.0001, "2026-12-31"}, intent()));
        BW_MUST(service::keep_supplier(desk("rex"), supplier(), intent()));
        BW_MUST(service::receive_lots(
            desk("rex"), parse(R"(
format = "brinewright/1"
kind = "lots"
[[lot]]
material = "sodium chloride"
number = "A26-0107"
stock = "900 kg"
supplier = "Invented salts"
[[lot]]
material = "magnesium chloride"
number = "M26-0011"
stock = "400 kg"
supplier = "Invented salts"
[[lot]]
material = "calcium chloride"
number = "C26-0003"
stock = "90 kg"
supplier = "Invented salts"
)"),
            {{"certificate.pdf", "application/pdf", "invented certificate"}}, intent()));
        for (const char* lot : {"A26-0107", "M26-0011", "C26-0003"}) {
            BW_MUST(service::judge_lot(desk("quinn"), lot, works::LotState::Accepted, intent()));
        }
    }

    void draft(const std::string& product = kProduct) {
        const auto receipt = BW_MUST(service::draft_recipe(desk("pia"),
                                                           {product, target(),
                                                            R"(format = "brinewright/1"
kind = "recipe"
name = "Three salts"
[[part]]
material = "sodium chloride"
g_per_kg_purified_water = 27.0
[[part]]
material = "magnesium chloride"
g_per_kg_purified_water = 10.0
[[part]]
material = "calcium chloride"
g_per_kg_purified_water = 1.5
)"},
                                                           intent("first version")));
        BW_MUST(service::move_recipe(desk("pia"), receipt.answer, works::VersionState::Offered,
                                     intent()));
        BW_MUST(service::approve_recipe(desk("quinn"), receipt.answer, "", signing(), intent()));
    }
    static std::string target() {
        return fmt::format(R"(format = "brinewright/1"
kind = "target"
name = "three salts"
invented = true
salinity = "33"
temperature = "25 degC"
[[constituent]]
symbol = "Mg"
target = "{:.5f} mmol/kg"
[[constituent]]
symbol = "Ca"
target = "{:.5f} mmol/kg"
[[constituent]]
symbol = "Na"
target = "{:.5f} mmol/kg"
[[constituent]]
symbol = "Cl"
target = "{:.5f} mmol/kg"
)",
                           kMagnesium * 1000, kCalcium * 1000, kSodium * 1000, kChloride * 1000);
    }

    void keep_rules(const std::string& more = "",
                    const std::vector<std::string>& bands = {"Ca", "Mg"}) {
        std::string tables;
        for (const std::string& symbol : bands) {
            tables += "[[band]]\nsymbol = \"" + symbol + "\"\n";
        }
        BW_MUST(service::keep_method(desk("ana"), method("M-07"), intent()));
        BW_MUST(service::keep_method(desk("ana"), method("M-08"), intent()));
        const auto file = BW_MUST(
            io::parse_document("format = \"brinewright/1\"\nkind = \"limits\"\nproduct = \"" +
                                   kProduct + "\"\n" + more + tables,
                               "limits.toml"));
        BW_MUST(service::keep_limits(desk("quinn"), BW_MUST(service::read_limits(file)), signing(),
                                     intent("first limits")));
    }
    static works::Method method(const std::string& id) {
        return BW_MUST(
            service::read_method(BW_MUST(io::parse_document(fmt::format(R"(format = "brinewright/1"
kind = "method"
id = "{}"
title = "Emission spectrometry"
analytes = ["Ca", "Mg", "Na", "Cl"]
unit = "mmol/kg"
u = "0.5 %"
repeatability = "0.3 %"
source = "works manual, {}"
)",
                                                                        id, id),
                                                            "method.toml"))));
    }

    /// A batch of 100 kg, weighed to its sheet, blended and closed; `times` of one step's target.
    std::string make_batch(std::int64_t odd_step = 0, double times = 1,
                           const std::string& product = kProduct) {
        const std::string number = blend_batch(odd_step, times, product);
        BW_MUST(service::close_batch(desk("otto"), number, {98.5, 0.6, 0.5, 4},
                                     intent("what is missing was weighed twice")));
        return number;
    }
    /// A batch whose yield is not yet taken down.
    std::string blend_batch(std::int64_t odd_step = 0, double times = 1,
                            const std::string& product = kProduct) {
        const std::string number =
            BW_MUST(service::plan_batch(desk("pia"), {product, 100, true, false, {}, ""}, intent()))
                .answer;
        const auto batch = BW_MUST(service::kept<works::Batch>(*books_, number)).is;
        std::vector<service::WeighingEntry> entries;
        for (const works::Addition& a : batch.additions) {
            const double kg = a.target_kg * (a.step == odd_step ? times : 1);
            const int places = a.scale == "F1" ? 2 : 4;  // what it shows
            entries.push_back({a.step, a.lot, "", fmt::format("{:.{}f} kg", kg, places), "", true});
        }
        BW_MUST(service::weigh(desk("otto"), number, entries, intent()));
        if (odd_step != 0 && times != 1) {
            explain(number, odd_step);
        }
        BW_MUST(service::blend_batch(desk("otto"), number, intent()));
        return number;
    }
    void explain(const std::string& batch, std::int64_t step) {
        works::Departure d;
        d.subject_kind = works::kAddition;
        d.subject = fmt::format("{}/{}", batch, step);
        d.batch = batch;
        d.what = "weighed beside the tolerance";
        const auto raised = BW_MUST(service::raise_departure(desk("otto"), d, intent()));
        BW_MUST(
            service::answer_departure(desk("otto"), raised.answer, "taken into account", intent()));
        BW_MUST(service::close_departure(desk("quade"), raised.answer, intent()));
    }

    std::string take_sample(const std::string& batch) {
        return BW_MUST(service::take_sample(desk("otto"), {batch, 10, "500 g", "", "riffler"},
                                            intent()))
            .answer;
    }
    std::string dissolve(const std::string& sample) {
        return keep_portion(
            {sample, "38.50 g", "1000.0 g", works::StrengthBy::DryMass, "", "", "", ""});
    }
    std::string keep_portion(const service::PortionEntry& entry) {
        return BW_MUST(service::keep_portion(desk("ana"), entry, intent())).answer;
    }
    /// Dissolves three portions of a sample and tests the last two; the id of the first.
    std::string test_all_but_one(const std::string& sample) {
        const std::string unused = dissolve(sample);
        const std::string first = dissolve(sample);
        count(enter({first, dissolve(sample)}));
        return unused;
    }
    static std::string digits(double mol_per_kg) {
        return fmt::format("{:.4f}", mol_per_kg * 1000);
    }
    /// Ca and Mg of portions, times so much of the target.
    std::string enter(const std::vector<std::string>& portions, double calcium = 1,
                      double magnesium = 1, const std::string& method = "M-07") {
        std::vector<service::ResultEntry> entries;
        double scatter = 0.9995;
        for (const std::string& portion : portions) {
            entries.push_back(
                {portion, "Ca", method, digits(kCalcium * calcium * scatter), "", "", "", ""});
            entries.push_back(
                {portion, "Mg", method, digits(kMagnesium * magnesium * scatter), "", "", "", ""});
            scatter = 1.0005;
        }
        return BW_MUST(service::enter_results(desk("ana"), entries, std::nullopt, intent())).answer;
    }
    /// A sample of a batch, dissolved twice, each portion tested once: the run.
    std::string test_twice(const std::string& batch, double calcium = 1, double magnesium = 1) {
        const std::string sample = take_sample(batch);
        const std::string first = dissolve(sample);
        return enter({first, dissolve(sample)}, calcium, magnesium);
    }
    void count(const std::string& run) {
        BW_MUST(service::check_run(desk("ben"), run, {}, intent()));
        BW_MUST(service::count_run(desk("ben"), run, signing(), intent()));
    }
    /// A batch that is ready: tested twice, each element times so much of its target.
    std::string ready(double calcium = 1, double magnesium = 1) {
        const std::string batch = make_batch();
        count(test_twice(batch, calcium, magnesium));
        return batch;
    }
    works::BatchState state(const std::string& batch) {
        return BW_MUST(service::kept<works::Batch>(*books_, batch)).is.state;
    }
    Result<store::Receipt> decide(const std::string& who, const std::string& batch,
                                  works::Decision decision = works::Decision::Release,
                                  const std::string& why = "as planned") {
        return service::decide_release(desk(who), {batch, decision, ""}, signing(), intent(why));
    }

    std::string place_;
    std::optional<store::Books> books_;
    int minutes_ = 0;
};

/// A day with a released batch.
class ReleasedDay : public WorksDay {
protected:
    void SetUp() override {
        WorksDay::SetUp();
        keep_rules();
        batch_ = ready();
        BW_MUST(decide("quinn", batch_));
    }
    std::string batch_;
};

}  // namespace bw::worksday
