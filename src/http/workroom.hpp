// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>
#include <string_view>
#include <vector>

#include "base/result.hpp"

namespace bw::http {

/// A folder of its own for the files of one question; gone with it.
class Workroom {
public:
    /// Errors   Disk where the system's folder for temporary files cannot be written.
    [[nodiscard]] static Result<Workroom> open();
    Workroom(Workroom&& other) noexcept;
    Workroom& operator=(Workroom&&) = delete;
    Workroom(const Workroom&) = delete;
    Workroom& operator=(const Workroom&) = delete;
    ~Workroom();

    /// Writes a file under a name that people gave it, of which plain characters stay; each in a
    /// folder of its own, so that two may have one name. Gives its path. Errors Disk.
    [[nodiscard]] Result<std::string> put(std::string_view name, std::string_view bytes);
    /// A path for a file that a command is to write.
    [[nodiscard]] std::string path_of(std::string_view name) const;
    [[nodiscard]] Result<std::string> read(const std::string& path) const;
    /// A text without the folders of this room: "raised.toml:12: ...".
    [[nodiscard]] std::string told(std::string text) const;

private:
    explicit Workroom(std::string folder) : folder_(std::move(folder)) {}
    std::string folder_;
    std::vector<std::string> shelves_;  ///< folders in it, with '/' at their end
};

}  // namespace bw::http
