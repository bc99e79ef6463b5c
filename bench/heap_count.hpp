// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <atomic>
#include <cstddef>

/// Bytes on the heap, of every allocation of the program that links heap_count.cpp.
namespace bw::bench {

extern std::atomic<std::size_t> heap_now;
extern std::atomic<std::size_t> heap_peak;  ///< set it to heap_now before what is measured

}  // namespace bw::bench
