// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <string>

namespace bw::works {

/// A material as the catalogue has it.
struct Material {
    std::string name;
    std::string formula;
    std::string text;  ///< JSON of a [[material]] of a file of materials
    bool invented = false;

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("name", x.name);
        v("formula", x.formula);
        v("text", x.text);
        v("invented", x.invented);
    }
};

/// The last number given in a series of identifiers.
struct Series {
    std::string name;  ///< "B26"
    std::int64_t last = 0;

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("name", x.name);
        v("last", x.last);
    }
};

}  // namespace bw::works
