"""The moving brake of the front door: module, style and tables in one script, worked out once.

The front door has no kernel. What a lesson's kernel would send stands in the script instead, from
the same functions; a page without the script keeps its still drawing.
"""

import asyncio
import gzip
import json
import logging
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from functools import partial

from tornado.web import RequestHandler

from quizzes.server.front_end import SQUEEZE

DOOR = "living-door.js"
MOUNT = "living-door"  # id of the place on the page
_LOG = logging.getLogger("gap_and_lining")
# Stands in for the kernel's end of the line: two questions, two answers.
_MOUNTED = """
const place = document.getElementById("%(mount)s");
if (place) {
  const style = document.createElement("style");
  style.textContent = %(style)s;
  document.head.append(style);
  const heard = [];
  const answers = { tables: %(tables)s, courses: { courses: %(courses)s } };
  const model = {
    on: (_, hear) => heard.push(hear),
    off: () => {},
    send: ({ ask }) => setTimeout(() => heard.forEach((hear) => hear(answers[ask])), 0),
  };
  place.hidden = false;
  document.documentElement.classList.add("has-living-door");
  part.render({ model, el: place });
}
"""


def door_script() -> bytes:
    """Return the whole script, squeezed: the clack of the first lesson with its tables."""
    from quizzes.desks.explorers.brake_explorers import lesson_size  # noqa: PLC0415 (in a thread)
    from quizzes.desks.explorers.living import clack_scene  # noqa: PLC0415 (in a thread)
    from widgets.bench.view.living.scene import scene_module, scene_style  # noqa: PLC0415

    scene = clack_scene(lesson_size())
    module = scene_module(scene.name).replace("export default ", "const part = ")
    text = json.dumps
    mounted = _MOUNTED % {
        "mount": MOUNT,
        "style": text(scene_style()),
        "tables": text(scene.told(), allow_nan=False),
        "courses": text(dict(scene.courses()), allow_nan=False),
    }
    return gzip.compress(f"{module}\n{mounted}".encode(), SQUEEZE, mtime=0)


class Door:
    """The script, begun in the background when the server starts, so that nobody waits for it."""

    def __init__(self, make: Callable[[], bytes] = door_script) -> None:
        self._worker = ThreadPoolExecutor(1, thread_name_prefix="living-door")
        self.script: Future[bytes] = self._worker.submit(make)
        self.script.add_done_callback(partial(_told, self._worker))


def _told(worker: ThreadPoolExecutor, done: Future[bytes]) -> None:
    worker.shutdown(wait=False)
    if not done.cancelled() and done.exception():
        _LOG.error("the front door's drawing stays still", exc_info=done.exception())


class DoorFile(RequestHandler):
    """Serves the script from memory; asked for again each time, for a sheet may have changed."""

    def initialize(self, door: Door) -> None:
        """Take the script, as the server's list of addresses gives it."""
        self.door = door

    async def get(self) -> None:
        """Send the script once it is there; nothing, if it could not be made."""
        self.set_header("Content-Type", "text/javascript; charset=UTF-8")
        self.set_header("Cache-Control", "no-cache")
        try:
            squeezed = await asyncio.wrap_future(self.door.script)
        except Exception:  # noqa: BLE001 (written down when it happened)
            self.set_status(404)
            return
        self.set_header("Vary", "Accept-Encoding")
        if "gzip" in self.request.headers.get("Accept-Encoding", ""):
            self.set_header("Content-Encoding", "gzip")
            self.finish(squeezed)
        else:
            self.finish(gzip.decompress(squeezed))
