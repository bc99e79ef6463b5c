// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/laboratory_commands.hpp"

#include "cli/books_options.hpp"
#include "cli/chart_command.hpp"
#include "cli/curve_command.hpp"
#include "cli/sample_command.hpp"

namespace bw::cli {

struct LaboratoryCommands::Impl {
    CurveReadArguments curve_arguments;
    ChartTrendArguments chart_arguments;
    SampleHomogeneityArguments sample_arguments;
    Command curve, chart, sample;
};

LaboratoryCommands::LaboratoryCommands(Command app) : impl_(std::make_unique<Impl>()) {
    const auto noun = [&](const char* name, const char* what,
                          const std::string& example) -> Command {
        const Command out = noun_of(app, name, what);
        out.description(what);
        out.footer("Example:\n  brinewright " + example);
        return out;
    };
    impl_->curve = add_curve_read(
        noun("curve", "Titration curves: read", "curve read examples/laboratory/alkalinity.csv"),
        impl_->curve_arguments);
    impl_->chart = add_chart_trend(noun("chart", "Charts of results: trend",
                                        "chart trend examples/laboratory/calcium_batches.csv"),
                                   impl_->chart_arguments);
    impl_->sample =
        add_sample_homogeneity(noun("sample", "Samples: take, homogeneity",
                                    "sample homogeneity examples/laboratory/calcium_packs.csv"),
                               impl_->sample_arguments);
}

LaboratoryCommands::~LaboratoryCommands() = default;

std::optional<int> LaboratoryCommands::carry_out(const Streams& streams) const {
    return impl_->curve.parsed()   ? std::optional(curve_read(impl_->curve_arguments, streams))
           : impl_->chart.parsed() ? std::optional(chart_trend(impl_->chart_arguments, streams))
           : impl_->sample.parsed()
               ? std::optional(sample_homogeneity(impl_->sample_arguments, streams))
               : std::nullopt;
}

}  // namespace bw::cli
