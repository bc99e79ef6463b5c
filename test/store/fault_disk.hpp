// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#pragma once

namespace bw::store::fault_disk {

/// Puts a disk that can fail between SQLite and the system's files, for the rest of the process.
void install();
/// From now on no sync succeeds, or all do again.
void fail_syncs(bool failing);
/// The n-th write from now on fails, and all after it; 0: none. Gives how many were still to come
/// before the failure set last.
int fail_write(int n);

}  // namespace bw::store::fault_disk
