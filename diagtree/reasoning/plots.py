"""The calibration plot: as a picture (SVG) and in the terminal."""

from __future__ import annotations

from diagtree.reasoning.calibration import Calibration

_SIZE, _MARGIN = 320.0, 56.0


def calibration_svg(calibration: Calibration, title: str, drawn_from: str = "simulated") -> str:
    """Draw stated against true chances, with two standard errors.

    Parameters
    ----------
    calibration
        What was found.
    title
        A heading; any text.
    drawn_from
        What the machines are, as ``confirmed``; any text.

    Returns
    -------
    str
        An SVG document, black on white, the same for the same figures.
    """
    from html import escape

    whole = _SIZE + 2 * _MARGIN
    parts = [
        (
            f'<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 {whole:g} {whole + 36:g}" role="img" '
            'font-family="sans-serif" font-size="13" fill="#000">'
        ),
        f"<title>{escape(title)}</title>",
        f'<rect width="{whole:g}" height="{whole + 36:g}" fill="#fff"/>',
        f'<text x="{whole / 2:g}" y="24" text-anchor="middle" font-size="15">{escape(title)}</text>',
    ]
    for tenth in range(0, 11, 2):
        x, y = _at(tenth / 10, tenth / 10)
        left, bottom = _at(0, 0)
        parts += [
            f'<line x1="{left:g}" y1="{y:g}" x2="{left + _SIZE:g}" y2="{y:g}" stroke="#ddd"/>',
            f'<text x="{left - 8:g}" y="{y + 4:g}" text-anchor="end">{tenth * 10}</text>',
            f'<text x="{x:g}" y="{bottom + 20:g}" text-anchor="middle">{tenth * 10}</text>',
        ]
    left, bottom = _at(0, 0)
    right, top = _at(1, 1)
    parts += [
        f'<rect x="{left:g}" y="{top:g}" width="{_SIZE:g}" height="{_SIZE:g}" fill="none" stroke="#000"/>',
        f'<line x1="{left:g}" y1="{bottom:g}" x2="{right:g}" y2="{top:g}" stroke="#777" stroke-dasharray="5 4"/>',
    ]
    for each in calibration.bins:
        x, y = _at(each.stated, each.true)
        _, low = _at(each.stated, max(0.0, each.true - 2 * each.error))
        _, high = _at(each.stated, min(1.0, each.true + 2 * each.error))
        parts += [
            f'<line x1="{x:.1f}" y1="{low:.1f}" x2="{x:.1f}" y2="{high:.1f}" stroke="#000"/>',
            (
                f'<circle cx="{x:.1f}" cy="{y:.1f}" r="4.5"><title>{each.count}: stated {100 * each.stated:.1f}, '
                f"true {100 * each.true:.1f} in 100</title></circle>"
            ),
        ]
    parts += [
        f'<text x="{whole / 2:g}" y="{bottom + 42:g}" text-anchor="middle">stated, in 100</text>',
        f'<text transform="translate(16 {whole / 2:g}) rotate(-90)" text-anchor="middle">true, in 100</text>',
        (
            f'<text x="{whole / 2:g}" y="{bottom + 64:g}" text-anchor="middle" font-size="12">'
            f"{calibration.machines} {escape(drawn_from)}; bars: two standard errors</text>"
        ),
        (
            f'<text x="{whole / 2:g}" y="{bottom + 82:g}" text-anchor="middle" font-size="12">'
            f"Brier score {calibration.brier:.3f}, with the prior alone {calibration.prior_brier:.3f}</text>"
        ),
        "</svg>",
    ]
    return "\n".join(parts) + "\n"


def _at(stated: float, true: float) -> tuple[float, float]:
    return _MARGIN + stated * _SIZE, _MARGIN + (1 - true) * _SIZE


def calibration_lines(calibration: Calibration, width: int = 40) -> list[str]:
    """Draw stated against true chances with letters: ``|`` is stated, ``o`` is true, ``*`` both.

    Parameters
    ----------
    calibration
        What was found.
    width
        Columns for the scale from 0 to 100.
    """
    lines = [f"{'stated':>7}{'true':>7}{'number':>8}  0{'100':>{width - 1}}"]
    for each in calibration.bins:
        scale = [" "] * (width + 1)
        low = round(max(0.0, each.true - 2 * each.error) * width)
        high = round(min(1.0, each.true + 2 * each.error) * width)
        for place in range(low, high + 1):
            scale[place] = "-"
        stated, true = round(each.stated * width), round(each.true * width)
        scale[stated] = "|"
        scale[true] = "*" if stated == true else "o"
        mark = "" if each.holds else "  more than two standard errors apart"
        drawn = "".join(scale).rstrip()
        lines.append(f"{100 * each.stated:7.1f}{100 * each.true:7.1f}{each.count:8}  {drawn}{mark}")
    lines.append("| stated, o true, * both; --- two standard errors either way; in 100")
    return lines


def luck_lines(calibration: Calibration) -> list[str]:
    """Tell what the table says of machines that came by themselves: one row in twenty is apart by chance alone."""
    many = len(calibration.bins)
    rows = "row" if many == 1 else "rows"
    within = f"{calibration.allowance:.1f} standard errors"
    return [
        f"{calibration.within} of {many} {rows} within two standard errors; one in twenty is further apart by chance.",
        (
            f"All {many} {rows} together: within {within}, as 95 tables in 100 are. The stated chances hold."
            if calibration.holds
            else f"All {many} {rows} together: not within {within}, as 95 tables in 100 are when stated chances are true."
        ),
    ]
