"""The set-up: locks that hold, fallbacks in their order, and words where nothing is left to try."""

from __future__ import annotations

import json
import re
import subprocess
import sys
import tomllib
from collections.abc import Sequence
from pathlib import Path

import pytest

from build_tools.setup import browser, debian, environment, node, steps
from build_tools.setup.parts import MADE, PARTS, clean, main
from build_tools.setup.steps import SetupFailed
from tests.conftest import area_of

PROJECT = Path(__file__).resolve().parent.parent
LOCKS = ("requirements-setup", "requirements-node", "requirements", "requirements-test")


def pins(name: str) -> dict[str, set[str]]:
    """Return the versions that a lock pins, by name in lower case with hyphens; some have one for each Python."""
    found: dict[str, set[str]] = {}
    for line in (PROJECT / f"{name}.lock").read_text().splitlines():
        if line and not line.startswith((" ", "#")):
            package, version = re.fullmatch(r"([A-Za-z0-9._-]+)==([^ ;]+)(?: ;.*?)? \\", line).groups()
            found.setdefault(re.sub(r"[._]", "-", package).lower(), set()).add(version)
    return found


def wanted(name: str) -> set[str]:
    lines = (PROJECT / f"{name}.in").read_text().splitlines()
    return {re.split(r"[=<>]", line)[0].lower() for line in lines if line and not line.startswith(("#", "-"))}


@pytest.mark.parametrize("name", LOCKS)
def test_each_lock_pins_exact_versions_with_hashes_and_names_no_index(name: str) -> None:
    text = (PROJECT / f"{name}.lock").read_text()
    blocks = re.split(r"\n(?=[A-Za-z0-9])", "\n" + text)[1:]

    assert len(blocks) == sum(len(versions) for versions in pins(name).values())
    assert all("--hash=sha256:" in block for block in blocks)
    assert not re.search(r"https?:|--(extra-)?index|--find-links|--trusted", text)


@pytest.mark.parametrize("name", LOCKS)
def test_each_lock_holds_what_its_list_asks_for(name: str) -> None:
    assert wanted(name) - set(pins(name)) == set()


def test_the_tests_run_on_the_very_versions_that_the_site_is_built_with() -> None:
    site, tests = pins("requirements"), pins("requirements-test")
    shared = set(site) & set(tests)

    assert len(shared) > 3
    assert {name for name in shared if site[name] != tests[name]} == set()


def test_the_package_asks_for_what_the_site_s_list_asks_for() -> None:
    project = tomllib.loads((PROJECT / "pyproject.toml").read_text())["project"]
    listed = [line for line in (PROJECT / "requirements.in").read_text().splitlines() if line and not line.startswith("#")]

    assert sorted(project["dependencies"]) == sorted(listed)


def test_the_browser_s_python_is_one_exact_version_and_its_lock_names_no_address() -> None:
    asked = json.loads((PROJECT / "package.json").read_text())["dependencies"]
    text = (PROJECT / "package-lock.json").read_text()
    held = json.loads(text)["packages"]

    assert re.fullmatch(r"\d+\.\d+\.\d+", asked["pyodide"])
    assert held["node_modules/pyodide"]["version"] == asked["pyodide"]
    assert all(entry["integrity"].startswith("sha512-") for name, entry in held.items() if name)
    assert "resolved" not in text and "http" not in text
    assert "omit-lockfile-registry-resolved=true" in (PROJECT / ".npmrc").read_text().splitlines()


def test_ci_only_makes_the_tests() -> None:
    lines = (PROJECT / ".ci" / "run").read_text().splitlines()

    assert [line for line in lines if line and not line.startswith(("#", "set ", "cd "))] == ["exec make test"]


def test_an_old_python_gets_words() -> None:
    script = "import sys, runpy; sys.version_info = (3, 9, 1); runpy.run_module('build_tools.setup', run_name='__main__')"
    done = subprocess.run([sys.executable, "-c", script], cwd=PROJECT, capture_output=True, text=True, check=False)

    assert done.returncode == 1
    assert done.stderr == "Donorbook needs Python 3.11 or newer; this is 3.9. Run: make PYTHON=python3.11\n"


