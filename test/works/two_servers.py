# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Two servers on one PostgreSQL, asked in turn as a reverse proxy would: one session serves both, what one writes the
other reads, a request sent to both acts once, lines that the database ended are made anew before they are used, the death of
one server loses nothing that was answered, the trail stays whole.
Then both together are held against one alone under the same readers.

usage: two_servers.py SOURCE PROGRAM [SECONDS_OF_LOAD]"""
import concurrent.futures
import http.client
import json
import pathlib
import random
import re
import subprocess
import sys
import tempfile
import time
import uuid

SOURCE, PROGRAM = pathlib.Path(sys.argv[1]).resolve(), str(pathlib.Path(sys.argv[2]).resolve())
SECONDS = float(sys.argv[3]) if len(sys.argv) > 3 else 2
READERS = 8
sys.path.insert(0, str(SOURCE / "test" / "works"))
import kill_acts  # noqa: E402
from kill_acts import fail_unless  # noqa: E402


class Server:
    def __init__(self, books):
        self.process = subprocess.Popen([PROGRAM, "serve", "--books", books, "--port", "0"], stdout=subprocess.PIPE,
                                        text=True)
        said = re.search(r"http://([^/\s]+)", self.process.stdout.readline())
        fail_unless(said, "a server on PostgreSQL starts")
        self.place = said[1]

    def ask(self, method, path, body=None, heads=None):
        line = http.client.HTTPConnection(self.place, timeout=30)
        line.request(method, path, body and json.dumps(body), {"Content-Type": "application/json", **(heads or {})})
        answer = line.getresponse()
        return answer.status, answer.getheader("Set-Cookie"), json.loads(answer.read() or "{}")

    def stop(self):
        self.process.terminate()
        self.process.wait()


def signed_in(server, person, password):
    status, cookie, body = server.ask("POST", "/api/v1/session", {"person": person, "password": password})
    fail_unless(status == 200, f"{person} signs in: {body}")
    return {"Cookie": cookie.split(";")[0], "Form-Token": body["form_token"]}


def weighing(batch, addition):
    line = {"step": addition["step"], "lot": addition["lot"], "net": addition["target_kg"] + " kg"}
    return {"request": str(uuid.uuid4()), "why": "as planned", "order": {"batch": batch, "weighings": [line]}}


def reads_per_second(servers, path, heads):
    """What READERS readers are answered, each by the servers in turn over lines that stay open."""
    until = time.monotonic() + SECONDS

    def read(first):
        lines = [http.client.HTTPConnection(server.place, timeout=30) for server in servers]
        count = first
        while time.monotonic() < until:
            line = lines[count % len(lines)]
            line.request("GET", path, headers=heads)
            answer = line.getresponse()
            answer.read()
            fail_unless(answer.status == 200, f"{path}: {answer.status}")
            count += 1
        return count - first
    with concurrent.futures.ThreadPoolExecutor(READERS) as readers:
        return sum(readers.map(read, range(READERS))) / SECONDS


def end_lines(books):
    """Ends every line to the database, as its restart does."""
    folder, user = re.search(r"host=([^&]+)&user=(\w+)", books).groups()
    others = "FROM pg_stat_activity WHERE backend_type = 'client backend' AND pid <> pg_backend_pid()"

    def count(what):
        return int(subprocess.run(["psql", "-h", folder, "-U", user, "-d", "postgres", "-Atc", f"SELECT count({what}) {others}"],
                                  stdout=subprocess.PIPE, text=True, check=True).stdout)
    fail_unless(count("pg_terminate_backend(pid)") >= 2, "two servers hold lines")
    while count("*"):  # they end soon, not at once
        time.sleep(0.05)


def try_two(folder, books):
    works, _, batch, sheet = kill_acts.prepare(folder, books, random.Random(4711))
    password = pathlib.Path(works.path("olga.password")).read_text().strip()
    one, other = Server(books), Server(books)
    try:
        heads = signed_in(one, "olga", password)
        status, _, body = other.ask("GET", "/api/v1/session", heads=heads)
        fail_unless(status == 200 and body["person"]["id"] == "olga", "the other server knows the session")
        additions = sheet["additions"]
        acts = []
        for i, addition in enumerate(additions[:-1]):
            body = weighing(batch, addition)
            first, second = (one, other) if i % 2 == 0 else (other, one)
            status, _, told = first.ask("POST", "/api/v1/act/batch/weigh", body, heads)
            fail_unless(status == 200 and not told["repeated"], f"step {addition['step']} is weighed: {told}")
            status, _, told = second.ask("POST", "/api/v1/act/batch/weigh", body, heads)
            fail_unless(status == 200 and told["repeated"], f"the same request acts once: {told}")
            status, _, seen = second.ask("GET", f"/api/v1/view/batch/show?batch={batch}", heads=heads)
            fail_unless(status == 200 and len(seen["result"]["weighings"]) == i + 1, "the other server shows what one wrote")
            acts.append(body)
        # Both at once with one request: whichever comes first acts, both are told of the one entry.
        last = weighing(batch, additions[-1])
        with concurrent.futures.ThreadPoolExecutor(2) as both:
            told = [t[2] for t in both.map(lambda s: s.ask("POST", "/api/v1/act/batch/weigh", last, heads), (one, other))]
        fail_unless(told[0].get("entry") and told[0]["entry"] == told[1].get("entry"), f"one request, sent to both: {told}")
        fail_unless(told[0]["repeated"] != told[1]["repeated"], f"one of both is told that it was a repeat: {told}")

        record = f"/api/v1/record?kind=lot&id={additions[0]['lot']}"
        together, alone = (reads_per_second(s, record, heads) for s in ((one, other), (one,)))

        end_lines(books)
        for server in (one, other):
            status, _, told = server.ask("POST", "/api/v1/act/batch/weigh", last, heads)
            fail_unless(status == 200 and told["repeated"], f"after the database's restart an act is answered at once: {told}")
        end_lines(books)
        for server in (one, other):
            status, _, seen = server.ask("GET", f"/api/v1/view/batch/show?batch={batch}", heads=heads)
            fail_unless(status == 200, f"after the database's restart a question is answered at once: {seen}")

        one.process.kill()
        one.process.wait()
        status, _, seen = other.ask("GET", f"/api/v1/view/batch/show?batch={batch}", heads=heads)
        fail_unless(status == 200 and len(seen["result"]["weighings"]) == len(additions), "nothing that was answered is lost")
        status, _, told = other.ask("POST", "/api/v1/act/batch/blend",
                                    {"request": str(uuid.uuid4()), "why": "", "order": {"batch": batch}}, heads)
        fail_unless(status == 200, f"the day goes on with the other server: {told}")
        status, _, _ = other.ask("DELETE", "/api/v1/session", heads=heads)
        fail_unless(status in (200, 204), "who signs out at one server is out of both")
    finally:
        one.stop()
        other.stop()
    trail = works.read("trail", "verify")
    fail_unless(trail["sound"], "the trail is whole: " + "; ".join(trail["faults"]))
    kill_acts.figures.record(
        "House", "two servers on one PostgreSQL: each request sent to both, the database restarted, one server killed",
        "two processes and a load run; nothing lost or done twice",
        f"{len(additions)} weighings in turn, the trail whole; reads of a record by {READERS} readers: {together:.0f}/s of both, "
        f"{alone:.0f}/s of one", True, "two_servers", varies=True)
    print(f"{len(additions)} weighings by two servers in turn, each request sent to both; {trail['entries']} entries, "
          f"whole; reads of a record by {READERS} readers: {together:.0f}/s of both, {alone:.0f}/s of one")


def main():
    with tempfile.TemporaryDirectory() as name:
        folder = pathlib.Path(name)
        with kill_acts.postgres.server(folder / "server") as books:
            try_two(folder, books)


if __name__ == "__main__":
    main()
