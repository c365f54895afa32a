"""What Binder's own server needs to know to show our pages; `postBuild` puts it in place."""

from quizzes.server.settings import appearance

get_config().merge(appearance())  # noqa: F821 - the configuration loader provides it
