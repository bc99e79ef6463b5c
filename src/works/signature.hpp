// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include "works/person.hpp"

namespace bw::works {

/// Somebody's signature under exactly the bytes that were shown.
struct Signature {
    std::string person;   ///< id
    std::string name;     ///< as printed
    std::string duty;     ///< in which it was given
    std::string meaning;  ///< "approved for use", "released"
    std::string at;       ///< ISO 8601, UTC
    std::string mark;     ///< SHA-256 of the bytes shown, 64 hexadecimal digits

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("person", x.person);
        v("name", x.name);
        v("duty", x.duty);
        v("meaning", x.meaning);
        v("at", x.at);
        v("mark", x.mark);
    }
};

}  // namespace bw::works
