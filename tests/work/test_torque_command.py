"""The torque command: look-ups by name and words, estimates, adapters, JSON."""

import json
import re
import shlex
from pathlib import Path

import pytest

from diagtree.commands.main import main
from diagtree.work.lookup import NoSuchFastenerError, find_fasteners

KETTLE = str(Path(__file__).parents[1] / "kettle")


def say(capsys, *words):
    status = main(["torque", *words])
    out, err = capsys.readouterr()
    return status, out, err


def test_a_fastener_is_looked_up_by_its_bare_name(capsys, monkeypatch, tmp_path):
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    status, out, _ = say(capsys, "element-nut", "--trees", KETTLE)
    assert status == 0
    assert out.startswith("The mark on the part comes first.\n\nElement nut (kettle/element-nut)\n")
    assert "  Thread       M12x1\n" in out
    assert "  Tighten      anticlockwise (left-hand thread)\n" in out
    assert "  Torque       4-6 N·m, set 5 N·m (35-53 lbf·in)\n" in out
    assert "  Basis        invented\n" in out


@pytest.mark.parametrize(
    ("wanted", "found"),
    [
        ("kettle/base-screw", ("kettle/base-screw",)),
        ("base-screw", ("kettle/base-screw",)),
        ("Base screw", ("kettle/base-screw",)),
        ("screw", ("kettle/base-screw",)),
        ("kettle nut", ("kettle/element-nut",)),
        ("elem", ("kettle/element-nut",)),
        ("kettle", ("kettle/base-screw", "kettle/element-nut")),
    ],
)
def test_fasteners_are_found_by_what_people_call_them(kettle, wanted, found):
    assert find_fasteners(kettle, wanted) == found


@pytest.mark.parametrize(
    ("wanted", "says"),
    [
        ("bse scrw", "There is no fastener 'bse scrw'. Did you mean 'kettle/base-screw'?"),
        ("gearbox", "There is no fastener 'gearbox'. Name it by words of its title, for example: stem bolt."),
        ("", "There is no fastener ''. Name it by words of its title, for example: stem bolt."),
    ],
)
def test_what_is_not_there_is_told_with_near_names(kettle, wanted, says):
    with pytest.raises(NoSuchFastenerError) as caught:
        find_fasteners(kettle, wanted)
    assert str(caught.value) == says


def test_an_estimate_says_which_limit_rules_and_that_it_is_one(capsys):
    """M5 8.8 at mu 0.12: 5.84 N·m, 7.20 kN (VDI 2230-1, computed unrounded)."""
    status, out, err = say(
        capsys, "--thread", "M5", "--class", "8.8", "--into", "6061-T6", "--engaged", "8", "--lubricated"
    )
    assert (status, err) == (0, "")
    head, estimate = out.split("\n\n")
    assert head == "The mark on the part comes first."
    assert estimate.startswith("An estimate: M5x0.8, class 8.8, lubricated, 8 mm in 6061-T6\n")
    assert "  At most      5.8 N·m (51 lbf·in): the bolt's preload rules\n" in estimate
    assert "7.2 kN at 5.8 N·m" in estimate
    assert "the thread in 6061-T6 strips at 16.6 kN" in estimate


def test_the_softer_thread_rules_where_little_of_it_is_engaged(capsys):
    _, out, _ = say(
        capsys, "--thread", "M5", "--class", "12.9", "--into", "6061-T6", "--engaged", "4", "--lubricated"
    )
    assert "At most      6.0 N·m (53 lbf·in): the thread in 6061-T6 strips\n" in out
    assert "Less than one diameter of thread is engaged." in out


def test_json_has_a_schema_and_plain_numbers(capsys):
    _, out, _ = say(capsys, "--thread", "M6", "--class", "8.8", "--lubricated", "--json")
    data = json.loads(out)
    assert (data["schema"], data["kind"], data["mark_first"]) == (1, "torque-estimate", True)
    assert data["at_most_Nm"] == pytest.approx(10.15, abs=0.005)
    assert (data["strip"], data["rules"]) == (None, "the bolt's preload")
    _, out, _ = say(capsys, "base-screw", "--trees", KETTLE, "--json")
    (row,) = json.loads(out)["fasteners"]
    assert (row["torque_Nm"], row["hand"]) == ({"from": 1.0, "to": 1.4, "target": 1.2}, "right")


def test_an_adapter_lowers_the_setting(capsys):
    """5 N·m with 50 mm on 400 mm: 5 x 400/450 = 4.4."""
    _, out, _ = say(capsys, "element-nut", "--trees", KETTLE, "--adapter", "50", "--length", "400")
    assert "  With adapter set the wrench to 4.4 N·m\n" in out
    _, out, _ = say(capsys, "element-nut", "--trees", KETTLE, "--adapter", "2 in@90", "--length", "40 cm")
    assert "  With adapter set the wrench to 5.0 N·m\n" in out


