"""Checks the signatures of machines in a job's JSON by docs/record.md, knowing nothing of the program. Prints a line for each: machine, signer, digest, holds or changed."""
import hashlib, json, sys

SHEETS = ["machines", "readings", "rounds", "growth", "feet", "trains", "checks"]
NAMES = dict(zip(SHEETS, ["Machines", "Readings", "Rounds", "Growth", "Feet", "Trains", "Checks"]), record="Record")


def cell(s):
    s = s.replace("\r\n", "\n").replace("\r", "\n").strip(" \t\n")
    return s.replace("\\", "\\\\").replace("\t", "\\t").replace("\n", "\\n")


def key(s):
    return " ".join(s.split()).lower()


def line(name, header, row, omit=None):
    cells = []
    for h, s in zip(header + [""] * len(row), row):
        if cell(s) and h != omit:
            cells.append(cell(h) + "\t" + cell(s))
    cells.sort(key=lambda s: s.encode())
    return name + "\t" + "\t".join(cells)


job = json.load(open(sys.argv[1], encoding="utf-8"))


def rows(sheet):
    t = job.get(sheet)
    if not t:
        return
    for row in t["rows"]:
        d = dict(zip(t["header"], row))
        yield t["header"], row, d


for header, row, d in rows("record"):
    if not d.get("Signed by") or key(d["Machine"]) == "whole job":
        continue
    lines = []
    for s in SHEETS:
        for h, r, other in rows(s):
            if key(other.get("Machine", "")) == key(d["Machine"]):
                lines.append(line(NAMES[s], h, r))
    for h, r, other in rows("record"):
        if not other.get("Signed by") and key(other["Machine"]) == key(d["Machine"]):
            lines.append(line("Record", h, r, "Digest"))
    lines.append(line("Record", header, row, "Digest"))
    lines.sort(key=lambda s: s.encode())
    text = "shimsheet record 1\n" + "\n".join(lines) + "\n"
    digest = hashlib.sha256(text.encode()).hexdigest()
    print(d["Machine"], d["Signed by"], digest, "holds" if digest == d["Digest"] else "changed")
