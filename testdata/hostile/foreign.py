"""Make the workbooks of other programs that the importer is tried on.

Usage: foreign.py DIR   (needs openpyxl, and LibreOffice's soffice for the second file)

  openpyxl.xlsx      titles merged over the list, hidden rows, a formula without a stored value, an error, numbers stored as text, a per cent
                     and a fraction format, dates of the system of 1900, a second sheet that is no list
  libreoffice.xlsx   the same opened and saved by LibreOffice, which stores the values of formulas
  date1904.xlsx      dates of the system of 1904
"""
import datetime
import os
import subprocess
import sys
import tempfile

import openpyxl
from openpyxl.utils.datetime import CALENDAR_MAC_1904


def make(path, epoch=None):
    wb = openpyxl.Workbook()
    if epoch:
        wb.epoch = epoch
    ws = wb.active
    ws.title = "Pumps west"
    ws["A1"] = "Couplings of the west side"
    ws.merge_cells("A1:F1")
    ws["A2"] = "as found"
    ws.merge_cells("A2:C2")
    head = ["Tag", "rpm", "Coupling to front feet [in]", "Front to rear feet", "Given offset V", "Given offset H", "Given slope V", "Given slope H", "Work order", "Comment"]
    for c, h in enumerate(head, 1):
        ws.cell(4, c, h)
    rows = [
        ["P-1", 1480, 14.5, 560, 0.1, -0.05, 0.2, 0.1, "W-17", "first"],
        ["P-2", "1480", 14.125, "560", 0.12, 0.02, 0.1, -0.3, 4711, None],  # 1480 and 560 stored as text
        ["P-3", 2970, "=14+0.25", 560, 0.12, 0.02, 0.1, -0.3, None, "distance by formula"],
        ["P-4", 2970, 14, "=1/0", 0.12, 0.02, 0.1, -0.3, None, "an error"],
        ["P-5", 2970, 14, 560, datetime.date(2026, 1, 8), 0.02, 0.1, -0.3, None, "1/8 typed, a date made of it"],
        ["P-6", 2970, 14.125, 560, 0.125, 0.02, 0.1, -0.3, None, "hidden"],
    ]
    for r, row in enumerate(rows, 5):
        for c, v in enumerate(row, 1):
            if v is not None:
                ws.cell(r, c, v)
    ws["C10"].number_format = "# ?/?"
    ws["E10"].number_format = "0.0000"
    ws["G5"].number_format = "0%"
    ws.row_dimensions[10].hidden = True
    wb.create_sheet("Notes")["A1"] = "call the store before noon"
    st = wb.create_sheet("Store")
    st.append(["Thickness [mm]", "Qty"])
    st.append([0.05, 20])
    st.append([0.1, 10])
    wb.save(path)


def main():
    out = sys.argv[1]
    make(os.path.join(out, "openpyxl.xlsx"))
    make(os.path.join(out, "date1904.xlsx"), CALENDAR_MAC_1904)
    with tempfile.TemporaryDirectory() as tmp:
        subprocess.run(
            ["soffice", "-env:UserInstallation=file://" + tmp + "/profile", "--headless", "--convert-to", "xlsx:Calc MS Excel 2007 XML", "--outdir", tmp, os.path.join(out, "openpyxl.xlsx")],
            check=True, stdout=subprocess.DEVNULL,
        )
        with open(os.path.join(tmp, "openpyxl.xlsx"), "rb") as f, open(os.path.join(out, "libreoffice.xlsx"), "wb") as g:
            g.write(f.read())


main()
