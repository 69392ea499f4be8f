"""What holds for every page of the built site."""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Iterable
from pathlib import Path

import brotli

from tests.site.building import real_book
from tests.site.reading import ReadPage, is_foreign, one_line, target

PAGE_LIMIT = 300_000
SECTIONS = {
    "kinds": "kind", "families": "family", "sets": "set", "offers": "offer", "rules": "rule", "stops": "stop", "additions": "addition",
    "subjects": "subject", "sums": "sum", "sources": "source", "find_out": "find_out", "codes": "code", "symptoms": "symptom", "terms": "term", "builds": "build",
    "slots": "slot", "faces": "face",
}
CHECK_ONLY = "check/index.html"


def test_no_page_asks_another_host_for_anything(pages: dict[str, ReadPage]) -> None:
    foreign = [(path, tag, value) for path, page in pages.items() for tag, _, value in page.addresses if is_foreign(value)]

    assert len(pages) > 100
    assert foreign == []


def test_no_style_or_script_of_ours_names_another_host(site: Path) -> None:
    ours = [file for folder in ("assets/style", "assets/check") for file in sorted((site / folder).glob("*.*"))]
    named = [(file.name, found) for file in ours for found in re.findall(r"(?:https?:)?//[a-z0-9.-]+\.[a-z]{2,}", file.read_text("utf-8"))
             if "www.w3.org" not in found]

    assert len(ours) >= 2
    assert named == []


def test_every_record_is_described_on_exactly_one_page(pages: dict[str, ReadPage]) -> None:
    book = real_book()
    wanted = {f"{kind}/{name}" for section, kind in SECTIONS.items() for name in book[section]} | {f"layer/{one['id']}" for one in book["layers"]}
    described = Counter(fact for page in pages.values() for fact in page.facts)

    assert {fact: count for fact, count in described.items() if count != 1} == {}
    assert set(described) == wanted


def test_each_rule_has_a_reference_page_and_each_such_page_a_rule(pages: dict[str, ReadPage]) -> None:
    found = {path for path in pages if re.fullmatch(r"rules/[^/]+/index\.html", path)}
    wanted = {f"rules/{name}/index.html": f"rule/{name}" for name in real_book()["rules"]}

    assert found == set(wanted)
    assert [path for path, fact in wanted.items() if fact not in pages[path].facts] == []


def test_every_link_leads_to_a_page_and_an_anchor_of_the_site(site: Path, pages: dict[str, ReadPage]) -> None:
    by_file = {page.path.resolve(): page for page in pages.values()}
    dead = []
    for path, page in pages.items():
        for tag, _, value in page.addresses:
            if tag != "a" or value.startswith("javascript:") or path == "404.html":
                continue
            file, anchor = target(page, site, value)
            if file not in by_file:
                dead.append((path, value))
            elif anchor and file != (site / CHECK_ONLY).resolve() and anchor not in by_file[file].ids:
                dead.append((path, value))

    assert dead == []


def test_every_style_script_and_icon_that_a_page_names_is_there(site: Path, pages: dict[str, ReadPage]) -> None:
    missing = [(path, value) for path, page in pages.items() if path != "404.html" for tag, _, value in page.addresses
               if tag in ("link", "script") and not (page.path.parent / value.split("?")[0]).resolve().exists()]

    assert missing == []


def test_every_page_has_one_heading_one_main_part_a_language_and_no_id_twice(pages: dict[str, ReadPage]) -> None:
    wrong = {path: (page.tags.count("h1"), page.tags.count("main"), page.language,
                    [one for one, count in Counter(page.ids).items() if count > 1]) for path, page in pages.items()}
    wrong = {path: found for path, found in wrong.items() if found != (1, 1, "en", [])}

    assert wrong == {}


def test_every_page_names_the_edition_of_the_facts(pages: dict[str, ReadPage]) -> None:
    edition = real_book()["edition"]

    assert [path for path, page in pages.items() if edition not in page.text and path != "404.html"] == []


