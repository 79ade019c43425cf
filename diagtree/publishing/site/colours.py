"""The site's colours, light and dark, and what stands on what: a test reckons the contrast of each pair."""

from __future__ import annotations

from collections.abc import Mapping

LIGHT: Mapping[str, str] = {
    "ground": "#f5f2ea",
    "sheet": "#fffdf8",
    "ink": "#1d2326",
    "soft": "#4b555b",
    "line": "#cbc4b4",
    "edge": "#7d776a",
    "accent": "#0a5866",
    "accent-ground": "#e2eeee",
    "stop": "#9c1b12",
    "stop-ground": "#fbe9e5",
    "caution": "#6d4300",
    "caution-ground": "#fbf0d5",
    "finding": "#2f5a1d",
    "finding-ground": "#ecf3e6",
    "measure-ground": "#e7eff7",
    "found": "#ffe08a",
}
"""Names and values in daylight."""

DARK: Mapping[str, str] = {
    "ground": "#14181a",
    "sheet": "#1c2225",
    "ink": "#e9e6df",
    "soft": "#adb6ba",
    "line": "#3a4449",
    "edge": "#7f8a90",
    "accent": "#7fcbd7",
    "accent-ground": "#1b3439",
    "stop": "#ffa195",
    "stop-ground": "#3b1e1a",
    "caution": "#f1c77a",
    "caution-ground": "#332a12",
    "finding": "#a5cd90",
    "finding-ground": "#1f2c1b",
    "measure-ground": "#1a2835",
    "found": "#5c4a12",
}
"""The same names in the dark."""

TEXT_ON: Mapping[str, tuple[str, ...]] = {
    "ink": (
        "ground", "sheet", "accent-ground", "stop-ground", "caution-ground", "finding-ground",
        "measure-ground", "found",
    ),
    "soft": (
        "ground", "sheet", "accent-ground", "finding-ground", "measure-ground", "stop-ground",
        "caution-ground",
    ),
    "accent": ("ground", "sheet", "accent-ground", "finding-ground", "caution-ground", "stop-ground"),
    "stop": ("ground", "sheet", "stop-ground"),
    "caution": ("ground", "sheet", "caution-ground"),
    "finding": ("ground", "sheet", "finding-ground"),
}  # fmt: skip
"""Each colour of letters with the grounds that it stands on: at least 4.5 to 1 (WCAG 2.2, 1.4.3)."""

DRAWN_ON: Mapping[str, tuple[str, ...]] = {
    "edge": ("ground", "sheet"),
    "accent": ("ground", "sheet"),
    "finding": ("sheet", "finding-ground"),
}
"""Each colour of frames, bars and focus rings with its grounds: at least 3 to 1 (WCAG 2.2, 1.4.11)."""


def contrast(one: str, other: str) -> float:
    """Reckon the contrast of two colours as WCAG 2.2 defines it (relative luminance, sRGB).

    Examples
    --------
    >>> contrast("#000000", "#ffffff"), round(contrast("#777777", "#ffffff"), 2)
    (21.0, 4.48)
    """
    high, low = sorted((_luminance(one), _luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


def _luminance(colour: str) -> float:
    parts = [int(colour[place : place + 2], 16) / 255 for place in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def variables() -> str:
    """Write the colours as CSS: by what the system asks for, unless the reader chose; always light on paper."""
    light, dark = (
        "".join(f"--{name}:{value};" for name, value in colours.items()) for colours in (LIGHT, DARK)
    )
    paper = f"{light}--ground:#ffffff;--sheet:#ffffff;"
    return (
        f":root{{color-scheme:light;{light}}}\n"
        f"@media (prefers-color-scheme:dark){{:root:not([data-theme=light]){{color-scheme:dark;{dark}}}}}\n"
        f":root[data-theme=dark]{{color-scheme:dark;{dark}}}\n"
        f"@media print{{:root,:root[data-theme],:root:not([data-theme=light]){{color-scheme:light;{paper}}}}}\n"
    )
