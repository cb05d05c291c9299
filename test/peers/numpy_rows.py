"""The rows of a file by closed formulas over whole columns; JSON as test/peers/main.go gives it. python3 numpy_rows.py rows.csv"""
import json
import sys
import time

import numpy

a = numpy.loadtxt(sys.argv[1], delimiter=",").T.copy()
millis = []
for i in range(25):
    t = time.perf_counter()
    movable, stationary, front, rear, m12, m3, m6, m9, s12, s3, s6, s9 = a
    mv, mh, sv, sh = (m12 - m6) / 2, (m3 - m9) / 2, (s6 - s12) / 2, (s9 - s3) / 2
    tv, th = (mv - sv) / (movable + stationary), (mh - sh) / (movable + stationary)
    out = [-(mv + tv * (front - movable)), -(mv + tv * (rear - movable)), -(mh + th * (front - movable)), -(mh + th * (rear - movable))]
    sums = [float(x.sum()) for x in out]
    if i:
        millis.append((time.perf_counter() - t) * 1000)
print(json.dumps([{"name": "NumPy " + numpy.__version__, "sums": sums, "millis": sorted(millis)}]))
