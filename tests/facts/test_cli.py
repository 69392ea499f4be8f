"""The command line says one clear thing when something is wrong, ends with the documented status, and shows no traceback."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path

import pytest

from build_tools import VERSION
from tests.facts.examples import ROOT, lay_out

BUILD = """\
slots:
  front_lamp: {told: {return_path: own_wire, draw: 4}}
  lamp_feed: {told: {return_path: own_wire, limit: 10}}
"""


def run(*words: str, said: str = "") -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "build_tools", *words],
        cwd=ROOT,
        input=said,
        capture_output=True,
        text=True,
        check=False,
        timeout=120,
    )


@pytest.fixture
def lamps(tmp_path: Path) -> str:
    return str(lay_out(tmp_path / "lamps"))


def test_sound_facts_check_with_status_0_and_a_count(lamps: str) -> None:
    done = run("check", "--facts", lamps)

    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout == "31 records in 1 layer, 0 problems, 2 known gaps.\n"


def test_a_problem_in_the_facts_checks_with_status_1(lamps: str) -> None:
    (Path(lamps) / "terms" / "return_path.yaml").write_text("term: return_path\ntitle: on\n", "utf-8")

    done = run("check", "--facts", lamps)

    assert done.returncode == 1
    assert (
        f"{lamps}/terms/return_path.yaml:2  'on' is read by YAML as true or false. Write \"on\" in quotes. [unquoted-word]"
        in done.stdout
    )
    assert done.stdout.endswith("problems, 2 known gaps.\n")


def test_several_folders_of_facts_can_be_named(lamps: str, tmp_path: Path) -> None:
    shop = tmp_path / "shop"
    shop.mkdir()
    (shop / "layer.yaml").write_text('layer: shop\ntitle: Shop\ninvented: "yes"\nabout: A shop.\n', "utf-8")
    (shop / "small_lamp.yaml").write_text(
        'family: small_lamp\nkind: work_lamp\ntitle: Small lamp\nattributes: {return_path: housing}\nsource: lamp-sheet\nchecked: "2026-11-25"\n',
        "utf-8",
    )

    done = run("check", "--facts", lamps, "--facts", str(shop))

    assert (done.returncode, done.stdout) == (0, "33 records in 2 layers, 0 problems, 2 known gaps.\n")


def test_a_build_is_answered_in_words(lamps: str, tmp_path: Path) -> None:
    file = tmp_path / "mine.yaml"
    file.write_text(BUILD, "utf-8")

    done = run("answer", str(file), "--facts", lamps)

    assert (done.returncode, done.stderr) == (0, "")
    assert done.stdout.splitlines()[0].startswith("Works")
    assert "The front lamp and the feed return the same way, and the feed can carry it." in done.stdout
    assert "Facts edition 2026-11-25." in done.stdout


def test_the_json_answer_is_the_engine_s_own_from_a_file_or_from_standard_input(lamps: str, tmp_path: Path) -> None:
    file = tmp_path / "mine.yaml"
    file.write_text(BUILD, "utf-8")

    from_file = run("answer", "--json", str(file), "--facts", lamps)
    from_input = run("answer", "--json", "-", "--facts", lamps, said=BUILD)
    from_json = run(
        "answer",
        "--json",
        "-",
        "--facts",
        lamps,
        said=json.dumps(
            {
                "slots": {
                    "front_lamp": {"told": {"draw": 4, "return_path": "own_wire"}},
                    "lamp_feed": {"told": {"limit": 10, "return_path": "own_wire"}},
                }
            }
        ),
    )

    assert from_file.stdout == from_input.stdout == from_json.stdout
    answer = json.loads(from_file.stdout)
    assert answer["verdict"] == "works"
    assert from_file.stdout == json.dumps(answer, sort_keys=True, separators=(",", ":"), ensure_ascii=False) + "\n"


def test_a_worked_build_can_be_answered_from_its_own_file(lamps: str) -> None:
    done = run("answer", "--json", f"{lamps}/builds/bright-lamp-on-a-plain-feed.yaml", "--facts", lamps)

    assert done.returncode == 0
    assert json.loads(done.stdout)["verdict"] == "works"


BAD_BUILDS = [
    (
        "slots:\n  front_lmap: not_sure\n",
        "standard input:2  There is no slot 'front_lmap'.",
        "Did you mean 'front_lamp'?",
    ),
    (
        "slots:\n  front_lamp:\n    told: {drw: 4}\n",
        "standard input:3  There is no attribute 'drw'.",
        "Did you mean 'draw'?",
    ),
    (
        "slots:\n  front_lamp: {told: {return_path: hosing}}\n",
        "standard input:2  'hosing' is not a value of 'work_lamp.return_path'.",
        "Did you mean 'housing'?",
    ),
    (
        "slots:\n  front_lamp: {told: {draw: 400}}\n",
        "standard input:2  'draw' is 400.",
        "It lies between 0.5 and 40 A.",
    ),
    (
        "slots:\n  front_lamp: {told: {draw: four}}\n",
        "standard input:2  'draw' is 'four'.",
        "Write a number in A, or unknown.",
    ),
    (
        "slots:\n  trolley: {told: {wheel: big}}\n",
        "standard input:2  'wheel' is 'big'.",
        "or the size on the tyre, as in 225/60R16",
    ),
    (
        "slots:\n  front_lamp: {family: bright_lmp}\n",
        "standard input:2  There is no family 'bright_lmp' of the kind work_lamp.",
        "Did you mean 'bright_lamp'?",
    ),
    (
        "slots:\n  front_lamp: bright_lamp\n",
        "standard input:2  'slots, front_lamp' is 'bright_lamp'.",
        "Allowed: made_to_order, maybe, none, not_sure, open.",
    ),
    ("slot:\n  front_lamp: not_sure\n", "standard input:1  'slot' is not a key of a build.", "Did you mean 'slots'?"),
    (
        "slots: {front_lamp: not_sure}\nrelations:\n  - {came_togther: [front_lamp, lamp_feed]}\n",
        "standard input:3  A relation names none of them.",
        "Did you mean 'came_together'?",
    ),
    (
        "slots: {front_lamp: not_sure}\nwhole_swap: yes\n",
        "standard input:2  'whole_swap' is 'yes'.",
        "Allowed: true or false, without quotes.",
    ),
    ("slots: {front_lamp: not_sure\n", "YAML cannot read the file from here on.", "[not-yaml]"),
    ("", "standard input:1  The file is empty.", "[empty-file]"),
]


@pytest.mark.parametrize(("said", "what", "allowed"), BAD_BUILDS)
def test_a_build_that_cannot_be_read_is_refused_with_its_line(lamps: str, said: str, what: str, allowed: str) -> None:
    done = run("answer", "-", "--facts", lamps, said=said)

    assert (done.returncode, done.stdout) == (2, "")
    first = next(line for line in done.stderr.splitlines() if what in line)
    assert allowed in first
    assert "Traceback" not in done.stderr


BAD_WORDS = [
    (("answer", "nowhere.yaml"), "donorbook answer: nowhere.yaml cannot be read: No such file or directory.\n"),
    (("answer", "tests"), "donorbook answer: tests cannot be read: Is a directory.\n"),
    (
        ("answer",),
        "donorbook answer: the following arguments are required: BUILD.yaml. Run 'donorbook answer --help' for what it takes.\n",
    ),
    (
        ("serve", "--port", "many"),
        "donorbook serve: argument --port: 'many' is not a port; use a number from 1 to 65535. Run 'donorbook serve --help' for what it takes.\n",
    ),
    (
        ("check", "--fact", "x", "y"),
        "donorbook: unrecognized arguments: y. Run 'donorbook --help' for what it takes.\n",
    ),
    (
        ("check", "--facts", "nowhere"),
        "donorbook check: nowhere  There is no such folder of facts. Name a folder that holds a layer.yaml."
        " [no-layer-file] See DEVELOPERS.md#no-layer-file\n",
    ),
    (
        ("sum", "pulses_per_km_wheel", "teeth"),
        "donorbook sum: 'teeth' is not an input. Write each once, as name=value.\n",
    ),
]


@pytest.mark.parametrize(("words", "line"), BAD_WORDS)
def test_bad_usage_gives_one_line_and_status_2(words: tuple[str, ...], line: str) -> None:
    done = run(*words)

    assert (done.returncode, done.stdout, done.stderr) == (2, "", line)


@pytest.mark.parametrize(
    "words",
    [
        ("sum", "no_such_sum"),
        ("sum", "pulses_per_km_wheel", "teeth=many", "diameter_mm=700"),
        ("sum", "pulses_per_km_wheel", "teeth=40"),
    ],
)
def test_a_sum_that_cannot_be_worked_out_gives_one_line_and_status_2(words: tuple[str, ...]) -> None:
    done = run(*words)

    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("donorbook sum: ")
    assert done.stderr.count("\n") == 1


def test_a_sum_is_worked_out_with_its_formula_and_source() -> None:
    done = run("sum", "pulses_per_km_wheel", "teeth=48", "diameter_mm=205/55R16")

    assert done.returncode == 0
    assert "24\u00a0910\u00a0pulses/km" in done.stdout.splitlines()[0]  # arithmetic: 48 × 1 000 000 / (3.05 × 631.9)
    assert "Source (" in done.stdout


def test_facts_with_problems_answer_nothing(lamps: str) -> None:
    (Path(lamps) / "codes" / "P0562.yaml").write_text("code: P0562\n", "utf-8")

    done = run("answer", "-", "--facts", lamps, said=BUILD)

    assert (done.returncode, done.stdout) == (1, "")
    assert done.stderr.endswith("donorbook answer: 3 problems in the facts; nothing was done.\n")


def test_the_version_is_printed() -> None:
    assert run("--version").stdout == f"donorbook {VERSION}\n"


@pytest.mark.parametrize("command", ["check", "build", "serve", "answer", "coverage", "sum"])
def test_every_command_explains_itself_its_facts_and_its_exit_statuses(command: str) -> None:
    done = run(command, "--help")

    assert done.returncode == 0
    assert "--facts DIR" in done.stdout
    for status in (
        "0  done",
        "1  there are problems in the facts",
        "2  the command, a file or an input cannot be used",
    ):
        assert status in done.stdout


def test_no_command_at_all_prints_the_help_and_status_2() -> None:
    done = run()

    assert (done.returncode, done.stdout) == (2, "")
    assert "exit status:" in done.stderr


def test_coverage_shows_what_is_thin(lamps: str) -> None:
    done = run("coverage", "--facts", lamps)

    assert done.returncode == 0
    lines = done.stdout.splitlines()
    assert "  work_lamp.bracket" in lines
    assert "  isolating_mount: 0" in lines
    assert "  published: 3" in lines
    assert lines[lines.index("Checked longest ago:") + 1] == "  2026-10-02  kinds/work_lamp.plug"


def test_coverage_comes_as_one_json_object_too(lamps: str) -> None:
    done = run("coverage", "--json", "--facts", lamps)

    assert done.returncode == 0
    found = json.loads(done.stdout)
    assert found["few_families"] == ["front_lamp: 1", "isolating_mount: 0", "lamp_feed: 1", "rear_lamp: 1", "trolley: 0"]
    assert found["without_way"] == ["work_lamp.bracket"]