def test_no_page_shows_the_marks_of_its_making(pages: dict[str, ReadPage]) -> None:
    """Markdown that was not turned into a page shows as brackets, stars or braces."""
    raw = re.compile(r"\]\(|\*\*|\{[#:]|\bmarkdown=|<!--|\.md\b|\(None|built-in method|\{\{|\{%")
    shown = {path: found[0] for path, page in pages.items() if (found := raw.search(page.text))}
    dangling = [(path, value) for path, page in pages.items() for _, _, value in page.addresses if re.search(r"\bNone\b|undefined", value)]

    assert dangling == []
    assert shown == {}


def test_every_page_about_something_invented_says_so(pages: dict[str, ReadPage]) -> None:
    book = real_book()
    paths = [f"parts/{family['kind']}/{name}/index.html" for name, family in book["families"].items() if family["invented"]]
    paths += [f"answers/{name}/index.html" for name, build in book["builds"].items() if build["invented"]]
    silent = [path for path in paths if "invented" not in pages[path].text.lower().replace("the invented shop", "")]

    assert len(paths) > 10
    assert silent == []


def test_every_reference_page_shows_when_it_was_checked_and_on_what_it_rests(pages: dict[str, ReadPage]) -> None:
    book = real_book()
    paths = [f"rules/{name}/index.html" for name in book["rules"]] + [f"parts/{name}/index.html" for name in book["kinds"]]
    paths += [f"sums/{one['function']}/index.html" for one in book["sums"].values()] + [f"find-out/{name}/index.html" for name in book["find_out"]]
    provenance = re.compile(r"Checked \d{1,2} [A-Z][a-z]+ 20\d\d( · )?.{0,4}(Published|Measured|Common practice|From memory|Invented)")

    assert [path for path in paths if not provenance.search(pages[path].text)] == []


def wire(files: Iterable[Path], known: dict[Path, int]) -> int:
    """Return the bytes of the files over the wire, each counted once; `known` keeps what was measured."""
    for file in files:
        if file not in known:
            known[file] = len(brotli.compress(file.read_bytes(), quality=5))
    return sum(known[file] for file in set(files))


def with_imports(file: Path) -> set[Path]:
    """Return a module and every module that it imports, as a browser loads them before it runs the first."""
    found: set[Path] = set()
    waiting = [file]
    while waiting:
        one = waiting.pop()
        if one in found:
            continue
        found.add(one)
        if one.suffix == ".mjs":
            waiting += [(one.parent / name).resolve() for name in re.findall(r"""^(?:import|export)\b[^"']*["'](\.[^"']+)["']""", one.read_text("utf-8"), re.MULTILINE)]
    return found


def test_every_page_is_light_enough_over_the_wire(site: Path, pages: dict[str, ReadPage]) -> None:
    """What a first visit loads: the page, and the styles, scripts and modules that it names; not what waits in a template."""
    known: dict[Path, int] = {}
    heavy, most_files = {}, 0
    for path, page in pages.items():
        named = {(page.path.parent / value).resolve() for tag, _, value in page.addresses if tag in ("link", "script") and value not in page.waiting}
        files = {one for file in {page.path, *named} if file.is_file() for one in with_imports(file)}
        most_files = max(most_files, len(files))
        total = wire(files, known)
        if total > PAGE_LIMIT:
            heavy[path] = total

    assert most_files > 20
    assert heavy == {}


def test_what_the_search_fetches_when_it_is_opened_is_light_enough(site: Path, pages: dict[str, ReadPage]) -> None:
    home = pages["index.html"]
    scripts = [home.path.parent / value for value in home.waiting]
    workers = sorted((site / "assets/javascripts/workers").glob("search.*.min.js"))

    assert len(scripts) == len(workers) == 1
    assert wire([*scripts, *workers, site / "search" / "search_index.json"], {}) <= PAGE_LIMIT


def test_the_reading_of_a_page_sees_foreign_addresses_and_hidden_text() -> None:
    """The checks above are only as good as the reader, so it is shown what they look for."""
    assert is_foreign("https://example.invalid/x.js")
    assert is_foreign("//example.invalid/x.js")
    assert not is_foreign("../check/#harness=open&note=a://b")
    assert one_line(" a\n  b ") == "a b"
