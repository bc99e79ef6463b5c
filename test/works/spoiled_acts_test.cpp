// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// The acts of a batch from a price to a signed paper, each with every field of its order left out,
// misspelt or holding something else: a receipt or one clear complaint. What was done is taken
// back before the next.
#include <filesystem>
#include <fstream>
#include <functional>
#include <iterator>
#include <map>

#include "fuzz/act_property.hpp"
#include "fuzz/spoil.hpp"
#include "service/certificates.hpp"
#include "service/mixing_sheets.hpp"
#include "works/works_day.hpp"

namespace {

using namespace bw;
using namespace bw::worksday;
namespace fs = std::filesystem;

/// An act of the corpus: who does it, and how its file ends.
struct Act {
    const char *person, *file;
    std::function<void(nlohmann::json&)> mended = nullptr;  ///< makes its order one of this day
};

class SpoiledActs : public WorksDay {
protected:
    void SetUp() override {
        WorksDay::SetUp();
        keep_rules();
    }

    /// Each of the acts as it should be, and spoiled in every way.
    void spoil(const std::vector<Act>& acts) {
        for (const Act& act : acts) {
            SCOPED_TRACE(act.file);
            books_.reset();
            fs::remove_all(before());
            fs::copy(place_, before(), fs::copy_options::recursive);
            open();
            const auto order = order_of(act);
            const auto good = carry_out(act, order.first, order.second);
            EXPECT_TRUE(good) << good.error().text();
            take_back();
            fuzz::for_each_spoiled(
                nlohmann::json::parse(order.second), [&](const fuzz::Spoiled& spoiled) {
                    judge(spoiled.how, carry_out(act, order.first, spoiled.document.dump()));
                });
        }
    }
    void judge(const std::string& how, const Result<http::Response>& answer) {
        if (answer) {
            EXPECT_TRUE(nlohmann::json::accept(answer->body)) << how;
            ++done_;
            take_back();
            return;
        }
        ++refused_;
        const auto fault = fuzz::fault_of_complaint(answer.error());
        EXPECT_FALSE(fault) << how << ": " << fault.value_or("");
    }

    [[nodiscard]] std::string before() const { return place_ + "_before"; }
    void open() { books_.emplace(BW_MUST(store::Books::open(place_))); }
    void take_back() {
        books_.reset();
        fs::remove_all(place_);
        fs::copy(before(), place_, fs::copy_options::recursive);
        open();
    }

    /// The name and the body of an act of the corpus, with the numbers that this day has.
    std::pair<std::string, std::string> order_of(const Act& act) const {
        for (const auto& entry :
             fs::directory_iterator(std::string(BW_SOURCE_DIR) + "/test/fuzz/corpus/act")) {
            if (entry.path().filename().string().find(act.file) == std::string::npos) {
                continue;
            }
            std::ifstream in(entry.path(), std::ios::binary);
            std::string text{std::istreambuf_iterator<char>(in), {}};
            for (const auto& [placeholder, number] : numbers_) {
                for (std::size_t at = 0; (at = text.find(placeholder, at)) != std::string::npos;
                     at += number.size()) {
                    text.replace(at, placeholder.size(), number);
                }
            }
            const std::size_t end = text.find('\n');
            auto body = nlohmann::json::parse(text.substr(end + 1));
            body["order"].erase("shown");  // a mark of what was shown that is none
            if (act.mended) {
                act.mended(body["order"]);
            }
            return {text.substr(0, end), body.dump()};
        }
        ADD_FAILURE() << "no act " << act.file;
        return {};
    }
    Result<http::Response> carry_out(const Act& act, const std::string& name,
                                     const std::string& body) {
        http::Request request;
        request.method = "POST";
        request.body = body;
        return http::carry_out(fuzz::act_called(name), request, {desk(act.person), "a token"},
                               nullptr);
    }

