# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""Checks an open archive of the works' books with nothing but its README: archive_check.py FOLDER [MARK]"""
import csv
import hashlib
import json
import pathlib
import sys


def sha256(data) -> str:
    return hashlib.sha256(data if isinstance(data, bytes) else data.encode()).hexdigest()


def lines(path: pathlib.Path):
    return [json.loads(line) for line in path.read_bytes().decode().split("\n") if line]


def check(folder: pathlib.Path, mark: str | None):
    manifest = json.loads((folder / "manifest.json").read_text())
    for name, digest in manifest["files"].items():
        if sha256((folder / name).read_bytes()) != digest:
            yield f"{name} is not the file of the manifest"
    first = {"format": "brinewright books 1", "identity": manifest["identity"], "made": manifest["made"]}
    previous = sha256(json.dumps(first, separators=(",", ":"), sort_keys=True))
    records = {(r["kind"], r["id"], r["version"]): r for r in lines(folder / "records.jsonl")}
    answers = {r["request"]: r for r in lines(folder / "requests.jsonl")}
    marks, used, files = {f"0-{previous[:16]}"}, set(), set()
    for number, entry in enumerate(lines(folder / "trail.jsonl"), 1):
        body = json.loads(entry["body"])
        previous = sha256(bytes.fromhex(previous) + entry["body"].encode())
        if entry["seq"] != number or body["seq"] != number or previous != entry["hash"]:
            yield f"entry {number} does not follow"
        marks.add(f"{number}-{previous[:16]}")
        for said in body["records"]:
            key = said["kind"], said["id"], said["version"]
            record = records.get(key)
            used.add(key)
            if record is None:
                yield f"{key} is missing"
            elif sha256(record["body"]) != said["after"]:
                yield f"the body of {key} is another"
            elif sha256("\n".join([record["state"], record["title"], record["facts"]])) != said["facts"]:
                yield f"state, title or facts of {key} are others"
        for said in body["attachments"]:
            files.add(said["sha256"])
            if sha256((folder / "attachments" / said["sha256"]).read_bytes()) != said["sha256"]:
                yield f"attachment {said['sha256']} is another"
        if sha256(answers[body["request"]]["answer"]) != body["answer"]:
            yield f"the answer of entry {number} is another"
    if used != set(records):
        yield "there are records that no entry names"
    with open(folder / "attachments.csv", newline="", encoding="utf-8") as table:
        if {row["sha256"] for row in csv.DictReader(table)} != files:
            yield "attachments.csv lists other files than the trail"
    if manifest["mark"] not in marks or (mark and mark not in marks):
        yield "the mark is not in the trail"


if __name__ == "__main__":
    faults = list(check(pathlib.Path(sys.argv[1]), sys.argv[2] if len(sys.argv) > 2 else None))
    print("\n".join(faults) if faults else "the archive is sound")
    sys.exit(1 if faults else 0)
