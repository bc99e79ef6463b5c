// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "cli/command_line.hpp"

#include <CLI/CLI.hpp>

#include "base/text.hpp"

namespace bw::cli {
namespace {

/// The library would take "-1" for 2^64 - 1.
std::string not_below_0(const std::string& text) {
    return text.starts_with('-') ? base::quoted(text) + " is below 0" : "";
}

}  // namespace

Option Option::required() const { return Option(*option_->required()); }
Option Option::capture_default_str() const { return Option(*option_->capture_default_str()); }
Option Option::check(Check wrong) const { return Option(*option_->check(wrong)); }
Option Option::check_one_of(const std::vector<std::string>& words) const {
    return Option(*option_->check(CLI::IsMember(words)));
}
Option Option::check_range(int least, int most) const {
    return Option(*option_->check(CLI::Range(least, most)));
}
Option Option::check_range(std::uint64_t least, std::uint64_t most) const {
    return Option(*option_->check(CLI::Range(least, most)));
}
Option Option::needs(Option other) const { return Option(*option_->needs(other.option_)); }
Option Option::remove_needs(Option other) const {
    option_->remove_needs(other.option_);
    return *this;
}
Option Option::excludes(Option other) const { return Option(*option_->excludes(other.option_)); }
Option Option::delimiter(char between) const { return Option(*option_->delimiter(between)); }
Option Option::expected(int count) const { return Option(*option_->expected(count)); }

Command Command::add_subcommand(const std::string& name, const std::string& what) const {
    return Command(*app_->add_subcommand(name, what));
}

template <OptionValue Value>
Option Command::add_option(const std::string& name, Value& value, const std::string& what) const {
    CLI::Option* const option = app_->add_option(name, value, what);
    if constexpr (std::is_same_v<Value, std::uint64_t>) {
        option->check(not_below_0);
    }
    return Option(*option);
}
template Option Command::add_option(const std::string&, std::string&, const std::string&) const;
template Option Command::add_option(const std::string&, std::vector<std::string>&,
                                    const std::string&) const;
template Option Command::add_option(const std::string&, std::optional<std::string>&,
                                    const std::string&) const;
template Option Command::add_option(const std::string&, int&, const std::string&) const;
template Option Command::add_option(const std::string&, std::int64_t&, const std::string&) const;
template Option Command::add_option(const std::string&, std::optional<std::int64_t>&,
                                    const std::string&) const;
template Option Command::add_option(const std::string&, std::uint64_t&, const std::string&) const;
template Option Command::add_option(const std::string&, double&, const std::string&) const;
template Option Command::add_option(const std::string&, std::vector<double>&,
                                    const std::string&) const;
template Option Command::add_option(const std::string&, std::vector<std::int64_t>&,
                                    const std::string&) const;

Option Command::add_flag(const std::string& name, bool& value, const std::string& what) const {
    return Option(*app_->add_flag(name, value, what));
}
Option Command::get_option(const std::string& name) const {
    return Option(*app_->get_option(name));
}
void Command::description(const std::string& what) const { app_->description(what); }
void Command::footer(const std::string& text) const { app_->footer(text); }
void Command::require_subcommand() const { app_->require_subcommand(1); }

std::string Command::name() const { return app_->get_name(); }

std::string Command::description() const { return app_->get_description(); }
std::string Command::footer() const { return app_->get_footer(); }

std::vector<Command::Offered> Command::offered() const {
    std::vector<Offered> out;
    for (const CLI::Option* option : std::as_const(*app_).get_options()) {
        Offered one{{},
                    option->get_description(),
                    option->get_positional(),
                    option->get_items_expected_max() > 0,
                    option->get_required()};
        if (one.alone) {
            one.names.push_back(option->get_name(true));
        } else {
            for (const std::string& name : option->get_snames()) {
                one.names.push_back("-" + name);
            }
            for (const std::string& name : option->get_lnames()) {
                one.names.push_back("--" + name);
            }
        }
        out.push_back(std::move(one));
    }
    return out;
}

std::string Command::full_name() const {
    const CLI::App* noun = app_->get_parent();
    return (noun == nullptr ? "" : noun->get_name() + " ") + app_->get_name();
}

std::vector<Command> Command::subcommands() const {
    std::vector<Command> out;
    for (CLI::App* command : app_->get_subcommands([](const CLI::App*) { return true; })) {
        out.emplace_back(*command);
    }
    return out;
}

bool Command::parsed() const { return app_->parsed(); }

std::vector<Command::Given> Command::given() const {
    std::vector<Given> out;
    for (const CLI::Option* option : std::as_const(*app_).get_options()) {
        if (option->count() > 0) {
            out.push_back({option->get_positional() ? option->get_name(true) : option->get_name(),
                           option->results()});
        }
    }
    return out;
}

CommandLine::CommandLine(const std::string& what, const std::string& program,
                         const std::string& version)
    : app_(std::make_unique<CLI::App>(what, program)) {
    app_->set_version_flag("--version", version);
}

CommandLine::~CommandLine() = default;

CommandLine::Reading CommandLine::read(const std::vector<std::string>& words) {
    try {
        app_->parse(std::vector<std::string>(words.rbegin(), words.rend()));  // the last one first
    } catch (const CLI::Success& asked) {                                     // --help, --version
        const bool version = dynamic_cast<const CLI::CallForVersion*>(&asked) != nullptr;
        return {false, version ? std::string(asked.what()) + "\n" : app_->help()};
    } catch (const CLI::ParseError& wrong) {
        return {true, wrong.what()};
    }
    return {};
}

}  // namespace bw::cli
