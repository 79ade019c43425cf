"""How the screen looks: a calm dark paper with one warm colour, and the same without any colour."""

from __future__ import annotations

from collections.abc import Mapping

from prompt_toolkit.output import ColorDepth
from prompt_toolkit.styles import Style

OWN = "bench-"
"""Before each name: prompt-toolkit has styles of its own under plain names, and they would be mixed in."""

# Contrast against the paper #1c1c1c: text 14.8, quiet 8.6, amber 9.6, blue 9.1, red 7.2 (WCAG 2 ratio).
_MANY = {
    "paper": "bg:#1c1c1c #eeeeee",
    "top": "bg:#303030 #d0d0d0",
    "top.name": "bg:#303030 #ffffff bold",
    "rule": "#626262",
    "heading": "#87d7ff bold",
    "complaint": "#87d7ff",
    "question": "#ffffff bold",
    "how": "#eeeeee",
    "advice": "#87d7ff",
    "caution": "#ff8787 bold",
    "answer": "#eeeeee",
    "selected": "bg:#ffaf00 #000000 bold",
    "more": "#ffaf00 bold",
    "top-cause": "#ffffff bold",
    "bar": "#ffaf00",
    "bar.rest": "#4e4e4e",
    "moved": "#87d7ff bold",
    "figure": "#ffffff",
    "step": "#ffffff",
    "quiet": "#b2b2b2",
    "key": "#ffaf00 bold",
    "keys": "#d0d0d0",
    "message": "#ffd787 bold",
    "field": "underline #ffffff",
    "done": "#b2b2b2",
}

# The terminal's own two colours, with bold, reverse and underline; sixteen colours differ from one
# terminal to the next, so only what also has a sign or a number is coloured.
_PLAIN = {
    "paper": "",
    "top": "reverse",
    "top.name": "reverse bold",
    "rule": "",
    "heading": "bold underline",
    "complaint": "underline",
    "question": "bold",
    "how": "",
    "advice": "bold",
    "caution": "bold",
    "answer": "",
    "selected": "reverse bold",
    "more": "bold",
    "top-cause": "bold",
    "bar": "",
    "bar.rest": "",
    "moved": "bold",
    "figure": "",
    "step": "",
    "quiet": "",
    "key": "bold",
    "keys": "",
    "message": "bold",
    "field": "underline",
    "done": "",
}
_SIXTEEN = {
    **_PLAIN,
    "heading": "bold ansicyan",
    "complaint": "ansicyan",
    "caution": "bold ansired",
    "bar": "ansiyellow",
    "moved": "bold ansicyan",
    "more": "bold ansiyellow",
}


def style_for(depth: ColorDepth) -> Style:
    """Choose the style that a number of colours can show.

    Examples
    --------
    >>> "reverse" in dict(style_for(ColorDepth.DEPTH_1_BIT).style_rules)["bench-selected"]
    True
    """
    rules: Mapping[str, str] = _MANY
    if depth is ColorDepth.DEPTH_1_BIT:
        rules = _PLAIN
    elif depth is ColorDepth.DEPTH_4_BIT:
        rules = _SIXTEEN
    return Style([(OWN + name, rule) for name, rule in rules.items()])
