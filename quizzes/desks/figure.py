"""A figure on a page: the picture, and under it the words that say the same."""

from ipywidgets import HTML
from jinja2 import Environment

from widgets.charts.picture import Picture

_FIGURE = Environment(autoescape=True).from_string(
    '<figure style="margin:0"><img src="{{ drawn.data_url }}" alt="{{ drawn.alt }}" '
    'style="width:min(100%,760px);height:auto;background:#fbfaf6">'
    '<figcaption style="line-height:1.45;max-width:40rem">{{ drawn.alt }}</figcaption></figure>'
)


def figure(drawn: Picture) -> HTML:
    """Return a picture with its caption as a widget; whoever cannot see it reads the caption."""
    return HTML(_FIGURE.render(drawn=drawn)).add_class("gal-result").add_class("gal-figure")
