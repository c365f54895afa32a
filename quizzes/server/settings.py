"""How our server differs from a stock one, as one configuration with its reasons."""

import os
from pathlib import Path

from traitlets.config import Config

from quizzes.server.border.connection import DiscreetConnection
from quizzes.server.border.frames import MOST_BYTES
from quizzes.server.border.origins import Announced

from .kernel_manager import OwnPython
from .navigation import add_navigation
from .ready import ReadyKernels

IDLE_S = 3600  # s without a page attached until a kernel ends; a page held open never loses it
EXTENSIONS = (  # of the front end, without which no widget stands on a page
    "anywidget",
    "@jupyter-widgets/jupyterlab-manager",
    "@voila-dashboards/widgets-manager8",
)
FORK = True  # kernels from one parent, where the platform can
READY = 2  # where it cannot: kernels that stand warm for the next pages, some 90 MB each
PING_S = 30  # s between asking an open page whether it is still there
UNREACHED_S = 90  # s in which a page's browser has to reach its kernel
LOOK_EVERY_S = 60  # s between looks for such kernels


def policy(announced: Announced) -> str:
    """Return what a browser may load for our pages: nothing from elsewhere.

    Parameters
    ----------
    announced : Announced
        Where the server is, for browsers to which `'self'` does not mean websockets.

    Returns
    -------
    str
        A Content-Security-Policy.

    Notes
    -----
    `blob:` scripts are anywidget's modules, which travel through the kernel.
    No script may stand in a page and none may be made from text, so words
    that a person typed cannot become a program. Inline style is how widgets
    are laid out.
    """
    sockets = " ".join(announced.sockets())
    return "; ".join(
        (
            "default-src 'self'",
            "script-src 'self' blob:",
            "style-src 'self' 'unsafe-inline'",
            "img-src 'self' data: blob:",
            "font-src 'self' data:",
            f"connect-src 'self' {sockets}",
            "object-src 'none'",
            "base-uri 'none'",
            "form-action 'self'",
            "frame-ancestors 'none'",
        )
    )


def headers(announced: Announced) -> dict[str, str]:
    """Return the headers that go out with every page.

    Parameters
    ----------
    announced : Announced
        Where the server is.

    Returns
    -------
    dict of str to str
        Header names and values.
    """
    return {
        "Content-Security-Policy": policy(announced),
        "X-Content-Type-Options": "nosniff",
        "Referrer-Policy": "same-origin",
        "Cross-Origin-Opener-Policy": "same-origin",
        "Cross-Origin-Resource-Policy": "same-origin",
    }


def configuration(lessons: Path, announced: Announced, runtime: Path) -> Config:
    """Return the server's configuration.

    Parameters
    ----------
    lessons : Path
        The folder with the pages.
    announced : Announced
        Where the server will be.
    runtime : Path
        A private folder for connection files and sockets; short, because the
        path of a socket may have about 100 characters.

    Returns
    -------
    Config
        For `SuiteServer`.
    """
    config = appearance()
    config.Voila.update(
        root_dir=str(lessons),
        ip="127.0.0.1",
        port=announced.port,
        port_retries=0,  # a busy port is said, not worked around
        open_browser=False,
        config_file_paths=[],  # what a user keeps for other servers is not for this one
        connection_dir_root=str(runtime),
        kernel_websocket_connection_class=DiscreetConnection,
        tornado_settings={
            "headers": headers(announced),
            "allow_remote_access": True,  # the guard knows better by which names we may be asked
            "websocket_max_message_size": MOST_BYTES,
            "websocket_ping_interval": PING_S,
            "websocket_ping_timeout": PING_S,
            "xsrf_cookie_kwargs": {"samesite": "Strict"},
        },
    )
    config.IdentityProvider.cookie_options = {"samesite": "Lax", "httponly": True}
    _kernels(config)
    return config


def appearance() -> Config:
    """Return how pages look and find each other, on any server that Voila runs in.

    Returns
    -------
    Config
        For our own server, and for Binder's.
    """
    config = Config()
    config.VoilaConfiguration.update(
        template="suite",
        classic_tree=True,
        theme="light",  # the sheet itself follows the reader's preference
        allow_template_override="NO",
        allow_theme_override="NO",
        strip_sources=True,
        show_tracebacks=False,
        file_allowlist=[r"pictures/[\w-]+\.(png|svg)"],
        file_denylist=[r".*\.\..*"],
        http_keep_alive_timeout=3600,  # its heartbeat would be an inline script
        page_config_hook=add_navigation,
        extension_allowlist=list(EXTENSIONS),  # whatever else is installed is not for our pages
        resources={},
    )
    config.VoilaExecutor.cell_error_instruction = ""
    return config


def _kernels(config: Config) -> None:
    config.VoilaConfiguration.update(
        kernel_spec_manager_class=OwnPython, multi_kernel_manager_class=ReadyKernels
    )
    config.ReadyKernels.ready = READY
    config.ReadyKernels.fork = FORK
    config.ReadyKernels.unreached_s = UNREACHED_S
    config.MappingKernelManager.update(
        cull_idle_timeout=IDLE_S,
        cull_interval=LOOK_EVERY_S,
        cull_connected=False,
    )
    # A kernel that died took the page's state with it: the page is told, none is restarted.
    config.KernelRestarter.restart_limit = 0
    if os.name != "nt":  # Windows has no such sockets for kernels; there they stay on loopback
        config.KernelManager.transport = "ipc"