    std::map<std::string, std::string> numbers_ = {{"not the password", kPassword}};
    int done_ = 0, refused_ = 0;
};

TEST_P(SpoiledActs, BeforeABatch) {
    numbers_["A26-0107"] = "A26-0108";
    numbers_["M26-0011"] = "M26-0012";
    numbers_["C26-0003"] = "C26-0004";
    spoil({{"rex", "_scale_keep"},
           {"pia", "_material_keep"},
           {"rex", "_supplier_keep"},
           {"rex", "_lot_receive"},
           {"pia", "_recipe_keep"},
           {"ana", "_method_keep"},
           {"quinn", "_limits_keep"},
           {"ana", "_results_keep_map",
            [](nlohmann::json& order) { order["head"] = std::string(64, 'a'); }},
           {"ada", "_person_add"}});
    numbers_.erase("A26-0107");
    spoil({{"quinn", "_lot_hold"}, {"pia", "_batch_plan"}});
    EXPECT_GT(refused_, 400);
    EXPECT_GT(done_, 20);
}

TEST_P(SpoiledActs, WhileItIsMade) {
    const std::string number =
        BW_MUST(service::plan_batch(desk("pia"), {kProduct, 100, true, false, {}, ""}, intent()))
            .answer;
    numbers_["B26-0001-X"] = number;
    spoil({{"otto", "_batch_weigh"}, {"otto", "_departure_raise"}});
    numbers_["B26-0001-X"] = blend_batch();
    spoil({{"otto", "_batch_correct",
            [&](nlohmann::json& order) { order["weighing"] = numbers_["B26-0001-X"] + "/1.1"; }},
           {"otto", "_batch_close"},
           {"otto", "_sample_take"}});
    EXPECT_GT(refused_, 200);
    EXPECT_GT(done_, 10);
}

TEST_P(SpoiledActs, WhileItIsTested) {
    const std::string batch = make_batch();
    const std::string sample = take_sample(batch);
    const std::string first = dissolve(sample);
    const std::string run = enter({first, dissolve(sample)});
    numbers_["B26-0001-X"] = batch;
    numbers_["S26-0001-X/1"] = first;
    numbers_["R26-0001-X"] = run;
    spoil({{"ana", "_results_enter", [](nlohmann::json& order) { order["results"].erase(1); }},
           {"ana", "_results_import",
            [](nlohmann::json& order) { order["portions"][0]["name"] = "S26-0001-X/1"; }},
           {"ben", "_results_check"},
           {"ben", "_results_set_aside"},
           {"ana", "_results_correct"}});
    numbers_.erase("S26-0001-X/1");
    numbers_["S26-0001-X"] = sample;
    spoil({{"ana", "_sample_portion"}});
    EXPECT_GT(refused_, 300);
    EXPECT_GT(done_, 20);
}

TEST_P(SpoiledActs, AfterItIsTested) {
    numbers_["B26-0001-X"] = ready();
    numbers_["2026-03-01"] = "2026-03-02";  // of receipt: not before it was made
    const auto shown = [&](const auto& draft) {
        return [&](nlohmann::json& order) { order["shown"] = draft(); };
    };
    const auto release = [&] {
        return BW_MUST(service::show_release(*books_, numbers_["B26-0001-X"])).mark;
    };
    spoil({{"quinn", "_release_decide", shown(release)}});
    BW_MUST(decide("quinn", numbers_["B26-0001-X"]));
    const auto sheet = [&] {
        return BW_MUST(service::draft_mixing_sheet(
                           *books_,
                           {numbers_["B26-0001-X"], "2027-12-31", {10, 25, 100, 1000}, 24, ""}))
            .mark;
    };
    const auto certificate = [&] {
        service::CertificateOrder order;
        order.batch = numbers_["B26-0001-X"];
        order.customer = "An invented reef";
        order.use_by = "2027-12-31";
        order.condition = "dry";
        order.received = "2026-03-02";
        order.with_lots = true;
        return BW_MUST(service::draft_certificate(*books_, order, "as planned", "2026-03-09")).mark;
    };
    spoil({{"quinn", "_mixing_sheet_sign", shown(sheet)},
           {"quinn", "_certificate_issue", shown(certificate)}});
    EXPECT_GT(refused_, 50);
    EXPECT_GT(done_, 5);
}

INSTANTIATE_TEST_SUITE_P(On, SpoiledActs, testing::Values(store::Dialect::Sqlite),
                         store::ground::name_of);

}  // namespace