def test_an_unknown_part_is_refused_with_the_list(capsys: pytest.CaptureFixture[str]) -> None:
    status = main(["nonsense"])

    assert status == 2
    assert capsys.readouterr().err == f"Parts to bring: {', '.join(PARTS)}. Not known: nonsense.\n"


def test_a_step_that_fails_quotes_the_command_its_end_and_the_advice() -> None:
    command = [sys.executable, "-c", "print('first'); print('last words'); raise SystemExit(3)"]

    with pytest.raises(SetupFailed) as failure:
        steps.step("Trying", command, advice="Try the other way.")

    words = str(failure.value).splitlines()
    assert words[0] == "Trying: failed."
    assert words[1].startswith("  Command: ")
    assert words[-2:] == ["    last words", "  Try the other way."]


def test_a_program_that_is_not_there_is_a_failed_step_too() -> None:
    with pytest.raises(SetupFailed, match="no-such-program"):
        steps.step("Trying", ["no-such-program"])


class Record:
    """Stands in for `step`: remembers what would have been run, and fails what it is told to."""

    def __init__(self, failing: str = "nothing") -> None:
        self.ran: list[str] = []
        self.failing = failing

    def __call__(self, what: str, command: Sequence[object], **_: object) -> None:
        self.ran.append(" ".join(str(part) for part in command))
        if self.failing in self.ran[-1]:
            raise SetupFailed(what)


def machine(monkeypatch: pytest.MonkeyPatch, *, ensurepip: bool, pip: bool, apt: bool, failing: str = "nothing") -> Record:
    """Make the set-up see a machine that has or lacks these."""

    def works(command: Sequence[object], timeout: float = 60) -> bool:
        words = " ".join(str(part) for part in command)
        if "ensurepip" in words:
            return ensurepip
        return pip and "-m pip" in words or words.endswith("import venv")

    record = Record(failing)
    monkeypatch.setattr(environment, "works", works)
    monkeypatch.setattr(environment, "step", record)
    monkeypatch.setattr(environment, "can_apt", lambda: apt)
    monkeypatch.setattr(environment, "apt_install", lambda packages: record("apt", ["apt", *packages]))
    monkeypatch.setattr(environment, "bring_pip", lambda *_: record("pip", ["bring pip"]))
    monkeypatch.setattr(environment.sys, "executable", "/usr/bin/python3")
    return record


