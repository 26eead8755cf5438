"""The report beside other people's programs: the same content and photos as a PDF, by us, by headless Chromium and by
WeasyPrint, in one run.

    python report_peers.py MEASURE FOLDER SIZES ROUNDS [FILE]

MEASURE is the example `measure` of the crate report, SIZES are among 60,120,240. Time is processor time, user and system,
of everything that a program started; memory is the sum of what its processes alone hold or share (PSS), sampled, for the
others, and the kernel's own high-water mark for us. Both others print the client's page, which says what the report says.
They keep nothing from one run to the next, so an edit costs them the whole run again. A program that fails by itself at a
size says so in its line, is not run again at that size, and the others go on; ours may not fail. The figures go to FILE as
JSON too.
"""

import ctypes
import json
import os
import pathlib
import random
import shutil
import statistics
import subprocess
import sys
import time

from PIL import Image, ImageDraw, ImageFilter

PR_SET_CHILD_SUBREAPER = 36
# What a program leaves behind when it ends becomes our child, and its time is counted.
ctypes.CDLL(None).prctl(PR_SET_CHILD_SUBREAPER, 1, 0, 0, 0)

GOAL_RATIO, GOAL_MEMORY, GOAL_PART = 10, 600, 0.3


def photos(folder, count):
    """1600 by 1200 pixels, some 290 kB each, every file another: 24 pictures, told apart by a comment inside."""
    folder.mkdir(parents=True, exist_ok=True)
    random.seed(7)
    pictures = []
    for _ in range(24):
        picture = Image.effect_noise((1600, 1200), 26).convert("RGB").filter(ImageFilter.GaussianBlur(1.1))
        draw = ImageDraw.Draw(picture)
        for _ in range(60):
            x, y = random.randrange(1600), random.randrange(1200)
            colour = tuple(random.randrange(256) for _ in range(3))
            draw.rectangle((x, y, x + random.randrange(300), y + random.randrange(200)), outline=colour, width=6)
        path = folder / "picture.jpg"
        picture.save(path, quality=82)
        pictures.append(path.read_bytes())
        path.unlink()
    for number in range(1, count + 1):
        comment = f"photo {number}".encode()
        jpeg = pictures[number % len(pictures)]
        segment = b"\xff\xfe" + (len(comment) + 2).to_bytes(2, "big") + comment
        (folder / f"{number:04}.jpg").write_bytes(jpeg[:2] + segment + jpeg[2:])


def tree(pid):
    found = [pid]
    try:
        for task in os.listdir(f"/proc/{pid}/task"):
            children = pathlib.Path(f"/proc/{pid}/task/{task}/children").read_text().split()
            for child in children:
                found += tree(int(child))
    except OSError:
        pass
    return found


def held(pids):
    kibibytes = 0
    for pid in pids:
        try:
            for line in open(f"/proc/{pid}/smaps_rollup"):
                if line.startswith("Pss:"):
                    kibibytes += int(line.split()[1])
        except OSError:
            pass
    return kibibytes * 1024 / 1e6


class Failed(RuntimeError):
    """A program that made no PDF, with the last that it said."""


def run(command, made, **more):
    """Processor seconds, peak memory, bytes made; and what the program printed."""
    made.unlink(missing_ok=True)
    before = os.times()
    process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.PIPE, **more)
    peak = 0
    while True:
        try:
            out, err = process.communicate(timeout=0.5)
            break
        except subprocess.TimeoutExpired:
            peak = max(peak, held(tree(process.pid)))
    # What is left of it: some end a moment later.
    for _ in range(100):
        try:
            if os.waitpid(-1, os.WNOHANG)[0] == 0:
                time.sleep(0.1)
        except ChildProcessError:
            break
    after = os.times()
    if process.returncode != 0 or not made.exists():
        # Its last line names the fault.
        words = (err.decode(errors="replace").strip().splitlines() or ["it said nothing"])[-1][-200:]
        raise Failed(f"failed with status {process.returncode}: {words}")
    seconds = after.children_user + after.children_system - before.children_user - before.children_system
    return {"seconds": seconds, "peak": peak, "bytes": made.stat().st_size}, out


def chromium():
    for name in ("chromium", "chromium-browser"):
        if shutil.which(name):
            return name
    raise RuntimeError("Chromium is not on this machine (Debian: apt-get install chromium)")


