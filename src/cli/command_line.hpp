// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <type_traits>
#include <utility>
#include <vector>

namespace CLI {  // NOLINT(readability-identifier-naming): the library's own
class App;
class Option;
}  // namespace CLI

namespace bw::cli {

/// What is wrong with a word: nothing when it is empty.
using Check = std::string (*)(const std::string& word);

/// Names one option of a command and says what holds of it. It lives as long as its command line.
///
/// The library of command lines is all templates in headers: command_line.cpp alone compiles it.
class Option {
public:
    explicit Option(CLI::Option& option) : option_(&option) {}
    Option required() const;
    /// The help shows the value that its variable has now.
    Option capture_default_str() const;
    Option check(Check wrong) const;
    /// One of these words and no other.
    Option check_one_of(const std::vector<std::string>& words) const;
    Option check_range(int least, int most) const;
    Option check_range(std::uint64_t least, std::uint64_t most) const;
    /// Where this one is given, the other must be.
    Option needs(Option other) const;
    Option remove_needs(Option other) const;
    /// Where this one is given, the other must not be.
    Option excludes(Option other) const;
    /// Splits a word into values.
    Option delimiter(char between) const;
    /// So many values, no more and no fewer.
    Option expected(int count) const;

private:
    CLI::Option* option_;
};

template <class Value, class... Known>
concept OneOf = (std::is_same_v<Value, Known> || ...);

/// What an option can set. Another type needs its line in command_line.cpp as well.
template <class Value>
concept OptionValue = OneOf < Value,
        std::string, std::vector<std::string>, std::optional<std::string>,
int, std::int64_t, std::optional<std::int64_t>, std::uint64_t, double, std::vector<double>,
    std::vector < std::int64_t >>
    ;

/// Names a command, a noun such as "recipe" or its verb, or none. It lives as long as its command
/// line.
class Command {
public:
    Command() = default;
    explicit Command(CLI::App& app) : app_(&app) {}

    [[nodiscard]] Command add_subcommand(const std::string& name, const std::string& what) const;
    /// "--name", or "NAME" for a word that stands alone; `value` must outlive the command line.
    template <OptionValue Value>
    Option add_option(const std::string& name, Value& value, const std::string& what) const;
    Option add_flag(const std::string& name, bool& value, const std::string& what) const;
    [[nodiscard]] Option get_option(const std::string& name) const;
    void description(const std::string& what) const;
    /// Stands below the help.
    void footer(const std::string& text) const;
    /// One of its commands must be named.
    void require_subcommand() const;

    [[nodiscard]] std::string name() const;
    [[nodiscard]] std::string description() const;
    [[nodiscard]] std::string footer() const;
    /// With that of the command that it was added to, where there is one.
    [[nodiscard]] std::string full_name() const;
    [[nodiscard]] std::vector<Command> subcommands() const;
    /// Whether it was called.
    [[nodiscard]] bool parsed() const;

    struct Given {
        std::string option;
        std::vector<std::string> words;
    };
    struct Offered {
        std::vector<std::string> names;  ///< "-h", "--help"; or one word that stands alone
        std::string what;
        bool alone = false;  ///< a word without dashes
        bool takes_words = false, required = false;
    };
    /// What it takes, in the order of the help.
    [[nodiscard]] std::vector<Offered> offered() const;
    /// The options that were given, in the order of the help.
    [[nodiscard]] std::vector<Given> given() const;

    friend bool operator==(Command, Command) = default;

private:
    CLI::App* app_ = nullptr;
};

/// All commands of a program, and the reading of its words.
class CommandLine {
public:
    /// `version` is what --version prints.
    CommandLine(const std::string& what, const std::string& program, const std::string& version);
    ~CommandLine();
    CommandLine(const CommandLine&) = delete;
    CommandLine& operator=(const CommandLine&) = delete;

    [[nodiscard]] Command root() const { return Command(*app_); }

    struct Reading {
        bool wrong = false;  ///< then `text` says what
        std::string text;    ///< else what --help or --version asked for: print it and be done
    };
    /// Sets the variables of the options; an empty text: go on with the command that was called.
    [[nodiscard]] Reading read(const std::vector<std::string>& words);

private:
    std::unique_ptr<CLI::App> app_;
};

}  // namespace bw::cli
