"""What the customer agreed to: the ceiling that every paper names, and how far the price has passed it."""

from __future__ import annotations

from decimal import Decimal

from diagtree.sheets.figures import moment, money
from diagtree.sheets.ground import Ground


def ceiling(ground: Ground) -> Decimal:
    """The amount above which to stop and ask: the one that was agreed, or the price until one is."""
    agreed = ground.facts.agreed
    return ground.work.estimate.price if agreed is None else agreed.limit


def agreement(ground: Ground) -> str:
    """Say what was agreed and when; empty if nothing was."""
    agreed, currency = ground.facts.agreed, ground.currency
    if agreed is None:
        return ""
    said = f"Agreed on {moment(agreed.when)}" if agreed.when else "Agreed"
    limit = "that" if agreed.limit == agreed.price else money(agreed.limit, currency)
    return f"{said}: {money(agreed.price, currency)}, and not above {limit}."


def passed(ground: Ground) -> str:
    """Say by how much the price is over what was agreed, and what to do; empty if it is not."""
    over = ground.work.estimate.price - ceiling(ground)
    if over <= 0:
        return ""
    text = f"The price is {money(over, ground.currency)} over what was agreed"
    if ground.facts.handed_over is not None:
        return f"{text}."
    # What has been started cannot be asked about before it begins.
    return f"{text}: ask before work {'goes on' if ground.facts.jobs_done else 'begins'}."