def measured(measure, folder, size, rounds):
    page, profile = folder / "page", folder / "profile"
    shutil.rmtree(page, ignore_errors=True)
    subprocess.run([measure, folder, str(size), "page"], check=True, stdout=subprocess.DEVNULL)
    html, target = page / "whole.html", folder / "other.pdf"
    ways = {
        "ours": ([measure, folder, str(size), "pdf"], folder / "report.pdf"),
        "Chromium": (
            [chromium(), "--headless", "--no-sandbox", "--disable-gpu", "--no-first-run", "--disable-sync",
             "--disable-background-networking", "--disable-component-update", "--no-pdf-header-footer",
             f"--user-data-dir={profile}", f"--print-to-pdf={target}", html.resolve().as_uri()],
            target,
        ),
        "WeasyPrint": ([sys.executable, "-m", "weasyprint", "--quiet", "--pdf-tags", str(html), str(target)], target),
    }
    figures, failed = {name: [] for name in ways}, {}
    for _ in range(rounds):
        for name, (command, made) in ways.items():
            if name in failed:
                continue
            shutil.rmtree(profile, ignore_errors=True)
            try:
                figure, out = run([str(word) for word in command], made)
            except Failed as failure:
                if name == "ours":
                    raise
                failed[name] = str(failure)
                print(f"    {size}: {name}: {failure}", flush=True)
                continue
            figure["pages"] = pages(made)
            if name == "ours":
                figure["peak"] = json.loads(out)["peak_megabytes"]
                figure["photos"] = json.loads(out)["photos"]
            figures[name].append(figure)
            print(f"    {size}: {name}: {figure['seconds']:.2f} s, {figure['pages']} pages", flush=True)
    edits = json.loads(subprocess.run([measure, folder, str(size), "edits"], check=True, stdout=subprocess.PIPE).stdout)
    return figures, failed, edits


def pages(pdf):
    said = subprocess.run(["pdfinfo", pdf], stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, check=True).stdout
    return next(int(line.split()[1]) for line in said.decode().splitlines() if line.startswith("Pages:"))


def main():
    measure, folder = pathlib.Path(sys.argv[1]), pathlib.Path(sys.argv[2])
    sizes, rounds = [int(size) for size in sys.argv[3].split(",")], int(sys.argv[4])
    photos(folder / "photos", {60: 100, 120: 240, 240: 500}[max(sizes)])
    missed, whole = [], {}
    for size in sizes:
        figures, failed, edits = measured(measure, folder, size, rounds)
        # A program that failed in one of the rounds is not compared by the others.
        middle = {
            name: {key: statistics.median(figure[key] for figure in all_) for key in all_[0]}
            for name, all_ in figures.items()
            if name not in failed
        }
        ours = middle["ours"]
        print(f"\n{ours['pages']:.0f} pages, {ours['photos']:.0f} photos")
        print(f"  {'':<12}{'pages':>6}{'processor':>12}{'ratio':>8}{'edit ratio':>12}{'MB':>8}{'size':>8}{'peak MB':>9}")
        for name, one in middle.items():
            ratio, edit = one["seconds"] / ours["seconds"], one["seconds"] / edits["edit"]
            print(
                f"  {name:<12}{one['pages']:>6.0f}{one['seconds']:>10.2f} s{ratio:>8.1f}{edit:>12.1f}"
                f"{one['bytes'] / 1e6:>8.1f}{one['bytes'] / ours['bytes']:>8.2f}{one['peak']:>9.0f}"
            )
            if name != "ours" and ratio < GOAL_RATIO:
                missed.append(f"{ours['pages']:.0f} pages: {ratio:.1f} times less processor time than {name}")
        for name, words in failed.items():
            print(f"  {name:<12}{words}; not compared at this size")
        if ours["peak"] >= GOAL_MEMORY:
            missed.append(f"{ours['pages']:.0f} pages: peak memory {ours['peak']:.0f} MB")
        print(f"  in one process: cold {edits['cold']:.2f} s, after an edit {edits['edit']:.2f} s")
        for name, part in edits["parts"].items():
            fate = "met" if part["edit"] < GOAL_PART else "MISSED"
            print(
                f"  {name} alone ({part['pages']} pages): cold {part['cold'] * 1e3:.0f} ms, "
                f"after an edit {part['edit'] * 1e3:.0f} ms; goal under {GOAL_PART * 1e3:.0f} ms: {fate}"
            )
            if part["edit"] >= GOAL_PART:
                missed.append(f"{ours['pages']:.0f} pages: {name} after an edit {part['edit'] * 1e3:.0f} ms")
        whole[size] = {"figures": figures, "failed": failed, "edits": edits}
    if len(sys.argv) > 5:
        pathlib.Path(sys.argv[5]).write_text(json.dumps(whole, indent=1) + "\n")
    print(
        f"\ngoals: at least {GOAL_RATIO} times less processor time than either, peak under {GOAL_MEMORY} MB, a part after an "
        f"edit under {GOAL_PART * 1e3:.0f} ms: " + ("met" if not missed else "MISSED: " + "; ".join(missed))
    )
    sys.exit(1 if missed else 0)


if __name__ == "__main__":
    main()
