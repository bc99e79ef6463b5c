// SPDX-FileCopyrightText: The Brinewright authors
// SPDX-License-Identifier: Apache-2.0
#include "store/fault_disk.hpp"

#include <array>
#include <cstdlib>

#include <sqlite3.h>

namespace bw::store::fault_disk {
namespace {

Fault set = Fault::WriteFails;
int left = 0;  // until the failing one; 0: none is set
bool met = false;

/// Whether a touch of the disk of this kind fails now.
bool fails(Fault fault) {
    if (left == 0 || fault != set) {
        return false;
    }
    if (left > 1) {
        --left;
        return false;
    }
    met = true;
    return true;
}

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
    if (fails(Fault::WriteFails)) {
        return SQLITE_IOERR_WRITE;
    }
    if (fails(Fault::Full)) {
        return SQLITE_FULL;
    }
    return real_call(file, [&](auto* real) { return real->xWrite(file, bytes, size, at); });
}

int read(sqlite3_file* file, void* bytes, int size, sqlite3_int64 at) {
    if (fails(Fault::ReadFails)) {
        return SQLITE_IOERR_READ;
    }
    return real_call(file, [&](auto* real) { return real->xRead(file, bytes, size, at); });
}

int sync(sqlite3_file* file, int flags) {
    if (fails(Fault::SyncFails)) {
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
                front.ours.xRead = read;
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

void fail_from(int n, Fault fault) {
    left = n;
    set = fault;
    met = false;
}

bool mend() {
    left = 0;
    return met;
}

}  // namespace bw::store::fault_disk
