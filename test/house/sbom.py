# SPDX-FileCopyrightText: The Brinewright authors
# SPDX-License-Identifier: Apache-2.0
"""The list of what is inside (tools/sbom) against the rules of SPDX 2.3 that a script can see, and against itself.

    sbom.py SOURCE PROGRAM

Fields that the standard asks for, identifiers of its form and each once, relationships that lead somewhere, licences that are
expressions of known identifiers or defined in the document, digests of their length; everything hangs on the program. The
same bytes twice, and the time of making only from SOURCE_DATE_EPOCH. At the end the judge itself is tried: documents that are
spoilt on purpose must be found out."""
import copy
import json
import os
import pathlib
import re
import subprocess
import sys

TOP = {"spdxVersion", "dataLicense", "SPDXID", "name", "documentNamespace", "creationInfo", "packages", "relationships"}
OF_PACKAGE = {"SPDXID", "name", "versionInfo", "downloadLocation", "filesAnalyzed", "licenseConcluded", "licenseDeclared", "copyrightText"}
KINDS = {"DESCRIBES", "DYNAMIC_LINK", "STATIC_LINK", "CONTAINS", "DEPENDS_ON", "BUILD_DEPENDENCY_OF"}
LICENCES = {"AGPL-3.0-only", "Apache-2.0", "BSD-2-Clause", "BSD-3-Clause", "BSL-1.0", "CC0-1.0", "EPL-1.0", "FTL", "GPL-2.0-or-later",
            "GPL-3.0-or-later", "ISC", "LGPL-2.1-only", "LGPL-2.1-or-later", "MIT", "MIT-Modern-Variant", "MPL-1.1", "MPL-2.0", "OFL-1.1",
            "PostgreSQL", "Python-2.0", "blessing", "0BSD", "BlueOak-1.0.0", "CC-BY-4.0"}
EXCEPTIONS = {"GCC-exception-3.1"}
LENGTHS = {"SHA256": 64, "SHA512": 128}
EPOCH, EPOCH_AS_TEXT = "1764240000", "2025-11-27T10:40:00Z"


def wrong_licence(text, defined):
    if text in ("NOASSERTION", "NONE"):
        return False
    words = re.sub(r"[()]", " ", text).split()
    plain = [word for word in words if word not in ("AND", "OR", "WITH")]
    return not plain or any(word not in LICENCES | EXCEPTIONS | defined for word in plain)


def judge(document):
    """What is wrong with a document, a sentence each."""
    faults = [f"{key} is missing" for key in sorted(TOP - document.keys())]
    if faults:
        return faults
    if (document["spdxVersion"], document["dataLicense"], document["SPDXID"]) != ("SPDX-2.3", "CC0-1.0", "SPDXRef-DOCUMENT"):
        faults.append("the head is not that of SPDX 2.3")
    if not re.fullmatch(r"https://\S+/\S+", document["documentNamespace"]) or "#" in document["documentNamespace"]:
        faults.append("documentNamespace is no address of its own")
    info = document["creationInfo"]
    if not re.fullmatch(r"\d{4}-\d\d-\d\dT\d\d:\d\d:\d\dZ", info.get("created", "")) or not info.get("creators"):
        faults.append("creationInfo names no time or no creator")
    if any(not re.match(r"(Tool|Organization|Person): \S", creator) for creator in info.get("creators", [])):
        faults.append("a creator is neither tool, organization nor person")
    identifiers = ["SPDXRef-DOCUMENT"] + [p.get("SPDXID", "") for p in document["packages"]]
    faults += [f"{i}: the identifier stands twice" for i in sorted(set(identifiers)) if identifiers.count(i) > 1]
    faults += [f"{i}: no identifier of SPDX" for i in identifiers if not re.fullmatch(r"SPDXRef-[A-Za-z0-9.-]+", i)]
    defined = {each.get("licenseId") for each in document.get("hasExtractedLicensingInfos", []) if each.get("extractedText")}
    for p in document["packages"]:
        faults += judge_package(p, defined)
    return faults + judge_relations(document["relationships"], set(identifiers))


