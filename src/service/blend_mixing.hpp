// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "service/blend_grains.hpp"
#include "service/relative_figure.hpp"
#include "works/batch.hpp"

namespace bw::service {

struct BlendMixingRequest {
    io::Document recipe;
    std::vector<io::Document> materials;
    double batch_kg = 500;
    std::vector<double> samples_kg;          ///< of blend, as they are tested; one at least
    RelativeFigure repeatability{0.01, {}};  ///< standard deviation of a result on one solution
    std::int64_t results = 2;                ///< of each sample, averaged
    double wanted = 0.02;                    ///< the promise that samples are to prove
    double confidence = 0.95;
    std::int64_t premix_for = 1;  ///< batches that one premix is made for
    /// Relative standard deviation seen among samples of the first mass, by symbol.
    std::vector<std::pair<std::string, double>> seen;
};

/// One vessel's premix.
struct PremixPlan {
    struct Part {
        std::string material;
        double kg = 0;
        double equal_grains = 0;  ///< that scatter as what goes into one batch does
        double relative_sd = 0;   ///< of its mass in the part for one batch; 0 for one batch
    };
    bool late = false;  ///< of what draws water or must not lie with carbonates
    std::vector<Part> parts;
    std::string carrier;
    std::vector<works::PremixStage> stages;
};

/// What samples of one mass can show of one constituent.
struct SampleProof {
    double by_chance = 0;        ///< relative sd among samples of a blend mixed as well as can be
    double with_analysis = 0;    ///< the same among their results
    std::optional<int> samples;  ///< that prove the promise; none: no number does
    double factor = 0;           ///< k of their tolerance interval
    enum class Against { Nothing, Grains, Analysis, Number };
    Against against = Against::Nothing;  ///< without a number: what is too much
};

/// What was seen among samples, against its limits.
struct SeenScatter {
    double seen = 0;       ///< relative sd of the results
    double of_blend = 0;   ///< what is left without the analysis
    double of_mixing = 0;  ///< and without chance: better mixing can take this off, and no more
    std::optional<double> lacey;  ///< mixing index; none where a sample holds hardly a grain
};

struct ConstituentMixing {
    matter::Constituent constituent;
    double unmixed = 0;  ///< relative sd where nothing is mixed
    double repeatability = 0;
    std::vector<SampleProof> proofs;  ///< by sample mass
    double enough_kg = 0;  ///< of this batch: from it on grains are a third of the analysis
    std::optional<int> increments;  ///< of the first mass, whose mean is as good; none: more than
                                    ///< half of the batch
    std::optional<SeenScatter> seen;
};

struct BlendMixingReport {
    std::string recipe;
    bool invented = false;
    double batch_kg = 0, wanted = 0, confidence = 0;
    std::vector<double> samples_kg;
    std::int64_t results = 0, premix_for = 0;
    double provable = 0;  ///< scatter of results above which nothing proves the promise
    std::vector<PremixPlan> premixes;
    std::vector<std::pair<std::string, double>>
        alone;                                    ///< small parts straight into the blender, kg
    std::vector<ConstituentMixing> constituents;  ///< the most scattered first
    bool proven = false;  ///< samples of the last mass prove every constituent
    base::Notices notices;
};

/// How a recipe's blend is premixed, what its samples show when it is mixed as well as can be, and
/// how many of them prove the promise.
///
/// Definition   premixes by the rule of the batch sheet, works::sheet_for, for batch_kg times
///              premix_for; a part of a premix for one batch scatters by scatter_of. Among samples:
///              chance by scatter_of; their results add the repeatability over the root of the
///              results. Samples: those whose tolerance interval for 95 % of all such portions lies
///              within the promise, blend::samples_to_prove, their mean taken to be right.
/// Errors       those of blend_grains and figure_for_each; OutOfRange: no sample, one above 0.5 of
///              the batch, a promise or confidence that does not lie between 0 and 1, fewer than
///              one result or batch.
[[nodiscard]] Result<BlendMixingReport> blend_mixing(const BlendMixingRequest& request);

}  // namespace bw::service
