// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <string>

#include <toml++/toml.h>

/// Reading of one cell of a table and writing of it as C++; what does not fit ends the build.
namespace datac {

[[noreturn]] void refuse(const std::string& where, const std::string& what);

/// "data/file.toml:line" of a row.
std::string place(const std::string& file, const toml::node& node);

/// data/<file>.toml, whose [table] id must be the same.
toml::table load(const std::string& folder, const std::string& file);

/// A finite number, written as a number or as text.
double number_of(const std::string& where, const std::string& key, const toml::node& node);
/// The number of a row; refused when missing.
double number_in(const std::string& where, const toml::table& row, const char* key);
/// The text of a row; refused when missing or empty.
std::string text_in(const std::string& where, const toml::table& row, const char* key);

/// A C++ string literal of printable ASCII.
std::string literal(const std::string& where, const std::string& text);
/// A C++ literal with all digits.
std::string number_text(double value);

}  // namespace datac
