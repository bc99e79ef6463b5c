# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""A PostgreSQL of a test's own, in a folder and without network."""
import contextlib
import os
import pathlib
import pwd
import signal
import subprocess
import sys
import time

USER = "works"


@contextlib.contextmanager
def server(folder):
    """Runs it in `folder`, which is made, and gives its address; the socket lies there, and USER comes in without a password."""
    programs = sorted(pathlib.Path("/usr/lib/postgresql").glob("*/bin/initdb"), key=lambda p: int(p.parts[-3]))
    if not programs:
        sys.exit("PostgreSQL is not installed: run tools/setup")
    folder.mkdir()
    user = {}
    if os.geteuid() == 0:  # the server refuses root
        owner = pwd.getpwnam("postgres")
        folder.parent.chmod(0o755)
        os.chown(folder, owner.pw_uid, owner.pw_gid)
        user = {"user": owner.pw_uid, "group": owner.pw_gid, "extra_groups": []}
    programs = programs[-1].parent
    with open(folder.parent / "server.log", "w") as log:
        def start(*words):
            return subprocess.Popen([str(programs / words[0]), "-D", str(folder / "data"), *words[1:]], stdout=log,
                                    stderr=log, cwd=folder, **user)
        made = start("initdb", "-U", USER, "--auth=trust", "-E", "UTF8", "--locale=C")
        if made.wait() != 0:
            sys.exit("initdb makes no database: " + (folder.parent / "server.log").read_text())
        process = start("postgres", "-k", str(folder), "-c", "listen_addresses=")
        try:
            for _ in range(600):
                if subprocess.run([str(programs / "pg_isready"), "-h", str(folder), "-q"]).returncode == 0:
                    break
                time.sleep(0.1)
            yield f"postgresql:///postgres?host={folder}&user={USER}"
        finally:
            process.send_signal(signal.SIGINT)  # fast shutdown
            process.wait()
