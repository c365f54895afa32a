"""Virtual people of a class: each joins by HTTP and works the assessment's page over its websocket.

They know what a browser knows: cookies, the page's kernel and models, and the frames that come.
What an instrument showed they take from the log that the kernel kept, since the page has it only
in words.
"""

import asyncio
import json
import re
import threading
import uuid
from collections.abc import Callable
from concurrent.futures import Future, ThreadPoolExecutor
from urllib.parse import urlencode

from tornado.httpclient import AsyncHTTPClient, HTTPRequest
from tornado.websocket import websocket_connect

from quizzes.candidates.worker import HABITS, work
from quizzes.questions.answers import right_json
from quizzes.records import Records
from quizzes.records.kept_sitting import KeptSitting, read_kept
from quizzes.records.room.rows import Member
from quizzes.records.room.store import owner_in_class
from widgets.bench.actions.codec import to_json
from widgets.bench.observed import Observation

PATIENCE_S = 120.0
FORM, BENCH, QUESTIONS = "FormPanel", "Answer", "QuestionRound"


class Line:
    """One browser: cookies, an open page, its models by name, and what each has said."""

    def __init__(self, base: str) -> None:
        self.base, self.cookies, self.frames = base, {}, []
        self.models: dict[str, str] = {}
        self.every: dict[str, set[str]] = {}  # models of a kind, where a page has several
        self.asked: set[str] = set()
        self.said: dict[str, list[dict]] = {}
        self.done: set[str] = set()  # messages that the kernel has dealt with
        self.news = asyncio.Condition()

    async def ask(self, path: str, fields: dict | None = None) -> str:
        """Return the text of an address; send a form to it, if there are fields."""
        body = None if fields is None else urlencode(fields)
        headers = {"Cookie": self.cookie, "Origin": self.base.rstrip("/")}
        request = HTTPRequest(
            self.base + path, "GET" if body is None else "POST", headers, body,
            follow_redirects=False, request_timeout=PATIENCE_S, connect_timeout=PATIENCE_S,
        )  # fmt: skip
        answer = await AsyncHTTPClient().fetch(request, raise_error=False)
        for cookie in answer.headers.get_list("Set-Cookie"):
            name, value = cookie.split(";")[0].split("=", 1)
            self.cookies[name] = value
        text = answer.body.decode()
        assert answer.code < 400, (answer.code, re.findall(r'role="alert">([^<]*)', text))
        return text

    @property
    def cookie(self) -> str:
        return "; ".join(f"{name}={value}" for name, value in self.cookies.items())

    async def open(self, page: str) -> None:
        """Open a page and its line."""
        html = await self.ask(f"voila/render/{page}")
        self.kernel = re.search(r'"kernelId": ?"([0-9a-f-]+)"', html)[1]
        address = f"{self.base.replace('http', 'ws', 1)}api/kernels/{self.kernel}/channels"
        headers = {"Cookie": self.cookie, "Origin": self.base.rstrip("/")}
        self.line = await websocket_connect(HTTPRequest(address, headers=headers))
        self.hearing = asyncio.ensure_future(self._hear())
        for model in set(re.findall(r'"model_id": ?"([0-9a-f]+)"', html)):
            await self._message({"comm_id": model, "data": {"method": "request_state"}})

    async def _hear(self) -> None:
        while (frame := await self.line.read_message()) is not None:
            message = json.loads(frame) if isinstance(frame, str) else {}
            self.frames.append(str(frame))
            content = message.get("content", {})
            if content.get("execution_state") == "idle":
                self.done.add(message["parent_header"].get("msg_id", ""))
            data = content.get("data", {})
            for model in set(re.findall(r"IPY_MODEL_([0-9a-f]+)", json.dumps(data))) - self.asked:
                self.asked.add(model)
                await self._message({"comm_id": model, "data": {"method": "request_state"}})
            async with self.news:
                kind = str(data.get("state", {}).get("_anywidget_id", "")).rsplit(".", 1)[-1]
                if kind:
                    self.models[kind] = content["comm_id"]
                    self.every.setdefault(kind, set()).add(content["comm_id"])
                if data.get("method") == "custom":
                    self.said.setdefault(content["comm_id"], []).append(data["content"])
                self.news.notify_all()

    async def _message(self, content: dict) -> str:
        number = uuid.uuid4().hex
        header = {"msg_id": number, "msg_type": "comm_msg", "username": "", "session": "s",
                  "date": "2026-01-01T00:00:00Z", "version": "5.3"}  # fmt: skip
        await self.line.write_message(json.dumps({
            "header": header, "parent_header": {}, "metadata": {}, "content": content,
            "channel": "shell", "buffers": [],
        }))  # fmt: skip
        return number

    async def send_all(self, kind: str, *contents: dict) -> list[str]:
        """Send to every panel of a kind; return the frames that came until the kernel was done."""
        before, number = len(self.frames), ""
        for content in contents:
            for model in sorted(self.every[kind]):
                data = {"method": "custom", "content": content}
                number = await self._message({"comm_id": model, "data": data})
        await self.until(lambda: number in self.done)
        return self.frames[before:]

    async def send(self, kind: str, content: dict) -> dict:
        """Send to a panel of a kind; return what it has said last, once the kernel is done with it."""
        await self.until(lambda: kind in self.models)
        model = self.models[kind]
        number = await self._message(
            {"comm_id": model, "data": {"method": "custom", "content": content}}
        )
        await self.until(lambda: number in self.done)
        return self.said.get(model, [{}])[-1]

    async def until(self, holds: Callable[[], bool]) -> None:
        """Wait for something to be heard."""
        async with self.news:
            await asyncio.wait_for(self.news.wait_for(holds), PATIENCE_S)

    def form(self) -> dict:
        """Return the form that stands on the page."""
        shown = [said["form"] for said in self.said.get(self.models[FORM], ()) if "form" in said]
        return shown[-1]

    async def leave(self) -> None:
        """Close the line, as a browser that is closed does."""
        self.line.close()
        await self.hearing


