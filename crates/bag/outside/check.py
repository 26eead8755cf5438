"""A bag before other people's programs: the reference BagIt library, an RO-Crate validator, a library for JSON Web
Signatures, a JSON Schema validator, and the zip, CSV and HTML readers of Python itself.

    python check.py BAG BAG.zip

Each says that the bag is good, and then that a damaged copy is not: a check that cannot fail shows nothing.
"""

import csv
import email.message
import hashlib
import html.parser
import importlib.resources
import io
import json
import pathlib
import shutil
import sys
import tempfile
import urllib.request
import urllib.response
import zipfile

import bagit
import jsonschema
import rdflib._networking
import requests
from jwcrypto import jwk, jws
from pyhanko.pdf_utils.reader import PdfFileReader
from pyhanko.sign.validation import validate_pdf_signature
from pyhanko.sign.validation.status import SignatureCoverageLevel
from pyhanko_certvalidator import ValidationContext
from rocrate_validator import models, services


def bagit_reference(bag):
    """The Library of Congress' bagit: complete and valid, every checksum."""
    found = bagit.Bag(str(bag))
    found.validate(processes=1)
    if found.version_info != (1, 0):
        raise ValueError(f"BagIt {found.version_info}")
    return f"{sum(1 for _ in found.payload_files())} payload files"


CONTEXT = "https://w3id.org/ro/crate/1.1/context"


def without_network():
    """Where the RO-Crate context cannot be fetched, its copy in the package rocrate stands in (of a later version)."""
    try:
        urllib.request.urlopen(CONTEXT, timeout=20).close()
        return "the published context"
    except OSError:
        pass
    kept = (importlib.resources.files("rocrate") / "data/ro-crate.jsonld").read_bytes()
    plain_open, plain_request = rdflib._networking.urlopen, requests.sessions.Session.request

    def urlopen(request, *more, **named):
        url = request if isinstance(request, str) else request.full_url
        if url != CONTEXT:
            return plain_open(request, *more, **named)
        headers = email.message.Message()
        headers["Content-Type"] = "application/ld+json"
        return urllib.response.addinfourl(io.BytesIO(kept), headers, url, 200)

    def request(session, method, url, *more, **named):
        if url != CONTEXT:
            return plain_request(session, method, url, *more, **named)
        answer = requests.Response()
        answer.status_code, answer.url, answer._content = 200, url, kept
        answer.headers["Content-Type"] = "application/ld+json"
        return answer

    rdflib._networking.urlopen = urlopen
    requests.sessions.Session.request = request
    return "the context of the package rocrate, for want of a network"


def ro_crate(bag):
    """roc-validator, profile RO-Crate 1.1: what MUST hold fails, what SHOULD hold is said."""
    settings = services.ValidationSettings(
        rocrate_uri=str(bag / "data"),
        profile_identifier="ro-crate-1.1",
        requirement_severity=models.Severity.RECOMMENDED,
        abort_on_first=False,
    )
    result = services.validate(settings)
    said = [(issue.severity, f"{issue.check.identifier} {issue.message}") for issue in result.get_issues()]
    broken = [words for severity, words in said if severity == models.Severity.REQUIRED]
    if broken:
        raise ValueError("; ".join(broken))
    recommended = "; ".join(words for _, words in said) or "none"
    return f"{len(result.executed_checks)} checks of RO-Crate 1.1; recommendations not met: {recommended}"


def signatures(bag):
    """jwcrypto: every signature, and that it stands on this bag's tag manifest."""
    manifest = hashlib.sha256((bag / "tagmanifest-sha256.txt").read_bytes()).hexdigest()
    state = json.loads((bag / "data/state.json").read_text())
    names = []
    for path in sorted(bag.glob("signatures/*.jws")):
        token = jws.JWS()
        token.deserialize(path.read_text())
        token.allowed_algs = ["EdDSA"]
        key = jwk.JWK(**token.jose_header["jwk"])
        token.verify(key)
        statement = json.loads(token.payload)
        if statement["tag_manifest_sha256"] != manifest:
            raise ValueError(f"{path.name} stands on another tag manifest")
        if key.thumbprint() not in path.name or sorted(statement["heads"]) != state["record_heads"]:
            raise ValueError(f"{path.name} speaks of something else")
        names.append(statement["role"])
    if "inspector" not in names:
        raise ValueError("no inspector has signed")
    return ", ".join(names)


