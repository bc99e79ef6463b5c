// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "service/catalogue.hpp"

#include <fmt/format.h>

#include "base/text.hpp"

namespace bw::service {

Result<std::vector<io::PlacedMaterial>> read_catalogue(const std::vector<io::Document>& documents) {
    std::vector<io::PlacedMaterial> out;
    for (const io::Document& document : documents) {
        BW_TRY(materials, io::read_materials(document));
        for (io::PlacedMaterial& material : materials) {
            for (const io::PlacedMaterial& earlier : out) {
                if (earlier.material.name == material.material.name) {
                    return fail(ProblemCode::DuplicateName,
                                fmt::format("a material named {} stands at {}:{} already",
                                            base::quoted(material.material.name),
                                            earlier.place.file, earlier.place.line),
                                material.place);
                }
            }
            out.push_back(std::move(material));
        }
    }
    if (out.size() > io::kMostMaterials) {
        return fail(ProblemCode::TooLarge,
                    fmt::format("there are {} materials: at most {} are solved for", out.size(),
                                io::kMostMaterials));
    }
    return out;
}

}  // namespace bw::service
