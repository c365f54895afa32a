"""What a person sees when there is no such page, or a page could not be made."""

from http import HTTPStatus
from pathlib import PurePosixPath
from typing import Any

from jinja2 import TemplateError
from jupyter_server.base.handlers import FileFindHandler, JupyterHandler
from tornado.web import HTTPError, RequestHandler, authenticated
from voila.static_file_handler import (
    AllowListFileHandler,
    MultiStaticFileHandler,
    TemplateStaticFileHandler,
)
from voila.tornado.handler import TornadoVoilaHandler
from voila.tornado.kernel_websocket_handler import VoilaKernelWebsocketHandler
from voila.tornado.treehandler import TornadoVoilaTreeHandler
from voila.utils import create_include_assets_functions

from quizzes.access.table import closed_to, doors_of
from quizzes.server.border.guard import refused
from quizzes.server.border.outgoing import PageLine
from quizzes.server.border.visits import begin_visit, visit_of
from quizzes.server.pages.handler import PAGES_SHARE, SuitePage
from quizzes.server.room.poster import poster

from .navigation import add_navigation

PLAIN = (
    '<!doctype html><html lang="en"><title>Gap and Lining</title>'
    '<p>This page could not be shown. <a href="/">Back to the front door</a></p></html>'
)


class RefusalHandler(RequestHandler):
    """Answers with our own page and a way back, and names no file and no line."""

    def write_error(self, status_code: int, **details: Any) -> None:  # noqa: ANN401 - tornado's
        """Write the refusal for a status code in place of the library's own.

        Parameters
        ----------
        status_code : int
            HTTP status, 400 to 599.
        **details
            What was raised, as tornado hands it over.
        """
        raised = (details.get("exc_info") or (None, None, None))[1]
        self._say(status_code, sentence=getattr(raised, "sentence", ""))

    def say_later(self, wait_s: int) -> None:
        """Say that there is no room yet, and how long to wait; the page then tries again itself.

        Parameters
        ----------
        wait_s : int
            s.
        """
        self.set_status(HTTPStatus.SERVICE_UNAVAILABLE)
        self.set_header("Retry-After", str(wait_s))
        self._say(HTTPStatus.SERVICE_UNAVAILABLE, wait_s=wait_s)

    def _say(self, status_code: int, **words: Any) -> None:  # noqa: ANN401 - the template's
        for name, value in self.settings.get("headers", {}).items():
            self.set_header(name, value)
        self.set_header("Content-Type", "text/html; charset=UTF-8")
        self.finish(self._page(status_code, words))

    def _page(self, status_code: int, words: dict[str, Any]) -> str:
        try:
            return self.rendered("error.html", "none", status_code=status_code, **words)
        except (KeyError, TemplateError):
            return PLAIN  # a broken template must not break the page that says so

    def rendered(self, template: str, current: str, **words: Any) -> str:  # noqa: ANN401 - the template's
        """Return a page that has no kernel.

        Parameters
        ----------
        template : str
            The template's file.
        current : str
            Which page it is; "none" for one that the header does not list.
        **words
            What the template asks for besides.
        """
        settings = self.settings
        base_url = settings.get("base_url", "/")
        # a refusal that the server's settings could break would be no refusal
        known = {} if current == "none" else {"settings": settings}
        return str(
            settings["voila_jinja2_env"]
            .get_template(template)
            .render(
                base_url=base_url,
                page_config=add_navigation({}, notebook_path=current, **known),
                **words,
                **create_include_assets_functions("suite", base_url),
            )
        )


class NoSuchPage(RefusalHandler, JupyterHandler):
    """Every address that nothing else answers to."""

    async def prepare(self, **_options: Any) -> None:  # noqa: ANN401 - the library's own
        """Refuse, whatever the method."""
        raise HTTPError(404)


class PageWithRefusals(RefusalHandler, SuitePage):
    """A notebook as a page; an address that is not a notebook is not a page."""

    def redirect_to_file(self, path: str) -> None:
        """Refuse what is not a notebook: there are no files to go to.

        Raises
        ------
        HTTPError
            404, always.
        """
        raise HTTPError(404, "no page at %s", path)


class Refused(RefusalHandler, JupyterHandler):
    """What the guard keeps out."""

    def initialize(self, sentence: str) -> None:
        """Take the reason."""
        self._sentence = sentence

    async def prepare(self, **_options: Any) -> None:  # noqa: ANN401 - the library's own
        """Refuse, whatever the method."""
        raise refused(self._sentence)


class FrontDoorWithRefusals(RefusalHandler, TornadoVoilaTreeHandler):  # type: ignore[misc]
    """The front door, at the server's root."""

    async def prepare(self, **options: Any) -> None:  # noqa: ANN401 - the library's own
        """Begin a browser's visit, so that its first page does not have to."""
        begun = super().prepare(**options)
        if begun is not None:
            await begun
        if not visit_of(self.request):
            begin_visit(self)

    @authenticated
    def get(self, path: str = "") -> None:
        """Send the door with the cards of whoever asks; no folder is read for it.

        Raises
        ------
        HTTPError
            404, for any address but the door's own.
        """
        if path.strip("/"):
            raise HTTPError(404)
        role = self.settings[PAGES_SHARE].guard.visitor(self.request).role
        self.set_header("Cache-Control", "no-store")  # another person may sit here next
        offered = {"role": role, "doors": doors_of(role), "closed": closed_to(role)}
        self.finish(self.rendered("tree.html", "", **offered))


class Poster(RefusalHandler, JupyterHandler):
    """The class's way in, for the projector."""

    def get(self) -> None:
        """Show it, on the serving machine."""
        self.finish(self.rendered("classroom.html", "none", **poster(self)))


class PictureFiles(RefusalHandler, AllowListFileHandler):  # type: ignore[misc]
    """Pictures that lessons show."""


class StaticFiles(RefusalHandler, MultiStaticFileHandler):  # type: ignore[misc]
    """The page machinery's own scripts and sheets."""


class ExtensionFiles(RefusalHandler, FileFindHandler):
    """The widget libraries' scripts."""


class TemplateFiles(RefusalHandler, TemplateStaticFileHandler):  # type: ignore[misc]
    """Files of the page template."""

    def parse_url_path(self, url_path: str) -> str:
        """Return the file's path, for an address of the form `template/static/...`.

        Raises
        ------
        HTTPError
            404, for an address of any other form.
        """
        parts = PurePosixPath(url_path).parts
        if len(parts) < 3 or parts[1] != "static":  # template, static, file
            raise HTTPError(404)
        return str(super().parse_url_path(url_path))


WITH_REFUSALS = {
    TornadoVoilaHandler: PageWithRefusals,
    TornadoVoilaTreeHandler: FrontDoorWithRefusals,
    AllowListFileHandler: PictureFiles,
    MultiStaticFileHandler: StaticFiles,
    FileFindHandler: ExtensionFiles,
    TemplateStaticFileHandler: TemplateFiles,
    VoilaKernelWebsocketHandler: PageLine,
}