def workshop_with(tmp_path, wrench):
    file = tmp_path / "workshop.yaml"
    file.write_text(f"rate: 60\nwrenches:\n  - {wrench}\n", encoding="utf-8")
    return str(file)


def test_what_a_wrench_may_be_off_by_is_told(capsys, tmp_path):
    """ISO 6789, type II class A: 6 % up to 10 N·m, so 5 N·m comes out between 4.7 and 5.3."""
    file = workshop_with(tmp_path, "{title: Small one, from: 2, to: 20, left: true}")
    _, out, _ = say(capsys, "element-nut", "--trees", KETTLE, "--workshop", file)
    assert "  Wrench       Small one; set to 5 it may give 4.7 to 5.3 N·m (ISO 6789)\n" in out
    _, out, _ = say(capsys, "element-nut", "--trees", KETTLE, "--workshop", file, "--json")
    assert json.loads(out)["fasteners"][0]["wrench_may_give_Nm"] == [4.7, 5.3]


def test_an_adapter_that_takes_the_setting_off_the_scale_is_warned_of(capsys, tmp_path):
    """5 N·m with 100 mm on 200 mm: 5 x 200/300 = 3.3, and the wrench begins at 4."""
    file = workshop_with(tmp_path, "{title: Small one, from: 4, to: 20, left: true, length: 200}")
    told = ["element-nut", "--trees", KETTLE, "--workshop", file, "--adapter"]
    _, out, _ = say(capsys, *told, "100")
    said = " ".join(out.split())
    assert "set the wrench to 3.3 N·m" in said
    assert "Mind With this adapter 'Small one' is set to 3.3 N·m, off its scale of 4-20 N·m." in said
    _, out, _ = say(capsys, *told, "100@90")
    assert "off its scale" not in " ".join(out.split())


def test_a_length_without_an_adapter_is_asked_about_when_looking_up_too(capsys):
    status, _, err = say(capsys, "element-nut", "--trees", KETTLE, "--length", "400")
    assert (status, "--length goes with --adapter." in err) == (2, True)


@pytest.mark.parametrize(
    ("words", "says"),
    [
        ([], "Which fastener? Name one, for example 'diagtree torque stem bolt', or give --thread."),
        (["--class", "8.8"], "To calculate, the thread is wanted. Add, for example: --thread M5"),
        (["x", "--thread", "M5"], "A fastener is looked up, a thread is calculated: not both at once. Leave one of them out."),
        (["--thread", "M5"], "Which bolt is it? Add --class: one of 4.6, 5.6,"),
        (["--thread", "M5", "--class", "8.9"], "There is no property class '8.9'. Did you mean"),
        (["--thread", "Q5", "--class", "8.8"], "'Q5' is not a thread. Write it like 'M5x0.8'"),
        (["--thread", "M5", "--class", "8.8", "--engaged", "8"], "Engaged in what? Add --into, for example: --into 6061-T6"),
        (["--thread", "M5", "--class", "8.8", "--into", "6061-T6", "--engaged", "8 N"], "'8 N' is a force; a length is wanted."),
        (["--thread", "M5", "--class", "8.8", "--adapter", "50"], "How long is the wrench? Add --length, from the square"),
        (["--thread", "M5", "--class", "8.8", "--length", "50"], "--length goes with --adapter."),
        (["--thread", "M5", "--class", "8.8", "--adapter=-50", "--length", "50"], "With this adapter the wrench has no leverage."),
    ],
)  # fmt: skip
def test_what_is_missing_or_wrong_is_told_with_what_to_do(capsys, words, says):
    status, out, err = say(capsys, *words)
    assert (status, out) == (2, "")
    assert err.startswith(f"diagtree: {says}")


PAGE = Path(__file__).parents[2] / "docs" / "torque.md"


@pytest.mark.parametrize(
    "block", re.findall(r"```console\n\$ (.*?)```", PAGE.read_text(encoding="utf-8"), re.S)
)
def test_what_the_docs_show_is_what_is_printed(block, capsys, monkeypatch, tmp_path):
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path))
    monkeypatch.delenv("DIAGTREE_WORKSHOP", raising=False)
    command, _, shown = block.partition("\n")
    assert main(shlex.split(command)[1:]) == 0
    assert but_for_cautions(capsys.readouterr().out) == but_for_cautions(shown)


def but_for_cautions(text):
    """Cautions are their authors' words and change; figures do not."""
    return [line for line in text.splitlines() if not line.startswith("  Mind ")]
