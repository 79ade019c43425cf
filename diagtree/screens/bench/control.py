"""Shows the picture of the page on top in a window of prompt-toolkit."""

from __future__ import annotations

from collections.abc import Callable

from prompt_toolkit.data_structures import Point
from prompt_toolkit.formatted_text import StyleAndTextTuples
from prompt_toolkit.layout.controls import UIContent, UIControl

from diagtree.screens.bench.glyphs import ASCII, Glyphs, in_ascii
from diagtree.screens.bench.lines import Picture
from diagtree.screens.bench.look import OWN
from diagtree.screens.bench.stack import Stack


class PictureControl(UIControl):
    """One control that fills the window: it knows its width and height when it draws.

    Parameters
    ----------
    stack
        The pages.
    glyphs
        The signs that the terminal can write.
    failed
        Called with an error that nobody expected.
    """

    def __init__(self, stack: Stack, glyphs: Glyphs, failed: Callable[[Exception], None]) -> None:
        self._stack = stack
        self._glyphs = glyphs
        self._failed = failed

    def preferred_width(self, max_available_width: int) -> int | None:  # noqa: ARG002 - as wide as it gets
        """Take whatever width there is."""
        return None

    def is_focusable(self) -> bool:
        """Take the cursor."""
        return True

    def create_content(self, width: int, height: int) -> UIContent:
        """Draw for the size that there is."""
        try:
            picture = self._stack.compose_soon(width, height, self._glyphs)
        except Exception as error:
            self._failed(error)
            picture = Picture(((),) * height)
        written = in_ascii if self._glyphs is ASCII else str
        rows: list[StyleAndTextTuples] = [
            [(f"class:{OWN}{style}" if style else "", written(text)) for style, text in line]
            for line in picture.lines
        ]
        cursor = picture.cursor
        return UIContent(
            get_line=lambda number: rows[number],
            line_count=len(rows),
            cursor_position=Point(*cursor) if cursor else None,
            show_cursor=cursor is not None,
        )
