// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once
#include <cstdint>

namespace bw::store::fault_disk {

/// What can happen to a disk.
enum class Fault : std::uint8_t { WriteFails, Full, SyncFails, ReadFails };

/// Puts a disk that can fail between SQLite and the system's files, for the rest of the process.
void install();
/// The n-th touch of the disk of this kind from now on fails, and all after it.
void fail_from(int n, Fault fault);
/// All is well again; whether the failure was met.
bool mend();

}  // namespace bw::store::fault_disk