def test_a_whole_python_makes_the_environment_in_one_go(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    record = machine(monkeypatch, ensurepip=True, pip=True, apt=True)
    environment.make_environment(tmp_path)

    assert record.ran == [f"/usr/bin/python3 -m venv {tmp_path}/.venv"]


def test_without_ensurepip_the_machine_s_pip_fills_in(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    record = machine(monkeypatch, ensurepip=False, pip=True, apt=True)
    environment.make_environment(tmp_path)

    assert record.ran == [f"/usr/bin/python3 -m venv --without-pip {tmp_path}/.venv", "bring pip"]


def test_an_environment_that_fails_half_way_falls_back_as_well(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    whole = f"-m venv {tmp_path}"
    record = machine(monkeypatch, ensurepip=True, pip=True, apt=False, failing=whole)
    environment.make_environment(tmp_path)

    assert record.ran[1:] == [f"/usr/bin/python3 -m venv --without-pip {tmp_path}/.venv", "bring pip"]


def test_without_either_debian_s_packages_are_asked(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    record = machine(monkeypatch, ensurepip=False, pip=False, apt=True)
    environment.make_environment(tmp_path)

    assert record.ran == ["apt python3-venv python3-pip", f"/usr/bin/python3 -m venv {tmp_path}/.venv"]


def test_with_nothing_left_to_try_the_exact_command_is_printed(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    machine(monkeypatch, ensurepip=False, pip=False, apt=False)

    with pytest.raises(SetupFailed, match="sudo apt-get install python3-venv python3-pip"):
        environment.make_environment(tmp_path)


def test_a_lock_is_installed_once_and_again_when_it_changes(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    record = machine(monkeypatch, ensurepip=True, pip=True, apt=True)
    monkeypatch.setattr(environment, "make_environment", lambda project: project / "python")
    for name in ("requirements-setup.lock", "requirements.lock"):
        (tmp_path / name).write_text("one")
    for text in ("one", "one", "two"):
        (tmp_path / "requirements.lock").write_text(text)
        environment.fill(tmp_path, "requirements.lock", "things")
    installed = [command.rsplit("/", 1)[1] for command in record.ran]

    assert installed == ["requirements-setup.lock", "requirements.lock", "requirements.lock"]
    assert all("--require-hashes" in command and "--no-build-isolation" in command for command in record.ran)


def test_without_npm_the_locked_package_brings_it(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    filled: list[str] = []
    monkeypatch.setattr(node.shutil, "which", lambda name: None)
    monkeypatch.setattr(node, "fill", lambda project, lock, what: filled.append(lock))
    folder = node.npm_folder(tmp_path)

    assert filled == ["requirements-node.lock"]
    assert folder == tmp_path / ".venv" / "bin"


def test_a_node_that_is_too_old_counts_as_absent(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    filled: list[str] = []
    monkeypatch.setattr(node.shutil, "which", lambda name: f"/usr/bin/{name}")
    monkeypatch.setattr(node, "node_major", lambda program: 12)
    monkeypatch.setattr(node, "fill", lambda project, lock, what: filled.append(lock))
    node.npm_folder(tmp_path)

    assert filled == ["requirements-node.lock"]


def test_a_browser_that_is_named_and_does_not_start_is_not_passed_over(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    monkeypatch.setenv(browser.CHOICE, "/no/such/browser")

    assert browser.find_browser() is None
    with pytest.raises(SetupFailed, match="DONORBOOK_BROWSER names /no/such/browser, which does not start."):
        browser.bring_browser(tmp_path)


def test_without_a_browser_debian_then_the_driver_are_tried_then_words(monkeypatch: pytest.MonkeyPatch, tmp_path: Path) -> None:
    tried: list[str] = []

    def refuse(what: str, *_: object, **__: object) -> None:
        tried.append(str(what))
        raise SetupFailed("refused")

    monkeypatch.delenv(browser.CHOICE, raising=False)
    monkeypatch.setattr(browser, "find_browser", lambda: None)
    monkeypatch.setattr(browser, "can_apt", lambda: True)
    monkeypatch.setattr(browser, "apt_install", refuse)
    monkeypatch.setattr(browser, "step", refuse)

    with pytest.raises(SetupFailed, match="sudo apt-get install chromium"):
        browser.bring_browser(tmp_path)
    assert tried == ["['chromium']", "Downloading a Chromium"]


def test_missing_test_programs_are_named_with_the_command(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(debian.shutil, "which", lambda name: None)
    monkeypatch.setattr(debian, "can_apt", lambda: False)

    with pytest.raises(SetupFailed, match="sudo apt-get install ngspice units"):
        debian.bring_programs()


def test_make_clean_removes_what_was_made_and_nothing_else(tmp_path: Path) -> None:
    for name in (*MADE, "facts"):
        (tmp_path / name / "deep").mkdir(parents=True)
        (tmp_path / name / "deep" / "file").write_text("held")
    clean(tmp_path)

    assert [path.name for path in tmp_path.iterdir()] == ["facts"]


def test_the_tools_that_tests_call_are_there() -> None:
    assert all(steps.works([program.name, "--version"]) for program in debian.PROGRAMS)
    assert (PROJECT / debian.CODE_TABLE).is_file()


@pytest.mark.parametrize(
    ("node_id", "area"),
    [
        ("tests/engine/test_space.py::test_a", "engine"),
        ("tests/test_bundle.py::test_b[c::d]", "bundle"),
        ("tests/outside/deep/test_e.py::test_f", "outside"),
    ],
)
def test_time_is_summed_by_area(node_id: str, area: str) -> None:
    assert area_of(node_id) == area
