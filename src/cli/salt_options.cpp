// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/salt_options.hpp"

#include <fmt/format.h>

#include "base/text.hpp"
#include "brine/nacl_law.hpp"
#include "brine/natural_seawater.hpp"
#include "io/document.hpp"
#include "service/law_of_water.hpp"
#include "service/recipe_water.hpp"

namespace bw::cli {
Result<service::WaterRequest> water_request(const std::string& file,
                                            const std::vector<std::string>& materials) {
    service::WaterRequest request;
    BW_TRY(water, io::read_document(file));
    request.water = std::move(water);
    BW_TRY(read, io::read_documents(materials));
    request.materials = std::move(read);
    return request;
}

Result<matter::Amounts> amounts_from_options(const SaltOptions& options,
                                             unit::GramPerKg dissolved) {
    if (options.water.empty() && options.salt != "sodium-chloride") {
        return matter::reference_seawater(dissolved.value());
    }
    matter::Amounts out;
    if (options.water.empty()) {
        out[matter::constituent("Na")] = 1;
        out[matter::constituent("Cl")] = 1;
    } else {
        BW_TRY(request, water_request(options.water, options.materials));
        BW_TRY(report, service::show_water(request));
        out = report.mol_per_kg;
    }
    const double mass = out.dissolved_mass_g();
    out.scale(mass > 0 ? dissolved.value() / mass : 0);
    return out;
}

void add_salt_options(Command command, SaltOptions& options) {
    const Option salt =
        command.add_option("--salt", options.salt, "synthetic, seawater or sodium-chloride")
            .capture_default_str();
    const Option water =
        command
            .add_option("--water", options.water,
                        "File of a water made with your salt: its composition then holds")
            .excludes(salt);
    command
        .add_option("--materials", options.materials,
                    "Files of kind \"materials\", when the water is a recipe")
        .needs(water);
}

Result<std::unique_ptr<brine::SaltLaw>> law_from_options(const SaltOptions& options) {
    using brine::NaturalSeawater;
    if (!options.water.empty()) {
        BW_TRY(request, water_request(options.water, options.materials));
        return service::law_of_water(request);
    }
    if (options.salt == "synthetic") {
        return std::make_unique<NaturalSeawater>(NaturalSeawater::Composition::Synthetic);
    }
    if (options.salt == "seawater") {
        return std::make_unique<NaturalSeawater>(NaturalSeawater::Composition::Reference);
    }
    if (options.salt == "sodium-chloride") {
        return std::make_unique<brine::NaclBrine>();
    }
    return fail(ProblemCode::UnknownName,
                fmt::format("{} is no salt known here: known are synthetic, seawater and "
                            "sodium-chloride",
                            base::quoted(options.salt)),
                {"", 0, "--salt"});
}

Result<std::optional<double>> salt_share_from_options(const SaltOptions& options) {
    if (options.water.empty()) {
        return std::nullopt;
    }
    BW_TRY(water, io::read_document(options.water));
    if (!io::is_kind(water, "recipe")) {
        return std::nullopt;
    }
    BW_TRY(materials, io::read_documents(options.materials));
    BW_TRY(share, service::recipe_salt_share(water, materials));
    return share;
}

std::string salt_in_words(const SaltOptions& options, const brine::SaltLaw& law,
                          bool in_uncertainty) {
    return std::string(law.name()) +
           (!options.water.empty() || options.salt != "synthetic" ? ""
            : in_uncertainty ? "; that a synthetic salt differs from it is in the uncertainty"
                             : "; a synthetic salt may differ from it by 0.1 of S_P");
}

}  // namespace bw::cli
