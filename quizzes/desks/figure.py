"""A figure on a page: the picture, and under it the words that say the same."""

from ipywidgets import HTML
from jinja2 import Environment

from widgets.charts.picture import Picture

_FIGURE = Environment(autoescape=True).from_string(
    '<figure><img src="{{ drawn.data_url }}" alt="{{ drawn.alt }}">'
    "<figcaption>{{ drawn.alt }}</figcaption></figure>"
)


def figure(drawn: Picture) -> HTML:
    """Return a picture with its caption as a widget; whoever cannot see it reads the caption."""
    return HTML(_FIGURE.render(drawn=drawn)).add_class("gal-result").add_class("gal-figure")
