"""Reports before other people's programs: page-validation (PDF/A-3a and PDF/UA-1), pdfua (some rules of PDF/UA-1, as a second
opinion), qpdf (structure) and pdftotext (the text, in its order).

    python check.py REPORT.pdf...

Each says that the file is good, and then that damaged copies of the first are not, and for that very reason: a check that
cannot fail shows nothing. The first must not be signed, for any copy breaks a signature.
"""

import pathlib
import re
import subprocess
import sys
import tempfile

import page
import pikepdf

# page-validation 0.11.0 counts a compressed stream that ends in the byte 0x0D as a byte short: it takes that byte for the
# line's end before `endstream`. One stream in 256 ends so.
FALSE_ALARM = "PDFA3A-STREAM-LENGTH-001"
PROFILES = {"PDF/A-3a": page.ValidationProfile.PDF_A_3A, "PDF/UA-1": page.ValidationProfile.PDF_UA_1}


def ending_in_return(path):
    """How many streams end in 0x0D, read by pikepdf with the length that the file states."""
    with pikepdf.open(path) as pdf:
        streams = [it for it in pdf.objects if isinstance(it, pikepdf.Stream)]
        return sum(1 for stream in streams if stream.read_raw_bytes().endswith(b"\r"))


def page_validation(path):
    """Both standards; the one known false alarm is taken for one only where it explains every count and qpdf agrees."""
    said, broken = [], set()
    for name, profile in PROFILES.items():
        result = page.validate_pdf(str(path), profile=profile)
        rules = {failure.rule_id for failure in result.failures}
        if rules == {FALSE_ALARM}:
            failed, expected = result.to_dict()["checks"]["failed"], ending_in_return(path)
            qpdf(path)
            if failed == expected:
                said.append(f"{name}: good, and {failed} times the known false alarm about a stream that ends in 0x0D")
                continue
        if not result.is_compliant:
            broken |= rules or {f"{name}, without a reason"}
        said.append(f"{name}: {result.to_dict()['rules']['passed']} rules")
    if broken:
        raise ValueError(", ".join(sorted(broken)))
    return "; ".join(said)


def qpdf(path):
    done = subprocess.run(["qpdf", "--check", path], capture_output=True, text=True)
    if done.returncode != 0 or "No syntax or stream encoding errors found" not in done.stdout:
        raise ValueError((done.stdout + done.stderr).strip().splitlines()[-1])
    return "no syntax or stream encoding errors"


def pdfua(path):
    """Its own word: PASS, of the few rules that it knows."""
    command = [sys.executable, "-m", "pdfua", "check", path]
    done = subprocess.run(command, capture_output=True, text=True)
    if done.returncode != 0 or "PASS (no findings)" not in done.stdout:
        rules = re.findall(r"\[ERROR *\] (UA-\d\d-\d\d\d)", done.stdout)
        raise ValueError(", ".join(sorted(set(rules))) or (done.stdout + done.stderr).strip()[-160:])
    return next(line for line in done.stdout.splitlines() if "checked against" in line).strip()


def pdftotext(path):
    """The headings come in the order of the contents, and every page has words."""
    text = subprocess.run(["pdftotext", "-raw", "-enc", "UTF-8", path, "-"], capture_output=True, check=True).stdout
    pages = text.decode().split("\f")[:-1]
    empty = [number for number, words in enumerate(pages, 1) if not words.strip()]
    if empty:
        raise ValueError(f"pages without words: {empty}")
    with pikepdf.open(path) as pdf, pdf.open_outline() as outline:
        titles = [item.title for item in outline.root]
    at, whole = 0, "\n".join(pages).replace("\n", " ")
    for title in titles:
        found = whole.find(title, at)
        if found < 0:
            raise ValueError(f"`{title}` does not follow in the text")
        at = found + len(title)
    return f"{len(pages)} pages, {len(titles)} chapters in order"


def without_alt(pdf):
    figure = next(it for it in pdf.objects if isinstance(it, pikepdf.Dictionary) and it.get("/S") == "/Figure" and "/Alt" in it)
    del figure["/Alt"]


def without_language(pdf):
    del pdf.Root["/Lang"]


def without_tags(pdf):
    del pdf.Root["/StructTreeRoot"]


def without_words(pdf):
    pdf.pages[len(pdf.pages) // 2].Contents = pdf.make_stream(b"")


def unharmed(pdf):
    """Saved again and nothing else: what is then found in a damaged copy is the damage."""


def cut_table(path):
    """The last thousand bytes are lost, and with them the table of objects."""
    path.write_bytes(path.read_bytes()[:-1000])


def refusal(path, check, damage):
    """What a check says of a copy that was damaged; nothing if it notices nothing."""
    with tempfile.TemporaryDirectory() as scratch:
        copy = pathlib.Path(scratch) / "damaged.pdf"
        with pikepdf.open(path) as pdf:
            if damage is not cut_table:
                damage(pdf)
            pdf.save(copy)
        if damage is cut_table:
            cut_table(copy)
        try:
            check(copy)
        except Exception as refused:  # every program has its own
            return str(refused).splitlines()[0]
    return None


# Program, what it checks, and each damage with a word of the reason for which it must refuse it.
CHECKS = [
    (
        "page-validation " + page.__version__,
        page_validation,
        [(without_alt, "ALTERNATIVE"), (without_language, "LANG"), (without_tags, "STRUCT-TREE-ROOT")],
    ),
    ("pdfua", pdfua, [(without_alt, "UA-13-004"), (without_language, "UA-06-001")]),
    ("qpdf", qpdf, [(cut_table, "")]),
    ("pdftotext", pdftotext, [(without_words, "without words")]),
]


def main():
    faults = 0

    def tell(good, words):
        nonlocal faults
        faults += not good
        print(words, flush=True)

    for at, path in enumerate(map(pathlib.Path, sys.argv[1:])):
        for name, check, damages in CHECKS:
            # It takes its time over ninety pages, and is a second opinion: one report is enough.
            if check is pdfua and at > 0:
                continue
            try:
                tell(True, f"good     {path.name}, {name}: {check(path)}")
            except Exception as refused:
                tell(False, f"REFUSED  {path.name}, {name}: {refused}")
                continue
            if at > 0:
                continue
            said = refusal(path, check, unharmed)
            tell(said is None, f"         saved again unharmed: {'good' if said is None else 'REFUSED: ' + said}")
            for damage, reason in damages:
                said, words = refusal(path, check, damage), damage.__name__.replace("_", " ")
                if said is None:
                    tell(False, f"         damaged copy, {words}: NOT NOTICED")
                else:
                    fate = "refused" if reason in said else f"REFUSED, AND NOT FOR {reason}"
                    tell(reason in said, f"         damaged copy, {words}: {fate}: {said[:120]}")
    sys.exit(1 if faults or len(sys.argv) < 2 else 0)


if __name__ == "__main__":
    main()