def report_signature(bag):
    """pyHanko: the signature inside report.pdf holds, covers the whole file, and was the last thing done to it."""
    with open(bag / "data/report.pdf", "rb") as file:
        found = PdfFileReader(file).embedded_signatures
        if len(found) != 1:
            raise ValueError(f"{len(found)} signatures in the report")
        # Made by the key for itself: whoever checks takes the certificate as given.
        context = ValidationContext(trust_roots=[found[0].signer_cert], allow_fetching=False)
        status = validate_pdf_signature(found[0], context)
        if not (status.intact and status.valid and status.trusted):
            raise ValueError(f"intact {status.intact}, valid {status.valid}, trusted {status.trusted}")
        if status.coverage != SignatureCoverageLevel.ENTIRE_FILE:
            raise ValueError(f"covers {status.coverage}")
        return f"{status.md_algorithm}, {found[0].sig_object['/SubFilter']}, {found[0].signer_cert.subject.human_friendly}"


def schemas(bag):
    """jsonschema: the schemas are schemas, and the JSON files fit them."""
    names = ("assessment", "record", "report", "state")
    for name in names:
        schema = json.loads((bag / f"data/schema/{name}.schema.json").read_text())
        jsonschema.Draft202012Validator.check_schema(schema)
        validator = jsonschema.Draft202012Validator(
            schema, format_checker=jsonschema.Draft202012Validator.FORMAT_CHECKER
        )
        errors = list(validator.iter_errors(json.loads((bag / f"data/{name}.json").read_text())))
        if errors:
            raise ValueError(f"{name}: {errors[0].json_path}: {errors[0].message} ({len(errors)} errors)")
    return ", ".join(names)


def report_data(bag):
    """pyHanko: what report.pdf carries are report.json and record.json, byte for byte, and state.json names the first."""
    content = (bag / "data/report.json").read_bytes()
    wanted = {
        "report.json": ("/Data", content),
        "record.json": ("/Source", (bag / "data/record.json").read_bytes()),
    }
    with open(bag / "data/report.pdf", "rb") as file:
        files = [one.get_object() for one in PdfFileReader(file).root["/AF"]]
        attached = {
            str(one["/UF"]).lstrip("/"): (str(one["/AFRelationship"]), one["/EF"]["/F"].get_object().data)
            for one in files
        }
    if len(files) != len(wanted) or attached != wanted:
        names = ", ".join(f"{name} ({relation}, {len(data)} bytes)" for name, (relation, data) in attached.items())
        raise ValueError(f"in the report are other files: {names}")
    state = json.loads((bag / "data/state.json").read_text())
    if state["report"]["content_sha256"] != hashlib.sha256(content).hexdigest():
        raise ValueError("state.json names other data")
    return ", ".join(f"{name} {len(data)} bytes" for name, (_, data) in sorted(attached.items()))


class Links(html.parser.HTMLParser):
    """Every place that a page names."""

    def __init__(self):
        super().__init__()
        self.found = []

    def handle_starttag(self, tag, attributes):
        self.found += [value for name, value in attributes if name in ("href", "src")]


def client_page(bag):
    """html.parser: whatever the client's page shows or links lies in the bag."""
    count = 0
    for path in sorted(bag.glob("data/page/*.html")):
        links = Links()
        links.feed(path.read_text(encoding="utf-8"))
        for link in links.found:
            file = link.split("#")[0]
            if file and not (path.parent / file).is_file():
                raise ValueError(f"{path.name}: {link} leads nowhere")
            count += bool(file)
    if count < 10:
        raise ValueError(f"{count} links into the bag")
    return f"{count} links into the bag"


def tables(bag):
    """csv: every line has as many cells as the headings, and there are as many lines as the JSON has entries."""
    record = json.loads((bag / "data/record.json").read_text())
    assessment = json.loads((bag / "data/assessment.json").read_text())
    wanted = {
        "readings": len(record["readings"]),
        "findings": len(assessment["findings"]),
        "values": sum(max(1, len(value["judgements"])) for value in assessment["values"]),
    }
    for name, count in wanted.items():
        with open(bag / f"data/tables/{name}.csv", newline="", encoding="utf-8") as file:
            rows = list(csv.reader(file, strict=True))
        if len(rows) - 1 != count or any(len(row) != len(rows[0]) for row in rows):
            raise ValueError(f"{name}.csv: {len(rows) - 1} lines, wanted {count}")
    return ", ".join(f"{count} {name}" for name, count in wanted.items())


