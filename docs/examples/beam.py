"""A step of a Beam pipeline, or of any engine that hands a worker part of the rows: the command as a filter over them.

Each bundle of rows goes through one command; its workers may be on different machines. Rows keep their order within a bundle and carry a key of their own, since an engine
promises no order between bundles.

    pipeline | beam.io.ReadFromText("rows.ndjson") | beam.BatchElements(1000, 5000) | beam.FlatMap(through)

For Spark the same function is rdd.mapPartitions(through), or without Python rdd.pipe("shimsheet calc - -from ndjson -o -").
Neither engine is needed for the function itself, which the project's tests run by two processes.
"""
import subprocess
import sys
from concurrent.futures import ProcessPoolExecutor

COMMAND = ["shimsheet", "calc", "-", "-from", "ndjson", "-o", "-"]


def through(rows, command=None):
    """The results of a bundle of rows, in their order. Rows and results are lines of JSON."""
    text = "\n".join(rows) + "\n"
    done = subprocess.run(command or COMMAND, input=text, capture_output=True, text=True, check=False)
    if done.returncode not in (0, 1):  # 1: some rows not judged, and each says why
        raise RuntimeError(done.stderr)
    results = done.stdout.splitlines()
    if len(results) != len(rows):
        raise RuntimeError(f"{len(results)} results for {len(rows)} rows")
    return results


def main(command, name):
    """The same with two processes and no engine, as the tests run it."""
    with open(name, encoding="utf-8") as lines:
        rows = [line.rstrip("\n") for line in lines if line.strip()]
    bundles = [rows[i : i + 100] for i in range(0, len(rows), 100)]
    with ProcessPoolExecutor(2) as pool:
        for results in pool.map(through, bundles, [[command] + COMMAND[1:]] * len(bundles)):
            sys.stdout.write("\n".join(results) + "\n")


if __name__ == "__main__":
    main(*sys.argv[1:])
