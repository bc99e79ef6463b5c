// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

namespace bw::works {

/// Whose books these are, as papers name it.
struct Site {
    std::string name;  ///< maker
    std::string laboratory;
    std::string address;
    bool invented = false;  ///< books to learn and test with: papers say so, and acts may be given
                            ///< an instant of their own

    template <class Self, class Visitor>
    static void fields(Self& x, Visitor& v) {
        v("name", x.name);
        v("laboratory", x.laboratory);
        v("address", x.address);
        v("invented", x.invented);
    }
};

}  // namespace bw::works