def zipped(bag, packed):
    """zipfile: the zip file holds what the folder holds, under one folder."""
    with zipfile.ZipFile(packed) as archive:
        if archive.testzip() is not None:
            raise ValueError("a checksum does not fit")
        names = archive.namelist()
        top = {name.split("/")[0] for name in names}
        if len(top) != 1:
            raise ValueError(f"{len(top)} folders at the top")
        inside = {name.split("/", 1)[1]: archive.read(name) for name in names}
    outside = {str(path.relative_to(bag)): path.read_bytes() for path in bag.rglob("*") if path.is_file()}
    if inside != outside:
        raise ValueError("it does not hold the folder's files")
    return f"{len(names)} files"


def damaged(bag, check, damage):
    """Whether a check refuses a copy of the bag that was damaged."""
    with tempfile.TemporaryDirectory() as scratch:
        copy = pathlib.Path(scratch) / "bag"
        shutil.copytree(bag, copy)
        damage(copy)
        try:
            check(copy)
        except Exception as refused:  # every library has its own
            return str(refused).splitlines()[0][:100]
    return None


def flip(path):
    """Changes a byte in the middle of a file."""
    content = bytearray(path.read_bytes())
    content[len(content) // 2] ^= 1
    path.write_bytes(content)


def without_name(copy):
    path = copy / "data/ro-crate-metadata.json"
    graph = json.loads(path.read_text())
    for entity in graph["@graph"]:
        if entity["@id"] == "./":
            del entity["datePublished"]
    path.write_text(json.dumps(graph))


def with_another_verdict(copy):
    path = copy / "data/assessment.json"
    assessment = json.loads(path.read_text())
    assessment["uses"][0]["state"] = "fine"
    path.write_text(json.dumps(assessment))


def with_another_use(copy):
    path = copy / "data/report.json"
    content = json.loads(path.read_text())
    content["uses"][0]["state"] = "fine"
    path.write_text(json.dumps(content))


def with_release_zero(copy):
    path = copy / "data/state.json"
    state = json.loads(path.read_text())
    state["release"]["number"] = 0
    path.write_text(json.dumps(state))


def shorter_table(copy):
    path = copy / "data/tables/findings.csv"
    path.write_bytes(path.read_bytes()[: path.stat().st_size // 2])


def main():
    bag, packed = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
    print(f"RO-Crate is checked with {without_network()}")
    checks = [
        ("bagit " + bagit.VERSION, bagit_reference, lambda copy: flip(copy / "data/report.pdf")),
        ("roc-validator", ro_crate, without_name),
        ("jwcrypto", signatures, lambda copy: flip(next(copy.glob("signatures/*.jws")))),
        ("jwcrypto, manifest changed", signatures, lambda copy: flip(copy / "tagmanifest-sha256.txt")),
        ("pyHanko", report_signature, lambda copy: flip(copy / "data/report.pdf")),
        ("jsonschema", schemas, with_another_verdict),
        ("jsonschema, report changed", schemas, with_another_use),
        ("jsonschema, state changed", schemas, with_release_zero),
        ("pyHanko, data of the report", report_data, with_another_use),
        ("html.parser", client_page, lambda copy: next(copy.glob("data/photos/captioned/*")).unlink()),
        ("csv", tables, shorter_table),
    ]
    faults = 0
    for name, check, damage in checks:
        try:
            print(f"good     {name}: {check(bag)}")
        except Exception as refused:
            faults += 1
            print(f"REFUSED  {name}: {refused}")
            continue
        caught = damaged(bag, check, damage)
        faults += caught is None
        print(f"         damaged copy: {'refused: ' + caught if caught else 'NOT NOTICED'}")
    print(f"good     zipfile: {zipped(bag, packed)}")
    # A bag with files beside it that no manifest names: the reference library must see that as well.
    stray = damaged(bag, bagit_reference, lambda copy: (copy / "data/stray").write_text("x"))
    faults += stray is None
    print(f"         stray file: {'refused: ' + stray if stray else 'NOT NOTICED'}")
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main()
