// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "assay/diagnosis.hpp"

#include <algorithm>

#include <gmock/gmock.h>
#include <gtest/gtest.h>

#include "figure.hpp"
#include "stat/draw.hpp"

namespace bw::assay {
namespace {

// A salt of ten materials and what was tested of it: shares of each element by material and of the
// dissolved salt, of a published seawater recipe (Kester et al. 1967), worked out beforehand by
// another program.
BatchMakeUp salt() {
    BatchMakeUp out;
    out.materials = {"NaCl",  "Na2SO4", "KCl",        "NaHCO3",     "KBr",
                     "H3BO3", "NaF",    "MgCl2.6H2O", "CaCl2.2H2O", "SrCl2.6H2O"};
    out.share = {{0.874342, 0.120523, 0.0, 0.004983, 0.0, 0.0, 0.000153, 0.0, 0.0, 0.0},
                 {0.0, 0.0, 0.916851, 0.0, 0.083149, 0.0, 0.0, 0.0, 0.0, 0.0},
                 {0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0},
                 {0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0, 0.0},
                 {0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 1.0},
                 {0.750014, 0.0, 0.016634, 0.0, 0.0, 0.0, 0.0, 0.195174, 0.037848, 0.00033},
                 {0.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0},
                 {0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0},
                 {0.0, 0.0, 0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0},
                 {0.0, 0.0, 0.0, 1.0, 0.0, 0.0, 0.0, 0.0, 0.0, 0.0}};
    out.salt_share = {0.680362, 0.113972, 0.019251, 0.005573, 0.002787,
                      0.000739, 8.5e-05,  0.144225, 0.0326,   0.000406};
    return out;
}

BatchPattern tested() {
    BatchPattern out;
    out.elements = {"Na", "K", "Mg", "Ca", "Sr", "Cl", "Br", "SO4", "B", "Alk"};
    out.u = {0.006999999999999999,
             0.006999999999999999,
             0.006999999999999999,
             0.006999999999999999,
             0.015,
             0.006999999999999999,
             0.015,
             0.006999999999999999,
             0.015,
             0.006999999999999999};
    out.deviation.assign(out.elements.size(), 0);
    return out;
}

std::size_t place(const std::string& material) {
    const auto names = salt().materials;
    return static_cast<std::size_t>(std::find(names.begin(), names.end(), material) -
                                    names.begin());
}

/// What a batch shows when one material is off by a share: every element, brought to the salinity.
BatchPattern shown(const std::string& material, double off) {
    const BatchMakeUp m = salt();
    BatchPattern out = tested();
    const std::size_t k = place(material);
    for (std::size_t j = 0; j < out.elements.size(); ++j) {
        out.deviation[j] = (1 + m.share[j][k] * off) / (1 + m.salt_share[k] * off) - 1;
    }
    return out;
}

struct Constructed {
    const char* material;
    double off, found, explains;
};

// Constructed without noise; sizes and test values worked out beforehand by another program.
TEST(Diagnosis, OneMaterialOffIsFound) {
    for (const Constructed& c :
         {Constructed{"MgCl2.6H2O", -0.05, -0.0504, 44.1}, Constructed{"KCl", 0.10, 0.0998, 164.2},
          Constructed{"SrCl2.6H2O", -0.20, -0.200, 177.7},
          Constructed{"NaCl", 0.03, 0.0294, 46.9}}) {
        const auto d = diagnose(shown(c.material, c.off), salt());
        ASSERT_TRUE(d) << c.material;
        const auto amount = std::find_if(
            d->explanations.begin(), d->explanations.end(),
            [&](const auto& e) { return e.kind == FaultKind::Amount && e.of == c.material; });
        ASSERT_NE(amount, d->explanations.end());
        EXPECT_NEAR(amount->size, c.found, 1e-4) << c.material;
        EXPECT_NEAR(amount->explains, c.explains, 0.05) << c.material;
    }
}

// Smallest faults that are seen, with 0.7 and 1.5 % of uncertainty: worked out beforehand.
TEST(Diagnosis, SaysWhatItCouldSee) {
    const auto d = diagnose(tested(), salt());
    ASSERT_TRUE(d);
    EXPECT_EQ(d->verdict, DiagnosisVerdict::Nothing);
    EXPECT_NEAR(d->smallest_seen[place("NaCl")], 0.012, 0.0005);
    EXPECT_NEAR(d->smallest_seen[place("MgCl2.6H2O")], 0.021, 0.001);
    EXPECT_NEAR(d->smallest_seen[place("SrCl2.6H2O")], 0.042, 0.001);
    EXPECT_GT(d->smallest_seen[place("NaF")], 10);
}

// Two batches of one salt cannot part a mis-weighed salt from a wrong calibration where an element
// has one source alone: the page says so and names no culprit.
TEST(Diagnosis, CannotTellASourceFromItsCalibration) {
    BatchPattern p = tested();
    p.deviation[4] = -0.10;  // Sr
    const auto d = diagnose(p, salt());
    ASSERT_TRUE(d);
    EXPECT_EQ(d->verdict, DiagnosisVerdict::CannotTell);
    const auto& e = d->explanations;
    EXPECT_EQ(e[0].of, "SrCl2.6H2O");
    EXPECT_TRUE(std::any_of(e.begin(), e.begin() + 4, [](const auto& x) {
        return x.kind == FaultKind::Calibration && x.of == "Sr";
    }));
}

TEST(Diagnosis, TwoFaultsAreNotMadeIntoOne) {
    BatchPattern p = tested();
    p.deviation[1] = 0.08;   // K
    p.deviation[8] = -0.15;  // B
    const auto d = diagnose(p, salt());
    ASSERT_TRUE(d);
    EXPECT_EQ(d->verdict, DiagnosisVerdict::Unexplained);
}

TEST(Diagnosis, ALeftOutPremixIsOneCause) {
    BatchMakeUp m = salt();
    m.premixes = {{place("KBr"), place("H3BO3"), place("SrCl2.6H2O")}};
    BatchPattern p = tested();
    for (const std::size_t j : {4U, 6U, 8U}) {
        p.deviation[j] = -0.99;
    }
    p.deviation[1] = -0.082;  // K of the bromide
    const auto d = diagnose(p, m);
    ASSERT_TRUE(d);
    EXPECT_EQ(d->explanations.front().kind, FaultKind::Premix);
    EXPECT_NEAR(d->explanations.front().size, -0.99, 0.02);
}

struct Trial {
    BatchPattern pattern;
    FaultKind kind;
    std::string of;
};

/// A fault drawn at random: seven in ten a material, the rest a calibration or the strength.
Trial trial(stat::DrawStream& draws) {
    double r[4];
    draws.between_0_and_1(r);
    const double sign = r[2] < 0.5 ? -1 : 1;
    const BatchMakeUp m = salt();
    Trial out{tested(), FaultKind::Strength, ""};
    if (r[0] < 0.7) {
        const auto k = static_cast<std::size_t>(10 * r[1]);
        out = {shown(m.materials[k], sign * (0.02 + 0.10 * r[3])), FaultKind::Amount,
               m.materials[k]};
    } else if (r[0] < 0.85) {
        const auto j = static_cast<std::size_t>(10 * r[1]);
        out.pattern.deviation[j] = sign * (0.03 + 0.06 * r[3]);
        out.kind = FaultKind::Calibration;
        out.of = out.pattern.elements[j];
    } else {
        out.pattern.deviation.assign(10, sign * (0.02 + 0.04 * r[3]));
    }
    out.pattern.u_common = 0.005;
    return out;
}

bool names(const Diagnosis& d, const Trial& t) {
    const Explanation& first = d.explanations.front();
    const bool amount = first.kind == FaultKind::Amount || first.kind == FaultKind::LeftOut ||
                        first.kind == FaultKind::Twice;
    return first.of == t.of && (first.kind == t.kind || (t.kind == FaultKind::Amount && amount));
}

/// Of the faults that share their pattern with others.
void record_others(int others, int left_open, int named_wrongly) {
    test::record_miss(
        {"Books",
         "the others of the 1000 simulated faults, which share their pattern with another cause: "
         "the diagnosis says that it cannot tell, or sees nothing",
         "all of them", fmt::format("{} of {}", left_open, others), left_open == others},
        fmt::format("for the other {} it named one cause, as scatter made the pattern look like it "
                    "alone; of all causes named in the 1000, {} wrong; held to 9 of 10",
                    others - left_open, named_wrongly));
}

// 1000 faults with the scatter of duplicate tests. A fault is identifiable when its pattern without
// scatter is told from all others; of those the cause has to rank first in 9 of 10. Of the others
// the page has to say that it cannot tell, or sees nothing, in 9 of 10.
TEST(Diagnosis, OfAThousandFaultsTheIdentifiableAreFound) {
    stat::DrawStream draws(20'251'126, 0);
    int identifiable = 0;
    int ranked_first = 0;
    int others = 0;
    int left_open = 0;
    int named_wrongly = 0;
    for (int i = 0; i < 1000; ++i) {
        Trial t = trial(draws);
        const auto clean = diagnose(t.pattern, salt());
        ASSERT_TRUE(clean);
        const bool can = clean->verdict == DiagnosisVerdict::Found && names(*clean, t);
        std::vector<double> scatter(11);
        draws.normal(scatter);
        for (std::size_t j = 0; j < 10; ++j) {
            t.pattern.deviation[j] += scatter[j] * t.pattern.u[j] + 0.005 * scatter[10];
        }
        const auto d = diagnose(t.pattern, salt());
        ASSERT_TRUE(d);
        const bool open = d->verdict != DiagnosisVerdict::Found;
        identifiable += can ? 1 : 0;
        ranked_first += can && names(*d, t) ? 1 : 0;
        others += can ? 0 : 1;
        left_open += !can && open ? 1 : 0;
        named_wrongly += !open && !names(*d, t) ? 1 : 0;
    }
    EXPECT_GT(identifiable, 300);
    EXPECT_GE(ranked_first, 0.9 * identifiable);
    EXPECT_GE(left_open, 0.9 * others);
    EXPECT_LE(named_wrongly, 10);
    test::record({"Books",
                  "1000 simulated faults with the scatter of duplicate tests: of those whose "
                  "pattern without scatter the diagnosis tells from all others, the true cause "
                  "ranks first",
                  "at least 90 %", fmt::format("{} of {}", ranked_first, identifiable),
                  ranked_first >= 0.9 * identifiable});
    // Of the others scatter makes some look like one cause alone: named, and mostly rightly.
    record_others(others, left_open, named_wrongly);
}

TEST(Diagnosis, BadInputIsOneSentence) {
    BatchPattern p = tested();
    p.u[3] = 0;
    EXPECT_THAT(diagnose(p, salt()).error().message, testing::HasSubstr("Ca needs a deviation"));
    p = tested();
    p.elements.pop_back();
    EXPECT_THAT(diagnose(p, salt()).error().message, testing::HasSubstr("as many as"));
}

// Calcium comes from one material alone: by one method its calibration and the material's amount
// make the same pattern. A second method that agrees speaks for the material.
TEST(Diagnosis, ASecondMethodPartsACalibrationFromAMaterial) {
    BatchPattern pattern = shown("CaCl2.2H2O", -0.06);
    const auto one = diagnose(pattern, salt());
    ASSERT_TRUE(one);
    EXPECT_EQ(one->verdict, DiagnosisVerdict::CannotTell);
    pattern.methods.assign(pattern.elements.size(), 1);
    const auto same = diagnose(pattern, salt());
    EXPECT_DOUBLE_EQ(same->explanations.front().weight, one->explanations.front().weight);
    pattern.methods[3] = 2;
    const auto two = diagnose(pattern, salt());
    ASSERT_TRUE(two);
    EXPECT_EQ(two->verdict, DiagnosisVerdict::Found);
    EXPECT_EQ(two->explanations.front().kind, FaultKind::Amount);
    EXPECT_EQ(two->explanations.front().of, "CaCl2.2H2O");
    pattern.methods[3] = 0.5;
    EXPECT_FALSE(diagnose(pattern, salt()));
}

const Explanation& first_of(const Result<Diagnosis>& d) { return d->explanations.front(); }

// A tenth less of a salt that is 14 % of the blend: weighed so, all else is 1.4 % higher in a mass
// of blend; from a damp lot, nothing else moves. Brought to a salinity, or of a salt that is a hair
// of the blend, the two are the same.
TEST(Diagnosis, PartsALotFromAWeighingWhereTheBlendsMassIsTheMeasure) {
    const auto damp = [](const std::string& material, double off) {
        BatchPattern p = tested();
        for (std::size_t j = 0; j < p.elements.size(); ++j) {
            p.deviation[j] = salt().share[j][place(material)] * off;
        }
        return p;
    };
    for (BatchPattern p : {damp("MgCl2.6H2O", -0.10), shown("MgCl2.6H2O", -0.10)}) {
        const bool of_lot = p.deviation[0] == 0;  // Na, which MgCl2 does not bring
        p.u.assign(p.u.size(), 0.003);
        EXPECT_EQ(first_of(diagnose(p, salt())).source, AmountSource::Either);
        p.by_mass = true;
        const auto d = diagnose(p, salt());
        ASSERT_TRUE(d);
        EXPECT_EQ(d->verdict, DiagnosisVerdict::Found);
        const Explanation& first = first_of(d);
        EXPECT_EQ(first.of, "MgCl2.6H2O");
        EXPECT_EQ(first.source, of_lot ? AmountSource::Lot : AmountSource::Weighing);
        EXPECT_NEAR(first.size, -0.10, 0.002);
        EXPECT_EQ(std::count_if(d->explanations.begin(), d->explanations.end(),
                                [](const Explanation& e) {
                                    return e.of == "MgCl2.6H2O" && e.kind == FaultKind::Amount;
                                }),
                  1);
    }
    BatchPattern small = damp("KCl", -0.10);
    small.by_mass = true;
    EXPECT_EQ(first_of(diagnose(small, salt())).of, "KCl");
    EXPECT_EQ(first_of(diagnose(small, salt())).source, AmountSource::Either);
}

}  // namespace
}  // namespace bw::assay
