"""The worked answers as pages: the same verdict as the engine's, readable without script, and every citation leads somewhere."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from tests.site.building import real_answers, real_book
from tests.site.reading import ReadPage, one_line
from wizard.engine import answer, load
from wizard.engine.address import from_address

WORDS = {"works": "Works", "works-with-additions": "Works with additions", "cannot-tell": "Cannot tell yet", "will-not-work": "Will not work"}
NAMES = sorted(real_book()["builds"])


def page_of(pages: dict[str, ReadPage], name: str) -> ReadPage:
    """Return the page of a worked answer."""
    return pages[f"answers/{name}/index.html"]


def test_there_is_a_page_for_each_worked_build(pages: dict[str, ReadPage]) -> None:
    assert len(NAMES) >= 6
    assert {name for name in NAMES if f"answers/{name}/index.html" in pages} == set(NAMES)


@pytest.mark.parametrize("name", NAMES)
def test_the_page_opens_with_the_verdict_in_words_outside_any_script(pages: dict[str, ReadPage], name: str) -> None:
    found, text = real_answers()[name], page_of(pages, name).text
    verdict = WORDS[found["verdict"]]

    assert found["headline"].startswith(verdict)
    assert one_line(found["headline"]) in text
    assert text.index(one_line(found["headline"])) < text.index("What this rests on")


@pytest.mark.parametrize("name", NAMES)
def test_the_page_holds_what_the_answer_holds(pages: dict[str, ReadPage], name: str) -> None:
    found, text = real_answers()[name], page_of(pages, name).text
    said = [*found["summary"], found["scope"]["text"], found["edition"]]
    said += [case["because"] for reason in found["reasons"] for case in reason["cases"]]
    said += [fact["text"].rstrip(".") for reason in found["reasons"] for case in reason["cases"] for fact in case["facts"]]
    said += [caution for reason in found["reasons"] for case in reason["cases"] for caution in case["cautions"]]
    said += [question["text"] for question in found["questions"]] + [one["title"] for one in found["scope"]["not_looked_at"]]
    said += [part for key in ("certain", "possible", "hold") for stop in found["stops"][key] for part in (stop["say"], stop["why"], stop["instead"])]
    said += [addition["do"] for addition in found["additions"]["certain"]]
    said += [addition["do"] for entry in found["additions"]["only_if"] for addition in entry["then"]]
    said += [total["shown"] for total in found["sums"]] + [total["formula"] for total in found["sums"]]

    assert [sentence for sentence in said if one_line(sentence) not in text] == []


@pytest.mark.parametrize("name", NAMES)
def test_stops_stand_before_the_parts_list_and_a_refused_plan_has_none(pages: dict[str, ReadPage], name: str) -> None:
    found, page = real_answers()[name], page_of(pages, name)
    ids = list(page.ids)
    stopped = any(found["stops"][key] for key in ("certain", "possible", "hold"))

    assert ("stops" in ids) == stopped
    if stopped and "parts" in ids:
        assert ids.index("stops") < ids.index("parts")
    if found["refused"]:
        assert "parts" not in ids


@pytest.mark.parametrize("name", NAMES)
def test_every_citation_of_the_answer_has_its_anchor(pages: dict[str, ReadPage], name: str) -> None:
    found = real_answers()[name]
    wanted = [(f"rules/{reason['rule']}/index.html", case["case"]) for reason in found["reasons"] for case in reason["cases"]]
    wanted += [("codes/index.html", code) for reason in found["reasons"] for case in reason["cases"] for code in case["codes"]]
    wanted += [("sources/index.html", one["source"]) for one in found["sources"]]
    wanted += [("stops/index.html", stop["stop"]) for key in ("certain", "possible", "hold") for stop in found["stops"][key]]
    wanted += [("subjects/index.html", one["subject"]) for one in found["subjects"]]
    wanted += [("additions/index.html", one["addition"]) for one in found["additions"]["certain"]]
    pages_only = [f"find-out/{one['find_out']}/index.html" for one in found["questions"] if one["find_out"]]
    pages_only += [f"sums/{real_book()['sums'][one['sum']]['function']}/index.html" for one in found["sums"]]

    assert len(wanted) > 3 or found["refused"]
    assert [(path, anchor) for path, anchor in wanted if anchor not in pages[path].ids] == []
    assert [path for path in pages_only if path not in pages] == []


@pytest.mark.parametrize("name", NAMES)
def test_the_link_to_the_check_carries_the_same_build(pages: dict[str, ReadPage], name: str) -> None:
    engine_book = load(json.dumps(real_book()))
    link = next(value for tag, _, value in page_of(pages, name).addresses if tag == "a" and "check/#" in value)
    build, not_used = from_address(engine_book, link.partition("#")[2])

    assert not_used == []
    assert json.loads(answer(engine_book, json.dumps(build))) == real_answers()[name]


def test_the_list_shows_each_verdict_in_words_and_the_home_page_some_of_each(pages: dict[str, ReadPage]) -> None:
    titles = {name: one_line(real_book()["builds"][name]["title"]) for name in NAMES}
    listed, home = pages["answers/index.html"].text, pages["index.html"].text
    shown = [name for name in NAMES if titles[name] in home]
    for text, names in ((listed, NAMES), (home, shown)):
        for name in names:
            here = text[text.rindex(titles[name]):][:600]

            assert WORDS[real_answers()[name]["verdict"]] in here
    assert {real_answers()[name]["verdict"] for name in shown} == {answer["verdict"] for answer in real_answers().values()}
    assert len(shown) < 12
    assert f"All {len(NAMES)} of them" in home


def test_the_page_about_the_facts_opens_with_how_little_is_tested(site: Path, pages: dict[str, ReadPage]) -> None:
    text = pages["about-facts/index.html"].text
    opening = re.search(r"About these facts ((?:All|Most|Some) of the .*? are invented\.)", text)[1]
    numbers = [int(found.replace("\u202f", "")) for found in re.findall(r"\d[\d\u202f]*", opening.partition("vehicle.")[0])]
    published = re.search(r"(None|\d+) rests? on a published document alone", opening)[1]

    assert "common practice" in opening[:200]
    assert "nobody has tested them on your vehicle" in opening[:300]
    assert numbers[0] == numbers[1] + numbers[2] + (0 if published == "None" else int(published))
