// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

namespace bw::works {

/// How the tables of one instrument are read, kept under a name for the next of them.
struct KeptMap {
    std::string name;
    std::string head;  ///< SHA-256 of the heads of the table that it was made for
    std::string text;  ///< of a file of kind "column-map"
    std::string kept_by;

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("name", x.name);
        v("head", x.head);
        v("text", x.text);
        v("kept_by", x.kept_by);
    }
};

}  // namespace bw::works