class VirtualPerson:
    """Somebody on the list who joins, works all of the form by a habit, and hands in."""

    def __init__(self, base: str, code: str, member: Member, habit: str, store: Records) -> None:
        self.base, self.code, self.member, self.habit, self.store = base, code, member, habit, store
        self.acts, self.bench_before = 0, ""

    def live(self, loop: asyncio.AbstractEventLoop) -> None:
        """Do it all; `loop` runs in a thread of its own."""

        def run(doing: object) -> object:
            return asyncio.run_coroutine_threadsafe(doing, loop).result(PATIENCE_S * 2)

        self.page = run(self._arrive())
        run(self.page.send(FORM, {"send": "start", "values": {}}))
        sitting = self.store.open_sitting(
            owner_in_class(self.member.class_id, self.member.person_id)
        )
        assert sitting is not None, self.page.form()
        self.sitting_id = sitting.id
        kept = read_kept(sitting.id, self.store.kept(sitting.id))
        for slot in range(len(kept.cases)):
            self._work(run, kept, slot)
            if slot + 1 < len(kept.cases):
                self.bench_before = self.page.models[BENCH]
                run(self.page.send(FORM, {"send": "next", "values": {}}))
        self._answer(run, kept)
        run(self.page.until(lambda: self.page.form()["title"] == "Finished"))
        run(self.page.leave())

    async def _arrive(self) -> Line:
        page = Line(self.base)
        await page.ask("")
        await page.ask("join", {"code": self.code, "number": self.member.number})
        await page.open("assessment.ipynb")
        await page.until(lambda: FORM in page.models)
        await page.send(FORM, {"ask": "form", "browser_key": "ab" * 32, "at_work": False})
        return page

    def _work(self, run: Callable, kept: KeptSitting, slot: int) -> None:
        run(self.page.until(lambda: self.page.models.get(BENCH) not in (None, self.bench_before)))
        run(self.page.send(BENCH, {"ask": "everything"}))

        def act(action: object) -> Observation:
            self.acts += 1
            said = run(self.page.send(BENCH, {"wish": to_json(action)}))
            events = self.store.events(self.sitting_id, slot)
            if events and events[-1].action == to_json(action):
                return Observation(**events[-1].observation)
            return Observation(False, str(said))

        work(act, kept.sheet, HABITS[self.habit], kept.cases[slot].setup().order)

    def _answer(self, run: Callable, kept: KeptSitting) -> None:
        if not kept.questions:
            return
        for at, posed in enumerate(kept.questions):
            answer = right_json(posed.hidden) | {"confidence": "sure"}
            run(self.page.send(QUESTIONS, {"at": at, "answer": answer}))
        run(self.page.send(QUESTIONS, {"hand_in": True, "sure": True}))


class VirtualClass:
    """All of them at once, each in a thread; their lines share one loop in another."""

    def __init__(self, people: list[VirtualPerson]) -> None:
        self.people = people
        self.loop = asyncio.new_event_loop()
        self.thread = threading.Thread(target=self.loop.run_forever, daemon=True)
        self.pool = ThreadPoolExecutor(max(1, len(people)))

    def begin(self) -> list[Future]:
        """Let all begin; return what will say how each went."""
        AsyncHTTPClient.configure(None, max_clients=200)
        self.thread.start()
        return [self.pool.submit(person.live, self.loop) for person in self.people]

    def end(self) -> None:
        """Stop the loop."""
        self.pool.shutdown(wait=True)
        self.loop.call_soon_threadsafe(self.loop.stop)
        self.thread.join(PATIENCE_S)
        self.loop.close()
