"""Sets the site's pages: templates with every text escaped, one style, and a policy that lets nothing else in."""

from __future__ import annotations

import base64
import hashlib
from importlib.resources import files
from typing import TYPE_CHECKING

from diagtree import __version__
from diagtree.clean import clean
from diagtree.publishing.site import places
from diagtree.publishing.site.colours import variables
from diagtree.sheets.figures import number

if TYPE_CHECKING:
    from jinja2.runtime import Context

    from diagtree.model.conditions import Noun

ICON = (
    "data:image/svg+xml,%3Csvg xmlns='http://www.w3.org/2000/svg' viewBox='0 0 30 30'%3E%3Cpath "
    "d='M2 15 9 6h8l7 9-7 9H9z' fill='%23e2eeee' stroke='%230a5866' stroke-width='3'/%3E%3C/svg%3E"
)
"""The lozenge of a decision."""

_TEMPLATES = files("diagtree.publishing.site") / "templates"


class Setter:
    """Sets pages.

    Parameters
    ----------
    machine
        What one and several of them are called.
    """

    def __init__(self, machine: Noun) -> None:
        from jinja2 import DictLoader, Environment, StrictUndefined, pass_context
        from markupsafe import Markup

        @pass_context
        def to(context: Context, target: str) -> str:
            return places.from_page(str(context["here"]), target)

        texts = {
            part.name: part.read_text("utf-8")
            for part in _TEMPLATES.iterdir()
            if part.name.endswith((".html", ".svg", ".css", ".js"))
        }
        css = variables() + texts["site.css"]
        self._environment = Environment(
            loader=DictLoader(texts),
            autoescape=True,
            undefined=StrictUndefined,
            trim_blocks=True,
            lstrip_blocks=True,
            keep_trailing_newline=True,
            finalize=_shown,
        )
        self._environment.filters["number"] = number
        self._environment.filters["anchor"] = lambda name, kind: places.entry_anchor(kind, name)
        scripts = (texts["theme.js"], texts["site.js"])
        self._environment.globals.update(
            to=to,
            css=Markup(css),  # our own, from package data
            theme_js=Markup(scripts[0]),
            site_js=Markup(scripts[1]),
            icon=ICON,
            machine=machine,
            version=__version__,
            closing="Marks in brackets say where a figure comes from. The mark on the part comes first, always. "
            f"This library says what is likely and what to check. It does not say that a {machine.one} is safe.",
            site_title=f"Fault finding: {machine.many}",
            policy=policy([css], scripts),
        )
        self._tree_css = Markup(
            variables()
            + "svg{background:var(--sheet)}\n"
            + "".join(f"{line}\n" for line in texts["site.css"].splitlines() if line.startswith(".tree"))
        )

    def page(self, template: str, here: str, **facts: object) -> bytes:
        """Set a page.

        Parameters
        ----------
        template
            Its template.
        here
            Where it will be on the site.
        facts
            What the template tells.

        Returns
        -------
        bytes
            UTF-8; the same for the same facts.
        """
        return self._environment.get_template(template).render(here=here, **facts).encode("utf-8")

    def drawing(self, **facts: object) -> bytes:
        """Set a drawing that stands alone."""
        return self.page("drawing.svg", "", css=self._tree_css, **facts)


def _shown(value: object) -> object:
    """Clean each text on its way out; what is marked as safe has been made here."""
    if isinstance(value, str) and not hasattr(value, "__html__"):
        return clean(value, keep_newlines=True)
    return value


def policy(styles: list[str], scripts: tuple[str, ...]) -> str:
    """Write the content security policy: our own style and scripts by their hashes, and nothing else.

    Examples
    --------
    >>> policy([], ())
    "default-src 'none'; style-src 'none'; script-src 'none'; img-src data:; base-uri 'none'; form-action 'none'"
    """
    style, script = (
        " ".join(
            f"'sha256-{base64.b64encode(hashlib.sha256(text.encode('utf-8')).digest()).decode()}'"
            for text in texts
        )
        or "'none'"
        for texts in (styles, scripts)
    )
    return (
        f"default-src 'none'; style-src {style}; script-src {script}; img-src data:; "
        "base-uri 'none'; form-action 'none'"
    )
