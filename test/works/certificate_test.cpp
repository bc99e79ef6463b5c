// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
//
// Certificates of released batches, what stands behind their figures, and what went wrong.
#include <algorithm>
#include <fstream>

#include <gmock/gmock.h>
#include <nlohmann/json.hpp>

#include "command/command_run.hpp"
#include "service/certificate_paper.hpp"
#include "service/certificates.hpp"
#include "service/explain_batch.hpp"
#include "service/make_up_words.hpp"
#include "service/trace.hpp"
#include "service/wanted_water.hpp"
#include "works_day.hpp"

namespace bw::worksday {
namespace {

using testing::AnyOf;
using testing::Contains;
using testing::HasSubstr;
using testing::IsEmpty;
using testing::StartsWith;
using works::Decision;

class CertificateDay : public ReleasedDay {
protected:
    std::string issue(const std::string& why = "as planned",
                      const store::SigningKey* key = nullptr) {
        return BW_MUST(service::issue_certificate(desk("quinn"), {batch_, "", "2027-12-31", true},
                                                  key, intent(why)))
            .answer;
    }
    works::Certificate certificate(const std::string& id) {
        return BW_MUST(service::certificate_of(*books_, id)).is;
    }
};

BW_ON_BOTH(CertificateDay);

TEST_P(CertificateDay, IsIssuedRenderedOnceAndReprinted) {
    const std::string id = issue();
    EXPECT_TRUE(id.ends_with("/1"));
    const auto papers = BW_MUST(service::papers_of(*books_, id));
    EXPECT_THAT(papers.pdf, StartsWith("%PDF-"));
    EXPECT_EQ(store::sha256_hex(papers.pdf), papers.certificate.paper);
    EXPECT_EQ(BW_MUST(service::papers_of(*books_, id)).pdf, papers.pdf);
    const auto paper = BW_MUST(service::certificate_of_json(papers.json));
    EXPECT_EQ(BW_MUST(service::certificate_json(paper)), papers.json);
    EXPECT_EQ(BW_MUST(report::certificate_pdf(paper)), papers.pdf);
    EXPECT_EQ(paper.mark.verification_code, papers.certificate.code);
    EXPECT_EQ(paper.mark.content_mark, papers.certificate.release_mark.substr(0, 16));
    EXPECT_TRUE(paper.mark.invented);
    ASSERT_EQ(paper.results.size(), 2U);
    EXPECT_EQ(paper.results[0].quantity, "Calcium");
    // 9.8251 mmol/kg of calcium, 40.078 g/mol: 393.8 mg/kg; U of k = 2 about 0.9 % of it.
    EXPECT_EQ(paper.results[0].value, "393.8");
    EXPECT_EQ(paper.results[0].unit, "mg/kg");
    EXPECT_EQ(paper.results[0].verdict, report::Status::Within);
    EXPECT_EQ(paper.lots.size(), 3U);
    EXPECT_EQ(paper.signatures.back().meaning, "released");
    const auto sheets = service::certificate_sheets(paper);
    ASSERT_EQ(sheets.size(), 3U);
    EXPECT_EQ(std::get<double>(sheets[1].rows[0][3]), 393.8);
}

TEST_P(CertificateDay, NeedsAReleaseThatStillHolds) {
    const std::string other = ready();
    const auto early =
        service::issue_certificate(desk("quinn"), {other, "", "", false}, nullptr, intent());
    ASSERT_FALSE(early);
    EXPECT_THAT(early.error().message, HasSubstr("is ready"));
    works::Departure d;
    d.subject_kind = "batch";
    d.subject = batch_;
    d.batch = batch_;
    d.what = "a pack was found torn";
    BW_MUST(service::raise_departure(desk("otto"), d, intent()));
    const auto stale =
        service::issue_certificate(desk("quinn"), {batch_, "", "", false}, nullptr, intent());
    ASSERT_FALSE(stale);
    EXPECT_THAT(stale.error().message, HasSubstr("no longer signed"));
    EXPECT_EQ(service::issue_certificate(desk("ana"), {batch_, "", "", false}, nullptr, intent())
                  .error()
                  .code,
              ProblemCode::Refused);
}

TEST_P(CertificateDay, WhoeverVerifiesHearsWhichDecisionStands) {
    const std::string id = issue();
    const std::string code = certificate(id).code;
    BW_MUST(service::judge_lot(desk("quade"), "C26-0003", works::LotState::OnHold,
                               intent("called back")));
    BW_MUST(decide("quinn", batch_, Decision::Hold, "a lot is called back"));
    BW_MUST(service::judge_lot(desk("quade"), "C26-0003", works::LotState::Accepted,
                               intent("as certified")));
    const auto check =
        BW_MUST(service::verify_certificate(*books_, id.substr(0, id.find('/')), code));
    ASSERT_EQ(check.faults.size(), 1U);
    EXPECT_THAT(check.faults[0],
                HasSubstr("is on hold since 2026-03-02 (decision 2): a lot is called back"));
    EXPECT_THAT(check.notes, testing::Contains(HasSubstr("accepted again")));
    EXPECT_THAT(
        service::issue_certificate(desk("quinn"), {batch_, "", "", false}, nullptr, intent())
            .error()
            .message,
        HasSubstr("(decision 2): a lot is called back"));
}

TEST_P(CertificateDay, TheSamplingPlanIsThatOfTheTestedSample) {
    // An untested sample with another plan comes first in the file.
    const auto paper = [&] {
        return BW_MUST(
            service::certificate_of_json(BW_MUST(service::papers_of(*books_, issue())).json));
    };
    const std::string plan = paper().sampling_plan;
    const auto tested = BW_MUST(service::read_batch(*books_, batch_)).file.samples.front();
    works::Sample untested = tested;
    untested.number = "S00-0001-A";
    untested.plan.increments = 77;
    BW_MUST(service::act(desk("otto"), {works::Deed::TakeSample, "sample take", "sample", "S00"},
                         intent(), [&](store::Change& change) -> Result<void> {
                             change.writes.push_back(service::write_of(untested, 0));
                             return {};
                         }));
    ASSERT_EQ(BW_MUST(service::read_batch(*books_, batch_)).file.samples.front().number,
              untested.number);
    BW_MUST(decide("quinn", batch_));
    EXPECT_EQ(paper().sampling_plan, plan);
    EXPECT_THAT(plan, StartsWith(fmt::format("{} increments", tested.plan.increments)));
}

TEST_P(CertificateDay, SaysInWhatConditionTheSampleWasReceivedAndWhen) {
    service::CertificateOrder order{batch_, "", "", false, "dry, bag whole", "2000-01-01"};
    const auto early = service::issue_certificate(desk("quinn"), order, nullptr, intent());
    ASSERT_FALSE(early);
    EXPECT_EQ(early.error().place.field, "received");
    order.received = "2026-03-02";
    const auto issued =
        BW_MUST(service::issue_certificate(desk("quinn"), order, nullptr, intent()));
    const auto paper = BW_MUST(
        service::certificate_of_json(BW_MUST(service::papers_of(*books_, issued.answer)).json));
    EXPECT_EQ(paper.sample_condition, "dry, bag whole");
    EXPECT_EQ(paper.received_on, "2026-03-02");
}

TEST_P(CertificateDay, AReissueReplacesWithAReason) {
    const std::string first = issue();
    EXPECT_EQ(
        service::issue_certificate(desk("quinn"), {batch_, "", "", false}, nullptr, intent(""))
            .error()
            .code,
        ProblemCode::BadInput);
    const std::string second = issue("customer's name was missing");
    EXPECT_TRUE(second.ends_with("/2"));
    EXPECT_EQ(certificate(first).state, works::CertificateState::Replaced);
    EXPECT_THAT(certificate(second).replaces, HasSubstr("issue 1 of 2026-03-0"));
    const std::string number = certificate(second).number;
    EXPECT_EQ(certificate(number).issue, 2);
    // The old code is known, and said to be replaced.
    const auto old = BW_MUST(service::verify_certificate(*books_, number, certificate(first).code));
    EXPECT_FALSE(old.genuine());
    EXPECT_EQ(old.id, first);
    EXPECT_THAT(old.faults[0], HasSubstr("replaced"));
    EXPECT_NE(certificate(first).code, certificate(second).code);
}

TEST_P(CertificateDay, IsVerifiedByNumberAndCode) {
    const std::string id = issue();
    const works::Certificate c = certificate(id);
    EXPECT_TRUE(BW_MUST(service::verify_certificate(*books_, c.number, c.code)).genuine());
    std::string wrong = c.code;
    wrong[0] = wrong[0] == '0' ? '1' : '0';
    EXPECT_FALSE(BW_MUST(service::verify_certificate(*books_, c.number, wrong)).genuine());
    EXPECT_FALSE(BW_MUST(service::verify_certificate(*books_, "C26-9999-X", c.code)).genuine());
    EXPECT_EQ(service::withdraw_certificate(desk("quinn"), c.number, intent("")).error().code,
              ProblemCode::BadInput);
    BW_MUST(service::withdraw_certificate(desk("quinn"), c.number, intent("wrong product")));
    const auto gone = BW_MUST(service::verify_certificate(*books_, c.number, c.code));
    EXPECT_THAT(gone.faults, Contains(HasSubstr("withdrawn")));
    EXPECT_FALSE(service::withdraw_certificate(desk("quinn"), c.number, intent("twice")));
    // After a withdrawal the next issue carries the number on.
    EXPECT_TRUE(issue("right product").ends_with("/2"));
}

TEST_P(CertificateDay, AFileIsVerifiedWithAndWithoutTheBooks) {
    const auto key = BW_MUST(store::SigningKey::make(ground_.folder() / "works.key"));
    const std::string id = issue("as planned", &key);
    const auto papers = BW_MUST(service::papers_of(*books_, id));
    const std::string number = papers.certificate.number;
    EXPECT_TRUE(BW_MUST(service::verify_paper_in(*books_, number, papers.pdf)).genuine());
    EXPECT_TRUE(BW_MUST(service::verify_paper(papers.pdf, papers.signature_file, key.public_key()))
                    .genuine());
    const auto stranger = BW_MUST(store::SigningKey::make(ground_.folder() / "other.key"));
    EXPECT_FALSE(
        BW_MUST(service::verify_paper(papers.pdf, papers.signature_file, stranger.public_key()))
            .genuine());
    for (const std::size_t place : {std::size_t{0}, papers.pdf.size() / 2, papers.pdf.size() - 1}) {
        std::string forged = papers.pdf;
        forged[place] = static_cast<char>(forged[place] ^ 1);
        EXPECT_FALSE(BW_MUST(service::verify_paper_in(*books_, number, forged)).genuine());
        EXPECT_FALSE(BW_MUST(service::verify_paper(forged, papers.signature_file, key.public_key()))
                         .genuine());
    }
    EXPECT_FALSE(service::verify_paper(papers.pdf, "no signature", key.public_key()));
}

TEST_P(CertificateDay, ACorrectionTellsWhoeverVerifies) {
    const works::Certificate c = certificate(issue());
    const auto runs = BW_MUST(service::runs_of(*books_, batch_));
    BW_MUST(service::correct_result(desk("ana"), {runs[0].is.number, 1, "9.9", "", "", ""},
                                    intent("misread")));
    const auto check = BW_MUST(service::verify_certificate(*books_, c.number, c.code));
    EXPECT_FALSE(check.genuine());
    EXPECT_THAT(check.faults, Contains(HasSubstr("no longer signed")));
}

std::vector<std::string> kinds_of(const service::Trace& trace) {
    std::vector<std::string> out;
    for (const service::TraceLine& line : trace.lines) {
        out.push_back(line.kind);
    }
    return out;
}

TEST_P(CertificateDay, EveryFigureIsTracedToWhereItComesFrom) {
    const std::string id = issue();
    for (const std::string& from : {id, certificate(id).number, batch_}) {
        const auto trace = BW_MUST(service::trace_of(*books_, from, "Mg"));
        EXPECT_EQ(trace.batch, batch_);
        for (const char* kind :
             {"batch", "release", "limits", "element", "method", "result", "run", "test_portion",
              "sample", "addition", "weighing", "lot", "recipe"}) {
            EXPECT_THAT(kinds_of(trace), Contains(kind)) << from;
        }
        std::string all;
        for (const service::TraceLine& line : trace.lines) {
            all += line.id + " " + line.text + "\n";
        }
        EXPECT_THAT(all, HasSubstr("works manual, M-07"));
        EXPECT_THAT(all, HasSubstr("M26-0011"));
        EXPECT_THAT(all, HasSubstr(store::sha256_hex("invented certificate")));
        EXPECT_THAT(all, testing::Not(HasSubstr("C26-0003")));  // calcium brings no magnesium
    }
    EXPECT_EQ(service::trace_of(*books_, id, "Sr").error().code, ProblemCode::BadInput);
    EXPECT_EQ(service::trace_of(*books_, "B99-0001-X", "").error().code, ProblemCode::NotFound);
}

const service::TraceLine& line_of(const service::Trace& trace, const std::string& kind,
                                  const std::string& id) {
    for (const service::TraceLine& line : trace.lines) {
        if (line.kind == kind && line.id == id) {
            return line;
        }
    }
    throw std::runtime_error("the trace has no " + kind + " " + id);
}

TEST_P(CertificateDay, ATraceShowsWhatWasSignedAndWhatHasChangedSince) {
    const std::string id = issue();
    const std::string run = BW_MUST(service::runs_of(*books_, batch_))[0].is.number;
    const auto paper =
        BW_MUST(service::certificate_of_json(BW_MUST(service::papers_of(*books_, id)).json));
    const auto before = BW_MUST(service::trace_of(*books_, id, ""));
    EXPECT_THAT(before.changed, IsEmpty());
    for (const service::TraceLine& line : before.lines) {
        EXPECT_FALSE(line.changed) << line.kind << " " << line.id;
    }
    BW_MUST(service::correct_result(desk("ana"), {run, 1, digits(kCalcium * 1.004), "", "", ""},
                                    intent("misread")));
    count(run);
    BW_MUST(decide("quinn", batch_));
    const std::string next = issue("a digit was misread");
    works::Supplier stopped = supplier();
    stopped.state = works::SupplierState::OnWatch;
    stopped.reason = "late with two deliveries";
    BW_MUST(service::keep_supplier(desk("rex"), stopped, intent()));

    const auto after = BW_MUST(service::trace_of(*books_, id, ""));
    ASSERT_EQ(after.lines.size(), before.lines.size());
    for (std::size_t i = 1; i < after.lines.size(); ++i) {  // the first is the issue's own
        EXPECT_EQ(after.lines[i].text, before.lines[i].text);
        EXPECT_EQ(after.lines[i].version, before.lines[i].version);
    }
    const auto& calcium = line_of(after, "element", "Ca");
    EXPECT_THAT(calcium.text,
                StartsWith(fmt::format("printed: {} mg/kg, U {} (k = 2); ", paper.results[0].value,
                                       paper.results[0].expanded)));
    const auto& result = line_of(after, "result", run + "/1");
    EXPECT_THAT(result.text, StartsWith(digits(kCalcium * 0.9995) + " mmol/kg, counted"));
    EXPECT_TRUE(result.changed);
    EXPECT_GT(result.version_now, result.version);
    const auto& other = line_of(after, "result", run + "/2");  // of the same run, untouched
    EXPECT_FALSE(other.changed);
    EXPECT_GT(other.version_now, other.version);
    EXPECT_TRUE(line_of(after, "supplier", "Invented salts").changed);
    EXPECT_THAT(line_of(after, "supplier", "Invented salts").text, StartsWith("approved"));
    EXPECT_FALSE(line_of(after, "recipe", kProduct + "/1").changed);
    EXPECT_THAT(after.changed, Contains(HasSubstr(run + "/1 has changed since")));
    EXPECT_THAT(after.changed, Contains(HasSubstr("decision 2, release")));

    const auto second = BW_MUST(service::trace_of(*books_, next, ""));
    EXPECT_NE(line_of(second, "element", "Ca").text, calcium.text);
    EXPECT_THAT(line_of(second, "result", run + "/1").text,
                StartsWith(digits(kCalcium * 1.004) + " mmol/kg"));
    EXPECT_THAT(second.changed, IsEmpty());
    // A batch is traced as the books stand.
    EXPECT_THAT(line_of(BW_MUST(service::trace_of(*books_, batch_, "")), "result", run + "/1").text,
                StartsWith(digits(kCalcium * 1.004) + " mmol/kg"));
}

TEST_P(CertificateDay, NamesOnlyPortionsThatItsResultsComeFrom) {
    const std::string batch = make_batch();
    const std::string sample = take_sample(batch);
    const std::string unused = test_all_but_one(sample);
    BW_MUST(decide("quinn", batch));
    const std::string id =
        BW_MUST(service::issue_certificate(desk("quinn"), {batch, "", "2027-12-31", true}, nullptr,
                                           intent()))
            .answer;
    const auto paper =
        BW_MUST(service::certificate_of_json(BW_MUST(service::papers_of(*books_, id)).json));
    EXPECT_THAT(paper.method_note, Contains(HasSubstr("Test portion " + sample + "/2")));
    EXPECT_THAT(paper.method_note, testing::Not(Contains(HasSubstr(unused))));
}

TEST(MakeUpWords, SayWhatACertificateStatesWithItsUnits) {
    EXPECT_EQ(BW_MUST(service::make_up_words("{}")), "as the catalogue has it");
    EXPECT_EQ(BW_MUST(service::make_up_words(R"({
  "assay": {"value": "99.90 %", "u": "0.05 %", "basis": "dried"},
  "moisture": "0.05 %",
  "price": "0.28 EUR/kg",
  "impurities": [{"of": "K", "value": 72, "u": 8, "unit": "mg/kg"}, {"of": "Br", "below": "5 mg/kg"},
                 {"of": "Ca", "low": "1 mg/kg", "high": "3 mg/kg"}]})")),
              "assay 99.90 % (u 0.05 %, dried); moisture 0.05 %; impurities: K 72 mg/kg (u 8 "
              "mg/kg), Br below 5 mg/kg, Ca 1 mg/kg to 3 mg/kg");
    EXPECT_EQ(service::make_up_words("nothing").error().code, ProblemCode::BrokenBooks);
}

class ExplainDay : public WorksDay {
protected:
    void SetUp() override {
        WorksDay::SetUp();
        keep_rules("", {"Na", "Mg", "Ca", "Cl"});
    }
    /// A batch whose elements are so many times the target: Na, Mg, Ca, Cl.
    std::string tested(const std::vector<double>& times, double apart = 0.0005,
                       works::StrengthBy by = works::StrengthBy::DryMass) {
        const std::string batch = make_batch();
        service::PortionEntry portion_of{
            take_sample(batch), "38.50 g", "1000.0 g", by, "", "", "", ""};
        if (by != works::StrengthBy::DryMass) {  // read just as the batch's water is to read
            const auto file = BW_MUST(service::kept<works::Batch>(*books_, batch)).is;
            const auto wanted = BW_MUST(service::wanted_water_of(*books_, file));
            portion_of.salinity = fmt::format("{:.4f}", works::reading(wanted.strength, by));
            portion_of.salinity_u = "0.01";
            portion_of.temperature = "25 degC";
        }
        const std::vector<double> target = {kSodium, kMagnesium, kCalcium, kChloride};
        const std::vector<std::string> symbols = {"Na", "Mg", "Ca", "Cl"};
        std::vector<service::ResultEntry> entries;
        for (const double sign : {-1.0, 1.0}) {
            const std::string portion = keep_portion(portion_of);
            for (std::size_t i = 0; i < times.size(); ++i) {
                entries.push_back({portion, symbols[i], "M-07",
                                   digits(target[i] * times[i] * (1 + sign * apart)), "", "", "",
                                   ""});
            }
        }
        count(BW_MUST(service::enter_results(desk("ana"), entries, std::nullopt, intent())).answer);
        return batch;
    }
};

BW_ON_BOTH(ExplainDay);

TEST_P(ExplainDay, FindsNothingWhereNothingIs) {
    const auto x = BW_MUST(service::explain_batch(*books_, tested({1, 1, 1, 1})));
    EXPECT_FALSE(x.fault());
    EXPECT_THAT(x.sentences[0], HasSubstr("No fault"));
}

TEST_P(ExplainDay, FindsAMaterialThatIsShort) {
    // 8 % too little magnesium chloride, a share 10/38.5 of the blend: all is (1 - 0.08 share)^-1
    // more, magnesium 0.92 of that, chloride without 8 % of magnesium's part.
    const double rise = 1 / (1 - 0.08 * 10 / 38.5);
    const double chloride = 1 - 0.08 * 2 * kMagnesium / kChloride;
    const auto x = BW_MUST(
        service::explain_batch(*books_, tested({rise, 0.92 * rise, rise, chloride * rise})));
    ASSERT_EQ(x.diagnosis.verdict, assay::DiagnosisVerdict::Found) << x.sentences[0];
    EXPECT_THAT(x.diagnosis.explanations[0].of, HasSubstr("magnesium chloride, lot M26-0011"));
    EXPECT_NEAR(x.diagnosis.explanations[0].size, -0.08, 0.015);
    EXPECT_THAT(x.sentences[0], HasSubstr("too little of magnesium chloride"));
    EXPECT_THAT(x.sentences[0], HasSubstr("kg of"));
}

// Magnesium chloride is 26 % of the blend. In a mass of blend, 8 % less in its lot lowers what it
// brings and nothing else; where the strength is read from the water that is no sign of the lot.
TEST_P(ExplainDay, PartsALotFromAWeighingByTheMassOfBlendAlone) {
    const double chloride = 1 - 0.08 * 2 * kMagnesium / kChloride;
    for (const auto by : {works::StrengthBy::DryMass, works::StrengthBy::Conductivity}) {
        const auto x =
            BW_MUST(service::explain_batch(*books_, tested({1, 0.92, 1, chloride}, 0.0005, by)));
        const auto& all = x.diagnosis.explanations;
        const auto found = std::find_if(all.begin(), all.end(), [](const assay::Explanation& e) {
            return e.kind == assay::FaultKind::Amount && e.of.starts_with("magnesium chloride");
        });
        ASSERT_NE(found, all.end());
        EXPECT_EQ(found->source, by == works::StrengthBy::DryMass ? assay::AmountSource::Lot
                                                                  : assay::AmountSource::Either)
            << works::name(by) << ": " << x.sentences[0];
    }
}

TEST_P(ExplainDay, CountsWhatTheWeighingsSay) {
    // Half a per cent more calcium chloride is on record, and found: nothing is left to explain.
    const std::string batch = make_batch(1, 1.03);
    const auto file = BW_MUST(service::read_batch(*books_, batch)).file;
    EXPECT_GT(works::state_of(file.batch.additions[0], file.weighings).off_kg, 0);
    const std::string sample = take_sample(batch);
    const std::string material = file.batch.additions[0].material;
    std::vector<service::ResultEntry> entries;
    const double share = file.batch.additions[0].target_kg / file.batch.size_kg;
    const double fall = 1 / (1 + 0.03 * share);
    const auto times = [&](const std::string& of) { return (material == of ? 1.03 : 1) * fall; };
    const double chloride =
        (kSodium * times("sodium chloride") + 2 * kMagnesium * times("magnesium chloride") +
         2 * kCalcium * times("calcium chloride"));
    for (const double scatter : {0.9995, 1.0005}) {
        const std::string portion = dissolve(sample);
        for (const auto& [symbol, amount] : std::vector<std::pair<std::string, double>>{
                 {"Na", kSodium * times("sodium chloride")},
                 {"Mg", kMagnesium * times("magnesium chloride")},
                 {"Ca", kCalcium * times("calcium chloride")},
                 {"Cl", chloride}}) {
            entries.push_back({portion, symbol, "M-07", digits(amount * scatter), "", "", "", ""});
        }
    }
    count(BW_MUST(service::enter_results(desk("ana"), entries, std::nullopt, intent())).answer);
    const auto x = BW_MUST(service::explain_batch(*books_, batch));
    EXPECT_FALSE(x.fault()) << x.sentences[0];
    for (const service::PatternLine& line : x.pattern) {
        EXPECT_NEAR(line.deviation, 0, 2e-4) << line.symbol;
    }
}

TEST_P(ExplainDay, FindsOneElementsCalibration) {
    const auto x = BW_MUST(service::explain_batch(*books_, tested({1, 1, 1, 1.06})));
    EXPECT_TRUE(x.fault());
    EXPECT_EQ(x.diagnosis.explanations[0].kind, assay::FaultKind::Calibration);
    EXPECT_EQ(x.diagnosis.explanations[0].of, "Cl");
}

TEST_P(ExplainDay, SaysThatItCannotTellACalibrationFromAMaterialOfOneElement) {
    // Calcium comes from one salt that brings nearly nothing else: its assay and calcium's own
    // calibration make the same pattern.
    const auto x = BW_MUST(service::explain_batch(*books_, tested({1, 1, 1.05, 1})));
    EXPECT_TRUE(x.fault());
    EXPECT_EQ(x.diagnosis.verdict, assay::DiagnosisVerdict::CannotTell) << x.sentences[0];
    EXPECT_THAT(x.sentences[0], HasSubstr("cannot tell"));
    EXPECT_THAT(x.sentences, Contains(HasSubstr("by another method")));
}

TEST_P(ExplainDay, FindsPortionsThatAreNotMixed) {
    const auto x = BW_MUST(service::explain_batch(*books_, tested({1, 1, 1, 1}, 0.02)));
    EXPECT_TRUE(x.spread.unmixed());
    EXPECT_TRUE(x.fault());
    EXPECT_THAT(x.sentences, Contains(HasSubstr("not mixed")));
}

TEST_P(ExplainDay, WantsThreeElements) {
    const std::string batch = make_batch();
    count(test_twice(batch));
    const auto x = BW_MUST(service::explain_batch(*books_, batch));
    EXPECT_TRUE(x.too_few);
    EXPECT_FALSE(x.fault());
    EXPECT_THAT(x.sentences,
                testing::ElementsAre("Batch " + batch +
                                     " has 2 tested elements: three tested "
                                     "elements of its target are the least from which a cause can "
                                     "be told."));
    EXPECT_TRUE(x.diagnosis.explanations.empty());
}

TEST_P(ExplainDay, OfABatchWithoutATestNothingIsSaidToConform) {
    const std::string batch = make_batch();
    const auto show = [&](const char* noun, const char* verb) {
        return command_test::run_here({noun, verb, batch, "--books", place_, "--json"});
    };
    const auto explained = show("batch", "explain");
    EXPECT_EQ(explained.code, 1) << explained.err;  // no answer is no good answer
    const auto x = nlohmann::json::parse(explained.out);
    EXPECT_EQ(x.at("verdict"), "too few tested");
    EXPECT_EQ(x.at("fault"), false);
    EXPECT_THAT(x.at("sentences").at(0).get<std::string>(),
                HasSubstr("Nothing of batch " + batch + " is tested yet"));
    EXPECT_TRUE(x.at("explanations").empty());
    const auto release = show("release", "show");
    EXPECT_EQ(nlohmann::json::parse(release.out).at("tested_together"), "nothing is tested yet");
    const auto text = command_test::run_here({"release", "show", batch, "--books", place_});
    EXPECT_THAT(text.out, HasSubstr("nothing is tested yet"));
    EXPECT_THAT(text.out, testing::Not(HasSubstr("conform at once with")));
}

}  // namespace
}  // namespace bw::worksday