def judge_package(p, defined):
    where = p.get("SPDXID", "a package")
    faults = [f"{where}: {key} is missing" for key in sorted(OF_PACKAGE - p.keys())]
    if not str(p.get("name", "")).strip() or not str(p.get("versionInfo", "")).strip():
        faults.append(f"{where}: no name or no version")
    faults += [f"{where}: {p.get(key)} is no known licence" for key in ("licenseConcluded", "licenseDeclared")
               if wrong_licence(p.get(key, ""), defined)]
    for checksum in p.get("checksums", []):
        digits = checksum["checksumValue"]
        if len(digits) != LENGTHS.get(checksum["algorithm"]) or not re.fullmatch("[0-9a-f]+", digits):
            faults.append(f"{where}: a digest of {checksum['algorithm']} has not its length")
    for reference in p.get("externalRefs", []):
        if not re.fullmatch(r"pkg:(deb/debian|npm)/\S+@\S+", reference["referenceLocator"]):
            faults.append(f"{where}: {reference['referenceLocator']} is no package address")
    return faults


def judge_relations(relations, identifiers):
    faults = []
    linked = {"SPDXRef-DOCUMENT"}
    for r in relations:
        ends = (r["spdxElementId"], r["relatedSpdxElement"])
        if r["relationshipType"] not in KINDS:
            faults.append(f"{ends[0]}: {r['relationshipType']} is no relationship that is used here")
        faults += [f"{end}: a relationship leads to nothing" for end in ends if end not in identifiers]
        linked.update(ends)
    if [r["spdxElementId"] for r in relations if r["relationshipType"] == "DESCRIBES"] != ["SPDXRef-DOCUMENT"]:
        faults.append("the document describes not exactly one package")
    return faults + [f"{i}: hangs on nothing" for i in sorted(identifiers - linked)]


SPOILT = {
    "SPDXID stands twice": lambda d: d["packages"].append(copy.deepcopy(d["packages"][0])),
    "an identifier with a blank": lambda d: d["packages"][0].update(SPDXID="SPDXRef-a b"),
    "a version that is empty": lambda d: d["packages"][0].update(versionInfo=" "),
    "an unknown licence": lambda d: d["packages"][0].update(licenseDeclared="LicenseRef-nowhere"),
    "a field that is missing": lambda d: d["packages"][0].pop("downloadLocation"),
    "a relationship to nothing": lambda d: d["relationships"][0].update(relatedSpdxElement="SPDXRef-nothing"),
    "a package that hangs on nothing": lambda d: d["packages"].append({**d["packages"][0], "SPDXID": "SPDXRef-alone"}),
    "a digest that is short": lambda d: d["packages"][0].update(checksums=[{"algorithm": "SHA256", "checksumValue": "00"}]),
    "no creator": lambda d: d["creationInfo"].update(creators=[]),
    "no namespace": lambda d: d.pop("documentNamespace"),
}


def made(source, program, **more):
    env = {key: value for key, value in os.environ.items() if key != "SOURCE_DATE_EPOCH"}
    done = subprocess.run([sys.executable, str(source / "tools" / "sbom"), str(program)], capture_output=True, text=True,
                          env={**env, **more}, check=False)
    if done.returncode:
        sys.exit(f"tools/sbom fails: {done.stderr}")
    return done.stdout


def main(source, program):
    text = made(source, program)
    document = json.loads(text)
    faults = judge(document)
    if made(source, program) != text:
        faults.append("the second run gives other bytes")
    if document["creationInfo"]["created"] != "1970-01-01T00:00:00Z":
        faults.append("without SOURCE_DATE_EPOCH a time of making is stated")
    if json.loads(made(source, program, SOURCE_DATE_EPOCH=EPOCH))["creationInfo"]["created"] != EPOCH_AS_TEXT:
        faults.append("SOURCE_DATE_EPOCH is not the time of making")
    names = {p["name"] for p in document["packages"]}
    faults += [f"{name} is not inside" for name in ("libsodium23", "libsqlite3-0", "libboost1.74-dev", "svelte", "fonts-lato") if name not in names]
    for what, spoil in SPOILT.items():
        spoilt = copy.deepcopy(document)
        spoil(spoilt)
        if not judge(spoilt):
            faults.append(f"the judge does not see {what}")
    refused = subprocess.run([sys.executable, str(source / "tools" / "sbom"), str(source / "LICENSE")], capture_output=True, text=True, check=False)
    if refused.returncode == 0 or "names no shared libraries" not in refused.stderr:
        faults.append("a file that is no program is taken for one")
    print("\n".join(f"sbom: {fault}" for fault in faults) if faults else
          f"sbom: {len(document['packages'])} packages, {len(document['relationships'])} relationships hold; {len(SPOILT)} spoilt ones found out")
    return 1 if faults else 0


if __name__ == "__main__":
    if len(sys.argv) != 3:
        sys.exit("use: sbom.py SOURCE PROGRAM")
    sys.exit(main(pathlib.Path(sys.argv[1]).resolve(), pathlib.Path(sys.argv[2]).resolve()))
