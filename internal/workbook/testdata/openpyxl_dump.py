"""Dump a workbook as openpyxl reads it: every cell that holds something, validation lists, frozen panes, page set-up, names.

Usage: openpyxl_dump.py FILE.xlsx > dump.json
"""
import json
import sys

import openpyxl

book = openpyxl.load_workbook(sys.argv[1], data_only=True)
out = {"version": openpyxl.__version__, "sheets": {}, "names": []}
for name in getattr(book.defined_names, "definedName", None) or book.defined_names:  # before and after 3.1
    out["names"].append(name if isinstance(name, str) else name.name)
for ws in book.worksheets:
    cells = {}
    for row in ws.iter_rows():
        for c in row:
            if c.value is None:
                continue
            kind = "n" if isinstance(c.value, (int, float)) and not isinstance(c.value, bool) else "s"
            cells[c.coordinate] = [kind, repr(c.value) if kind == "n" else str(c.value)]
    lists = []
    for dv in ws.data_validations.dataValidation:
        lists.append({"type": dv.type, "cells": str(dv.sqref), "formula": dv.formula1})
    out["sheets"][ws.title] = {
        "cells": cells,
        "lists": lists,
        "freeze": ws.freeze_panes or "",
        "orientation": ws.page_setup.orientation or "",
        "fit_width": ws.page_setup.fitToWidth,
        "fit": bool(ws.sheet_properties.pageSetUpPr and ws.sheet_properties.pageSetUpPr.fitToPage),
        "title_rows": ws.print_title_rows or "",
        "title_cols": ws.print_title_cols or "",
        "footer": ws.oddFooter.right.text or "",
    }
json.dump(out, sys.stdout)
