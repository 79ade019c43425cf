"""What the binder says about itself."""

from __future__ import annotations

from diagtree.drawing.diagram import Kind

KINDS = {
    Kind.START: "The complaint. Begin here.",
    Kind.QUESTION: "Look, feel or listen. The minutes that it takes stand beside its number.",
    Kind.MEASUREMENT: "Measure. The answers are bands of what was measured.",
    Kind.FINDING: "Causes, with how many of 100 have each.",
    Kind.STOP: "Stop work and do what it says.",
}
"""What each kind of box asks of its reader."""

CONNECTOR = "Go on at the circle with the same number. Its sheet stands beside it."
"""What a circle asks."""


def how_to_use(machines: str) -> tuple[str, ...]:
    """Tell how the binder is used, step by step.

    Parameters
    ----------
    machines
        What several machines are called.

    Examples
    --------
    >>> how_to_use("kettles")[0]
    'Read the cautions. Those of a complaint stand in the first box of its drawing.'
    """
    text = f"""
        Read the cautions. Those of a complaint stand in the first box of its drawing.

        Look it over: the quick looks tell how it has lived, and so which causes are likelier.

        Find the complaint in the contents, or by its family's page. Begin at the box with round corners.

        Do each check as the question asks. Follow the line that carries the answer.

        A circle with a number goes on at the circle with the same number. Beside it stands the sheet of this
        tree. Sheets are numbered at the foot, before the page.

        A finding names causes. The figure before each: how many of 100 {machines} with this complaint have
        it. The largest is the first to look at, not a proof.

        Look the cause up in the index: its tell-tale sign, and remedies from mild to strong. Do the mildest
        that will hold.

        Use the torque that is marked on the part. The table of fasteners is for parts without a mark. Numbers
        in brackets say where a figure comes from: the list stands at the end.

        A job beyond your training goes to a qualified mechanic.
    """
    return tuple(" ".join(part.split()) for part in text.strip().split("\n\n"))
