// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "heap_count.hpp"

#include <cstdlib>
#include <new>

#include <malloc.h>

namespace bw::bench {

std::atomic<std::size_t> heap_now{0};
std::atomic<std::size_t> heap_peak{0};

}  // namespace bw::bench

using namespace bw::bench;

void* operator new(std::size_t size) {
    void* block = std::malloc(size);
    if (block == nullptr) {
        throw std::bad_alloc();
    }
    heap_now += malloc_usable_size(block);
    std::size_t peak = heap_peak;
    while (peak < heap_now && !heap_peak.compare_exchange_weak(peak, heap_now)) {
    }
    return block;
}
void operator delete(void* block) noexcept {
    if (block != nullptr) {
        heap_now -= malloc_usable_size(block);
        std::free(block);
    }
}
void operator delete(void* block, std::size_t) noexcept { operator delete(block); }
