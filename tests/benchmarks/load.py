"""The load: wrk (https://github.com/wg/wrk, Debian's package `wrk`), one thread of C for each server.

It keeps as many connections open as it is told, and sends the next request on each as soon as the last is
answered. So the rate is what the server can give, and the times are those of a server that is never idle.
Who waits is not counted twice: wrk does not correct for a stall, and says nothing of a load that comes
whether the server answers or not.
"""

import shutil
import subprocess
import tempfile
from collections.abc import Sequence
from dataclasses import dataclass
from pathlib import Path

from tests.benchmarks.asked import Asked

WARM_SECONDS = 1
_SCRIPT = """
local ports, place = {{{ports}}}, 0
wrk.method = "{method}"
wrk.headers["Cookie"] = "shankwright={key}"
{body}
function setup(thread)
   thread.addr = wrk.lookup("127.0.0.1", ports[place % #ports + 1])[1]
   place = place + 1
end
function done(summary, latency, requests)
   local wrong = summary.errors
   io.write(string.format("FIGURES %d %d %d %d %d\\n", summary.requests, summary.duration,
      latency:percentile(50), latency:percentile(99),
      wrong.connect + wrong.read + wrong.write + wrong.status + wrong.timeout))
end
"""


class LoadMissing(Exception):
    """The load tool is not installed. The text says how it comes."""


@dataclass(frozen=True, slots=True)
class Load:
    """What came of a load: answers a second, and the time of an answer that half and 99 in 100 keep."""

    requests: int
    rate: float
    p50_ms: float
    p99_ms: float


def loaded(ports: Sequence[int], asked: Asked, key: str, *, connections: int, seconds: float) -> Load:
    """Load the servers, warm: what is counted comes after a second that is not.

    The connections are shared out between the servers. Raises `AssertionError` for any answer but 2xx.
    """
    _wrk(ports, asked, key, connections=connections, seconds=WARM_SECONDS)
    return _wrk(ports, asked, key, connections=connections, seconds=seconds)


def _wrk(ports: Sequence[int], asked: Asked, key: str, *, connections: int, seconds: float) -> Load:
    wrk = shutil.which("wrk")
    if wrk is None:
        raise LoadMissing("The load comes from wrk; on Debian: apt-get install wrk")
    body = ""
    if asked.body:
        body = f'wrk.body = [==[{asked.body}]==]\nwrk.headers["Content-Type"] = "{asked.kind}"'
    script = _SCRIPT.format(
        ports=", ".join(f'"{port}"' for port in ports), method=asked.method, key=key, body=body
    )
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "load.lua"
        file.write_text(script, "utf-8")
        done = subprocess.run(
            [
                wrk, f"-t{len(ports)}", f"-c{max(connections, len(ports))}", f"-d{max(1, round(seconds))}s",
                "--timeout", "30s", "-s", file, f"http://127.0.0.1:{ports[0]}{asked.path}",
            ],
            capture_output=True, text=True, check=True,
        )  # fmt: skip
    line = next(line for line in done.stdout.splitlines() if line.startswith("FIGURES "))
    requests, micros, p50, p99, wrong = (int(figure) for figure in line.split()[1:])
    assert wrong == 0, f"{wrong} of {requests} answers to {asked.path} were none:\n{done.stdout}"
    assert requests > 0, f"no answer to {asked.path} within {seconds} s"
    return Load(requests, requests / (micros / 1e6), p50 / 1000, p99 / 1000)
