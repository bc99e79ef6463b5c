// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <map>
#include <memory>
#include <mutex>
#include <string>

#include "base/watch.hpp"
#include "http/door.hpp"
#include "http/message.hpp"

namespace bw::http {

/// Computations at work that their askers named, by session: how far they are, and calling them
/// off.
///
/// A computation is named by the header `Call`, 16 to 64 letters, digits or '-', made by the page.
class Calls {
public:
    /// A named computation while it is at work.
    class Entry {
    public:
        Entry(Calls& calls, std::string key);
        Entry(const Entry&) = delete;
        Entry& operator=(const Entry&) = delete;
        ~Entry();
        [[nodiscard]] base::Watch& watch() { return *watch_; }

    private:
        friend class Calls;
        Calls& calls_;
        std::string key_;  ///< empty: of no name
        std::shared_ptr<base::Watch> watch_;
    };

    /// The entry of a request; without the header one that nobody else sees.
    ///
    /// Errors   BadInput for a name of another shape, or one that is at work.
    [[nodiscard]] Result<std::unique_ptr<Entry>> begin(const Request& request,
                                                       const Caller& caller);

    /// GET: how far the call `id` is. Errors NotFound when it is not at work (any more).
    [[nodiscard]] Result<Response> show(const Request& request, const Caller& caller);
    /// DELETE: calls it off. Errors as above.
    [[nodiscard]] Result<Response> call_off(const Request& request, const Caller& caller);

private:
    [[nodiscard]] Result<std::shared_ptr<base::Watch>> find(const Request& request,
                                                            const Caller& caller);

    std::mutex mutex_;
    std::map<std::string, std::shared_ptr<base::Watch>> at_work_;
};

}  // namespace bw::http
