"""The picture of the machine on the sheet names the answers that moved it most."""

from __future__ import annotations

import json

from diagtree.case.log import MemoryLog
from diagtree.case.walker import Walker
from diagtree.library.workshop_file import default_workshop
from diagtree.sheets.from_case import paper_of_case
from diagtree.sheets.writers import BUILT_IN


def test_each_side_of_the_picture_names_what_moved_it(kettle):
    walker = Walker(kettle, MemoryLog(), complaints=["slow-boil"])
    for answer in ("limed", "worn", "white"):
        walker.answer(answer)
    paper = paper_of_case("job", walker.view, default_workshop())
    text = " ".join(BUILT_IN["text"].write(paper).decode().split())
    assert "What moved it most:" in text
    assert "Water: Is there lime around the spout? 'Limed' speaks strongly for it" in text
    data = json.loads(BUILT_IN["json"].write(paper))
    picture = {side["condition"]: side["moved_by"] for side in data["picture"]}
    assert picture["use"][0].startswith("How worn is the handle? 'Shiny with wear' speaks ")
