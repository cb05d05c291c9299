"""The rows of a file as formulas in a sheet of LibreOffice, worked out anew several times; JSON as test/peers/main.go gives it. python3 office_rows.py rows.csv"""
import json
import os
import subprocess
import sys
import tempfile
import time

import uno

rows = [[float(x) for x in line.split(",")] for line in open(sys.argv[1])]
home = tempfile.mkdtemp()
pipe = "shimsheet-peers-%d" % os.getpid()
office = subprocess.Popen(["soffice", "--headless", "--norestore", "--nologo", "-env:UserInstallation=file://" + home, "--accept=pipe,name=%s;urp;" % pipe])
try:
    local = uno.getComponentContext()
    resolver = local.ServiceManager.createInstanceWithContext("com.sun.star.bridge.UnoUrlResolver", local)
    for _ in range(240):
        try:
            context = resolver.resolve("uno:pipe,name=%s;urp;StarOffice.ComponentContext" % pipe)
            break
        except Exception:
            time.sleep(0.25)
    desktop = context.ServiceManager.createInstanceWithContext("com.sun.star.frame.Desktop", context)
    book = desktop.loadComponentFromURL("private:factory/scalc", "_blank", 0, ())
    book.enableAutomaticCalculation(False)
    sheet = book.Sheets.getByIndex(0)
    n = len(rows)
    sheet.getCellRangeByPosition(0, 0, 11, n - 1).setDataArray(tuple(tuple(r) for r in rows))
    formulas = []
    for i in range(1, n + 1):
        half = ["(E{0}-G{0})/2", "(F{0}-H{0})/2", "(K{0}-I{0})/2", "(L{0}-J{0})/2", "(M{0}-O{0})/(A{0}+B{0})", "(N{0}-P{0})/(A{0}+B{0})",
                "-(M{0}+Q{0}*(C{0}-A{0}))", "-(M{0}+Q{0}*(D{0}-A{0}))", "-(N{0}+R{0}*(C{0}-A{0}))", "-(N{0}+R{0}*(D{0}-A{0}))"]
        formulas.append(tuple("=" + f.format(i) for f in half))
    sheet.getCellRangeByPosition(12, 0, 21, n - 1).setFormulaArray(tuple(formulas))
    for k in range(4):
        sheet.getCellByPosition(18 + k, n).setFormula("=SUM({0}1:{0}{1})".format("STUV"[k], n))
    millis = []
    for i in range(8):
        t = time.perf_counter()
        book.calculateAll()
        sums = [sheet.getCellByPosition(18 + k, n).getValue() for k in range(4)]
        if i:
            millis.append((time.perf_counter() - t) * 1000)
    book.close(True)
    version = subprocess.run(["soffice", "--version"], capture_output=True, text=True).stdout.split()
    print(json.dumps([{"name": " ".join(version[:2]) + ", a warm recalculation", "sums": sums, "millis": sorted(millis)}]))
    try:
        desktop.terminate()
    except Exception:
        pass
finally:
    office.wait(20) if office.poll() is None else None
    if office.poll() is None:
        office.kill()
