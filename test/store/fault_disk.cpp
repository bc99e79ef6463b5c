// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/fault_disk.hpp"

#include <array>
#include <cstdlib>

#include <sqlite3.h>

namespace bw::store::fault_disk {
namespace {

bool syncs_fail = false;
int writes_left = 0;       // until the failing one
bool writes_fail = false;  // whether one is set at all

sqlite3_vfs* real_disk = nullptr;
sqlite3_vfs fault_vfs;

/// A table of the real disk's functions, and ours in front of it. The real disk has several: files
/// with locks and files without.
struct Front {
    const sqlite3_io_methods* real = nullptr;
    sqlite3_io_methods ours{};
};
std::array<Front, 8> fronts;

Front& front_of(const sqlite3_file* file) {
    for (Front& front : fronts) {
        if (&front.ours == file->pMethods || front.real == file->pMethods) {
            return front;
        }
    }
    std::abort();
}

/// The real file lies where SQLite thinks ours is; only its table of functions is exchanged.
template <class Call>
int real_call(sqlite3_file* file, Call call) {
    Front& front = front_of(file);
    file->pMethods = front.real;
    const int code = call(front.real);
    file->pMethods = &front.ours;
    return code;
}

int write(sqlite3_file* file, const void* bytes, int size, sqlite3_int64 at) {
    if (writes_fail && (writes_left == 0 || --writes_left == 0)) {
        return SQLITE_IOERR_WRITE;
    }
    return real_call(file, [&](auto* real) { return real->xWrite(file, bytes, size, at); });
}

int sync(sqlite3_file* file, int flags) {
    if (syncs_fail) {
        return SQLITE_IOERR_FSYNC;
    }
    return real_call(file, [&](auto* real) { return real->xSync(file, flags); });
}

int open(sqlite3_vfs* /*vfs*/, const char* name, sqlite3_file* file, int flags, int* out) {
    const int code = real_disk->xOpen(real_disk, name, file, flags, out);
    if (code == SQLITE_OK && file->pMethods != nullptr) {
        for (Front& front : fronts) {
            if (front.real == nullptr) {
                front = {file->pMethods, *file->pMethods};
                front.ours.xWrite = write;
                front.ours.xSync = sync;
            }
            if (front.real == file->pMethods) {
                file->pMethods = &front.ours;
                break;
            }
        }
    }
    return code;
}

}  // namespace

void install() {
    if (real_disk != nullptr) {
        return;
    }
    real_disk = sqlite3_vfs_find(nullptr);
    fault_vfs = *real_disk;
    fault_vfs.zName = "fault";
    fault_vfs.xOpen = open;
    sqlite3_vfs_register(&fault_vfs, 1);
}

void fail_syncs(bool failing) { syncs_fail = failing; }

int fail_write(int n) {
    const int left = writes_left;
    writes_left = n;
    writes_fail = n > 0;
    return left;
}

}  // namespace bw::store::fault_disk
