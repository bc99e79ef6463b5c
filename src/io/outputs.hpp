// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"
#include "io/sheet.hpp"

namespace bw::io {

/// Whether two paths lead to one file; never so for an empty one.
[[nodiscard]] bool same_file(const std::string& a, const std::string& b);

/// Files that appear together or not at all: each is written whole under another name first, then
/// all are renamed.
///
/// Errors   Disk, for a folder that is not there, a path that is a folder or another thing than a
/// file, a full disk.
class Outputs {
public:
    Outputs() = default;
    ~Outputs();
    Outputs(const Outputs&) = delete;
    Outputs& operator=(const Outputs&) = delete;

    [[nodiscard]] Result<void> add_text(const std::string& path, std::string_view bytes);
    /// A workbook of one sheet each; the same sheets give the same bytes.
    [[nodiscard]] Result<void> add_workbook(const std::string& path,
                                            const std::vector<Sheet>& sheets);
    /// Gives all files their names.
    [[nodiscard]] Result<void> publish();

private:
    struct Draft {
        std::string shown, target, draft;
    };
    [[nodiscard]] Result<int> open_draft(const std::string& path);

    std::vector<Draft> drafts_;
};

}  // namespace bw::io
