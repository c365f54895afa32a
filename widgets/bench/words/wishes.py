"""Why a wish from outside came to nothing, in words."""

from collections.abc import Mapping

WISHES: Mapping[str, str] = {
    "wish.no-object": "That is nothing one can do here. An action must be an object with a kind.",
    "wish.too-many-fields": "That is nothing one can do here. An action has at most {most} fields.",
    "wish.text-too-long": (
        "That is nothing one can do here. A text may have at most {most} characters."
    ),
    "wish.list-too-long": (
        "That is nothing one can do here. A list may have at most {most} entries."
    ),
    "wish.not-json": (
        "That is nothing one can do here. An action must be plain JSON with finite numbers."
    ),
    "wish.too-long": (
        "That is nothing one can do here. An action may have at most {most} characters."
    ),
    "wish.no-such-action": "That is nothing one can do here. There is no such action.",
    "wish.bad-field": "That is nothing one can do here. {field}: expected {expected}.",
    "wish.not-kept": "{cause} What you just did was not kept and has not happened.",
    "wish.failed": ("Something went wrong on our side. Nothing has changed; please try again."),
}
