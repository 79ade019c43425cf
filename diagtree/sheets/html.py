"""Sets a paper as one HTML file that needs nothing else, loads nothing and prints well."""

from __future__ import annotations

from importlib.resources import files
from typing import TYPE_CHECKING

from diagtree.clean import clean
from diagtree.sheets.blocks import with_texts
from diagtree.sheets.paper import Paper

if TYPE_CHECKING:
    from markupsafe import Markup


def to_html(paper: Paper) -> str:
    """Set a paper as HTML.

    Parameters
    ----------
    paper
        What to set.

    Returns
    -------
    str
        A whole page. Every text has been escaped; a policy in the page forbids scripts and loading.
    """
    from jinja2 import Environment, StrictUndefined

    paper = with_texts(paper, lambda text: clean(text, keep_newlines=True))
    setting = Environment(autoescape=True, undefined=StrictUndefined, keep_trailing_newline=True)
    template = setting.from_string((files("diagtree.sheets") / "templates" / "paper.html").read_text("utf-8"))
    return template.render(paper=paper, kind_of=lambda block: type(block).__name__, css_text=css_text)


def write_html(paper: Paper) -> bytes:
    """Return the HTML form as UTF-8."""
    return to_html(paper).encode("utf-8")


def css_text(text: str) -> Markup:
    r"""Make a text a string of CSS that nothing can leave: all but plain letters by their number.

    Examples
    --------
    >>> print(css_text('a</style>"'))
    "a\3c \2f style\3e \22 "
    """
    from markupsafe import Markup

    safe = "".join(
        letter if letter.isascii() and letter.isalnum() else f"\\{ord(letter):x} " for letter in text
    )
    return Markup(f'"{safe}"')  # nothing but ASCII letters, digits, backslashes and spaces
