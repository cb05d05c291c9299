"""Works a list of couplings out over HTTP, with Python's standard library alone.

    python3 client.py http://127.0.0.1:8080 list.csv          a list, its results as JSON
    python3 client.py http://127.0.0.1:8080 rows.ndjson       a stream: each line of the answer is printed as it comes

A stream is sent and read at the same time: whoever only sends fills the server's answer up until neither moves.
"""
import http.client
import json
import sys
import threading
import urllib.error
import urllib.parse
import urllib.request


def compute(server, data, media):
    """The results of a whole job as a dictionary. What cannot be read is told with its place."""
    request = urllib.request.Request(server + "/v1/jobs", data, {"Content-Type": media, "Accept": "application/json"})
    try:
        with urllib.request.urlopen(request, timeout=120) as answer:
            return json.load(answer)
    except urllib.error.HTTPError as error:
        problem = json.load(error)
        place = " ".join(str(problem[k]) for k in ("sheet", "row", "column") if k in problem)
        raise SystemExit(f"{place} {problem['detail']} ({problem.get('hint', '')})".strip()) from None


def stream(server, lines):
    """Yields an answer for each line, in order."""
    connection = http.client.HTTPConnection(urllib.parse.urlsplit(server).netloc, timeout=120)
    connection.putrequest("POST", "/v1/jobs")
    connection.putheader("Content-Type", "application/x-ndjson")
    connection.putheader("Transfer-Encoding", "chunked")
    connection.endheaders()

    def send():
        for line in lines:
            connection.send(b"%x\r\n%s\r\n" % (len(line), line))
        connection.send(b"0\r\n\r\n")

    sender = threading.Thread(target=send, daemon=True)
    sender.start()
    answer = connection.getresponse()
    if answer.status != 200:
        raise SystemExit(answer.read().decode())
    for line in answer:  # ends with an error if the answer is not whole
        yield json.loads(line)
    sender.join()


def main(server, name):
    if name.endswith(".ndjson"):
        with open(name, "rb") as rows:
            for answer in stream(server, rows):
                print(answer["line"], answer.get("verdict") or answer["error"], answer.get("front_shim_mm"), answer.get("rear_shim_mm"))
        return
    with open(name, "rb") as rows:
        results = compute(server, rows.read(), "text/csv")
    for machine in results["machines"]:
        print(machine["machine"], machine["verdict"], machine["front_shim_mm"], machine["rear_shim_mm"])
    for problem in results["problems"]:
        print(problem["severity"], problem["text"], file=sys.stderr)


if __name__ == "__main__":
    main(*sys.argv[1:])
