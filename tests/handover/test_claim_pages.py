"""The claim's pages: each opens from the bag alone, says what the tables say, grants nothing."""

from __future__ import annotations

import io
import re
from collections import Counter
from itertools import pairwise
from pathlib import Path
from posixpath import dirname, join, normpath
from urllib.parse import unquote, urlsplit

import pytest
from hypothesis import given
from hypothesis import strategies as st

from builderlog.deciding.claim_words import CAUTION
from builderlog.deciding.findings import find
from builderlog.deciding.words import duration_clock, first_upper
from builderlog.handover.claim_pages import MOST_LINKS, anchor, claim_pages
from builderlog.handover.guide import GUIDE_NAME
from builderlog.handover.tables import read_table
from builderlog.handover.verify import verify_bag
from builderlog.knowing.rulebook import Measure
from tests.drawing.page_reader import ReadPage, read_page
from tests.handover.odd_journal import AREA_IDS, ODD, RENAMED, TASK_IDS, odd_files, worklist
from tests.handover.small_journal import (
    FILES,
    JOURNAL,
    SECRET_WORDS,
    bag_of,
    png,
    read,
    write_journal,
)
from tests.sheets.claim_rows import GRANTING, PUBLISHED

EN_DASH = "\N{EN DASH}"
TABLE, ROW, CELL = (
    re.compile(rf"<{tag}\b.*?</{tag}>", re.DOTALL) for tag in ("table", "tr", "t[hd]")
)
OWN = (
    "rulebook: own\nown rulebook: {title: '<Ours>', measure: points, limit: at least 0.4, "
    "headings: {maker: 'A/B & <c>'}, form: A form}\n"
)


def with_files(root: Path, files: dict[str, bytes]) -> Path:
    """The bag of these files."""
    bag_of(write_journal(root / "journal", files), root / "bag")
    return root / "bag"


def small_bag(root: Path, **changes: str) -> Path:
    """The bag of the small journal with another rulebook line, or other notes by their names."""
    rulebook = changes.pop("rulebook", "rulebook: us-checklist\n")
    journal = JOURNAL.replace("rulebook: us-checklist\n", rulebook)
    more = {f"notes/{name}.md": text.encode() for name, text in changes.items()}
    return with_files(root, {**FILES, "journal.yaml": journal.encode(), **more})


@pytest.fixture
def odd_bag(tmp_path: Path) -> Path:
    """The bag of the journal with odd names and ids."""
    return with_files(tmp_path, odd_files())


def html_of(bag: Path) -> dict[str, str]:
    """The claim's pages by their path in the bag."""
    files = sorted((bag / "claim").glob("*"))
    return {f"claim/{file.name}": file.read_text(encoding="utf-8") for file in files}


def pages_of(bag: Path) -> dict[str, ReadPage]:
    """The same, read."""
    return {path: read_page(html) for path, html in html_of(bag).items()}


def strays_in(bag: Path) -> list[str]:
    """Links that lead to no file of the bag, or to no place on one of its pages."""
    pages = pages_of(bag)
    pages[GUIDE_NAME] = read_page((bag / GUIDE_NAME).read_text(encoding="utf-8"))
    return [
        f"{path}: {url}"
        for path, page in pages.items()
        for url in page.urls
        if not leads_somewhere(bag, pages, path, url)
    ]


def leads_somewhere(bag: Path, pages: dict[str, ReadPage], path: str, url: str) -> bool:
    """Whether a link is relative, stays in the bag and finds its file, and its place there."""
    parts = urlsplit(url)
    target = normpath(join(dirname(path), unquote(parts.path))) if parts.path else path
    if parts.scheme or parts.netloc or parts.query or target.startswith(".."):
        return False
    if not (bag / target).is_file():
        return False
    return not parts.fragment or pages[target].ids.count(unquote(parts.fragment)) == 1


def tables_on(html: str) -> list[list[list[str]]]:
    """Each table's rows of cells as plain words."""
    return [
        [[read_page(cell).text.strip() for cell in CELL.findall(row)] for row in ROW.findall(table)]
        for table in TABLE.findall(html)
    ]


def table_of(bag: Path, name: str) -> list[dict[str, str]]:
    """A table of the bag as rows by column."""
    header, *rows = read_table((bag / f"data/tables/{name}.csv").read_bytes())
    return [dict(zip(header, row, strict=True)) for row in rows]


def test_every_link_leads_to_a_file_of_the_bag(bag: Path) -> None:
    """Notes, pictures with other names in the bag, receipts named oddly, a sheet: all are found."""
    assert strays_in(bag) == []
    urls = {url for page in pages_of(bag).values() for url in page.urls}
    wanted = (
        "50%20_%20done-",
        "line_break-",
        "back_slash-",
        "receipts/a.txt",
        "other/tables/hours-",
    )
    assert [word for word in wanted if not any(word in url for url in urls)] == []


def test_odd_names_and_ids_are_found_too(odd_bag: Path) -> None:
    """Blanks, quotes, `#`, `%`, `?` and other scripts in names and ids break no link."""
    assert strays_in(odd_bag) == []
    assert verify_bag(odd_bag) == ()
    area = pages_of(odd_bag)["claim/area-all.html"]
    assert Counter(tag for tag, _ in area.elements)["section"] == len(TASK_IDS)
    named = [attributes["src"] for tag, attributes in area.elements if tag == "img"]
    assert len(named) == 2 * len(TASK_IDS)
    assert {ODD, RENAMED} & set(named) == set()


def test_a_link_that_leads_nowhere_is_found(bag: Path) -> None:
    """The test's own eye sees a file that is gone, a place that is not there, and an address."""
    (bag / "data/receipts/a.txt").unlink()
    page = bag / "claim/index.html"
    planted = '<a href="help.html#nowhere">x</a><img src="https://example.org/a.png">'
    page.write_text(page.read_text(encoding="utf-8") + planted, encoding="utf-8")
    told = {stray.rpartition("/")[2] for stray in strays_in(bag)}
    assert told == {"a.txt", "a.png", "index.html: help.html#nowhere"}


@pytest.mark.parametrize("which", ["bag", "odd_bag"])
def test_every_page_is_well_formed(which: str, request: pytest.FixtureRequest) -> None:
    """One heading of the first level, none that skips a level, unique ids, every tag closed."""
    for path, page in pages_of(request.getfixturevalue(which)).items():
        levels = [level for level, _ in page.headings]
        assert levels.count(1) == 1, path
        assert all(after - before <= 1 for before, after in pairwise(levels)), path
        assert len(set(page.ids)) == len(page.ids), path
        assert page.unclosed == [], path


def test_the_builders_words_are_no_markup(odd_bag: Path) -> None:
    """Signs of HTML in titles, ids, captions and entries stand on the page as they were written."""
    allowed = set(
        "a body br dd div dl dt h1 h2 h3 h4 head html img li main meta nav p section span strong"
        " style table tbody td th thead title tr ul wbr".split()
    )
    for path, page in pages_of(odd_bag).items():
        assert {tag for tag, _ in page.elements} <= allowed, path
        assert Counter(tag for tag, _ in page.elements)["style"] == 1, path
        assert "</style><b>Odd</b> & sons" in page.text, path
    words = pages_of(odd_bag)["claim/area-all.html"].text
    assert '"><img src=x>' in words
    assert "<u>4</u>" in words
    assert all(task.replace("\u2028", "") in words for task in TASK_IDS)


def test_areas_whose_ids_are_alike_have_pages_of_their_own(odd_bag: Path) -> None:
    """Ids that differ in case, sign or length alone, devices' names, dots: each has a safe file."""
    names = [path.removeprefix("claim/") for path in html_of(odd_bag)]
    assert len(names) == len(AREA_IDS) + 4
    assert len({name.casefold() for name in names}) == len(names)
    assert [name for name in names if not re.fullmatch(r"[a-z0-9-]{1,90}\.html", name)] == []
    assert '<th scope="row">In all</th>' in html_of(odd_bag)["claim/index.html"]
    links = [row[0] for row in tables_on(html_of(odd_bag)["claim/index.html"])[0][1:]]
    assert [link.partition("<i>")[0].strip() for link in links] == ["All", *AREA_IDS, "In all"]


@given(st.text(max_size=8), st.text(max_size=8))
def test_no_two_tasks_share_a_place(one: str, other: str) -> None:
    """Two ids have one anchor only where they are the same id, and it needs no escaping."""
    assert (anchor(one) == anchor(other)) is (one == other)
    assert re.fullmatch(r"task-[A-Za-z0-9._-]*", anchor(one))


@pytest.mark.parametrize(("one", "other"), [("a/", "a.2f"), ("a.", "a.2e"), ("W1", "w1")])
def test_ids_that_look_like_anchors_are_kept_apart(one: str, other: str) -> None:
    """An id that is written as another's anchor is, has another anchor all the same."""
    assert anchor(one) != anchor(other)


def test_two_hundred_tasks_each_have_their_place(tmp_path: Path) -> None:
    """A long work list is whole: a row and a section for every task, links to each of them."""
    ids = [f"T{number}" for number in range(200)]
    areas = [("One", ids[:150]), ("Two", ids[150:])]
    files = {"journal.yaml": JOURNAL.encode(), "worklist.yaml": worklist(areas)}
    bag = with_files(tmp_path, {**files, "papers/bill.txt": b"a bill"})
    assert strays_in(bag) == []
    found = [pages_of(bag)[f"claim/area-{name}.html"].ids for name in ("one", "two")]
    assert [len(each) for each in found] == [150, 50]


RULEBOOK_LINES = [f"rulebook: {name}\nkit hours: 3h\n" for name in PUBLISHED] + [OWN]


@pytest.mark.parametrize("rulebook", RULEBOOK_LINES)
def test_every_page_names_the_rulebook_and_grants_nothing(tmp_path: Path, rulebook: str) -> None:
    """Rulebook and all cautions stand on every page, and no word says that a claim is granted."""
    bag = small_bag(tmp_path, rulebook=rulebook)
    _, ledger = read(tmp_path / "journal")
    assert ledger.rulebook
    for path, page in pages_of(bag).items():
        words = " ".join(page.text.split())
        assert ledger.rulebook.title in words, path
        for caution in (*ledger.rulebook.cautions, CAUTION):
            assert caution in words, path
        assert [word for word in GRANTING if word in words.lower()] == [], path
    assert strays_in(bag) == []
    assert verify_bag(bag) == ()


@pytest.mark.parametrize("rulebook", RULEBOOK_LINES)
def test_the_count_is_that_of_the_table(tmp_path: Path, rulebook: str) -> None:
    """Row by row the front page's numbers are those of claim.csv in the same bag."""
    bag = small_bag(tmp_path, rulebook=rulebook)
    _, ledger = read(tmp_path / "journal")
    assert ledger.rulebook
    hours = ledger.rulebook.measure is Measure.HOURS
    header, *rows = tables_on(html_of(bag)["claim/index.html"])[0]
    assert len(header) == 8
    told = table_of(bag, "claim")
    assert len(rows) == len(told) == 2
    for (title, tasks, *columns, share), row in zip(rows, told, strict=True):
        assert (title, tasks) == (first_upper(f"{row['area']} {row['name']}".strip()), row["tasks"])
        sides = ("maker", "paid", "assembly", "fabrication", "unclaimed")
        expected = [row[side] for side in sides]
        if hours:
            expected = [duration_clock(round(float(cell) * 3600)) for cell in expected]
        assert columns == expected
        percent = f"{float(row['share']) * 100:.1f}\N{NO-BREAK SPACE}%" if row["share"] else EN_DASH
        assert share.replace(" %", "\N{NO-BREAK SPACE}%") == percent


def test_the_tasks_are_those_of_the_table(bag: Path) -> None:
    """On an area's page each task's columns are those of claim_tasks.csv in the same bag."""
    rows = {row[0].split()[0]: row[1:] for row in tables_on(html_of(bag)["claim/area-w.html"])[0]}
    sides = ("maker", "paid", "assembly", "fabrication", "unclaimed")
    for row in table_of(bag, "claim_tasks"):
        assert rows[row["task"]] == [row[side] for side in sides]


def test_help_is_that_of_the_table(bag: Path) -> None:
    """The page of help has the table's rows in its order, with the same hours and minutes."""
    _, *rows = tables_on(html_of(bag)["claim/help.html"])[0]
    assert [(row[0], row[1], row[4]) for row in rows] == [
        (row["kind"], row["who"], row["h:mm"]) for row in table_of(bag, "help")
    ]
    assert rows


def test_gaps_are_those_of_the_table(bag: Path) -> None:
    """The page of what is missing has the table's rows, each with a link to its file."""
    page = html_of(bag)["claim/gaps.html"]
    _, *rows = tables_on(page)[0]
    assert [(row[0], row[1]) for row in rows] == [
        (row["weight"], row["told"]) for row in table_of(bag, "gaps")
    ]
    assert page.count('href="../data/worklist.yaml"') == sum(
        row["path"] == "worklist.yaml" for row in table_of(bag, "gaps")
    )


def test_hours_only_leaves_nothing_but_time(tmp_path: Path) -> None:
    """Of a hidden note that says everything of a task no word, name or file is on any page."""
    hidden = (
        "---\ntitle: Secret\nhours: {Ines: 2h, Osk: 1h}\nplace: Secret\n"
        "tasks: [{task: W15, hours: 2h, per: secret}, {task: W15, hours: 1h, who: Osk}]\n"
        "measured: {what: secret}\ntorqued: {where: secret}\nprocess: {what: secret}\n"
        "snags: {snag: secret, task: W15}\nvisits: {who: Secret, looked at: W15}\n"
        "away: {what: secret, task: W15, with: Secret, as: paid}\n"
        "parts: {part: secret, for: W15, receipt: receipts/secret.txt}\n"
        "photos: {photo: photos/secret.png, shows: W15, seen: Secret, caption: secret}\n"
        "private: hours only\n---\nSecret words.\n"
    )
    bag = small_bag(tmp_path, **{"2026-05-01-secret": hidden})
    for path, html in html_of(bag).items():
        assert [word for word in SECRET_WORDS if word in html.encode()] == [], path
    words = pages_of(bag)["claim/area-w.html"].text
    assert "2026-05-01" in words
    assert "Osk 1\N{NO-BREAK SPACE}h" in words
    assert "2026-05-01-time-only.md" in html_of(bag)["claim/help.html"]


def test_the_explanation_of_a_hidden_gap_is_no_new_doubt(tmp_path: Path) -> None:
    """A gap that went with its hidden note leaves no doubt behind about its explanation."""
    answers = 'answers: [{gap: "photos/secret.png", because: It is ours}]\n'
    bag = small_bag(tmp_path, rulebook=f"rulebook: us-checklist\n{answers}")
    codes = {row["code"] for row in table_of(bag, "gaps")}
    assert "answer-to-nothing" not in codes
    assert "no gap says" not in html_of(bag)["claim/gaps.html"]


def test_without_a_rulebook_there_is_no_page(tmp_path: Path) -> None:
    """No folder of pages, no link to one, and the claim's table has its headings alone."""
    bag = small_bag(tmp_path, rulebook="")
    assert not (bag / "claim").exists()
    assert "claim/" not in (bag / GUIDE_NAME).read_text(encoding="utf-8")
    assert table_of(bag, "claim") == []
    assert verify_bag(bag) == ()


def test_pages_that_are_no_longer_made_are_gone(tmp_path: Path) -> None:
    """A journal that drops its rulebook drops the pages from its next bag, which is whole."""
    bag = small_bag(tmp_path)
    assert (bag / "claim/index.html").is_file()
    assert small_bag(tmp_path, rulebook="") == bag
    assert html_of(bag) == {}
    assert verify_bag(bag) == ()


def test_a_journal_without_a_work_list(tmp_path: Path) -> None:
    """All tasks that notes name stand on one page; the front page says that no share is told."""
    files = {path: data for path, data in FILES.items() if path != "worklist.yaml"}
    bag = with_files(tmp_path, files)
    assert set(html_of(bag)) == {
        *("claim/index.html", "claim/help.html", "claim/gaps.html", "claim/area-all-tasks.html"),
    }
    assert strays_in(bag) == []
    front = pages_of(bag)["claim/index.html"].text
    assert "no share can be told" in front
    assert "W14" in pages_of(bag)["claim/area-all-tasks.html"].text


def test_hours_say_why_an_area_has_no_share(tmp_path: Path) -> None:
    """By hours the front page has a dash for an area's share, and a sentence says why."""
    bag = small_bag(tmp_path, rulebook="rulebook: france-hours\nkit hours: 3h\n")
    area, whole = tables_on(html_of(bag)["claim/index.html"])[0][1:]
    assert (area[-1], whole[2]) == (EN_DASH, "3:00")
    assert "for the whole kit" in pages_of(bag)["claim/index.html"].text
    assert 'class="count"' not in html_of(bag)["claim/area-w.html"]


def test_derived_marks_are_shown_as_derived(tmp_path: Path) -> None:
    """By marks a task whose marks nobody gave says so; the front page counts such tasks."""
    bag = small_bag(tmp_path, rulebook="rulebook: us-8000-38\n")
    rows = [row[0] for row in tables_on(html_of(bag)["claim/area-w.html"])[0]]
    assert rows[1] == "W14 Aileron skins (marks derived)"
    assert "derived" not in rows[2]
    assert "1 of 2 tasks the marks follow" in pages_of(bag)["claim/index.html"].text


def test_a_task_with_many_notes_links_the_first_and_the_table(tmp_path: Path) -> None:
    """Beyond ten notes an answer names how many more there are and links the table of all."""
    notes = {
        f"2026-05-{day:02}": "---\nhours: 1h\ntasks: W15\n---\n" for day in range(1, MOST_LINKS + 3)
    }
    bag = small_bag(tmp_path, **notes)
    assert strays_in(bag) == []
    words = " ".join(pages_of(bag)["claim/area-w.html"].text.split())
    named = len(table_of(bag, "claim_answers")[6]["notes"].split("; "))
    assert named > MOST_LINKS
    assert f" and {named - MOST_LINKS} more in claim_answers.csv]" in words


def test_a_picture_of_a_kind_that_browsers_lack_is_only_linked(tmp_path: Path) -> None:
    """A HEIC picture is no broken image: its path is a link, and its words stand beside it."""
    import pillow_heif
    from PIL import Image

    out = io.BytesIO()
    pillow_heif.from_pillow(Image.new("RGB", (16, 16), "grey")).save(out)
    note = "---\nphotos: {photo: photos/a b.HEIC, shows: [W15], caption: Phone}\n---\n"
    files = {**FILES, "photos/a b.HEIC": out.getvalue(), "notes/2026-05-01.md": note.encode()}
    page = pages_of(with_files(tmp_path, files))["claim/area-w.html"]
    sources = [attributes["src"] for tag, attributes in page.elements if tag == "img"]
    assert not [source for source in sources if source.endswith("HEIC")]
    assert "../data/photos/a%20b.HEIC" in page.urls
    assert "not every browser shows this kind" in page.text


def test_an_area_that_is_not_on_the_aircraft_has_a_page_and_no_count(tmp_path: Path) -> None:
    """Where no task of an area applies, its page shows them as N/A, and the count leaves it out."""
    areas = b"  - area: F\n    tasks: [{task: F1, applies: no}]\n"
    bag = with_files(tmp_path, {**FILES, "worklist.yaml": FILES["worklist.yaml"] + areas})
    assert tables_on(html_of(bag)["claim/area-f.html"])[0][1] == ["F1", *["N/A"] * 5]
    assert [row[0] for row in tables_on(html_of(bag)["claim/index.html"])[0]] == [
        *("Area", "W Wings", "In all"),
    ]
    assert strays_in(bag) == []


def test_the_same_journal_gives_the_same_pages(journal: Path, tmp_path: Path) -> None:
    """Another folder, another order of files, found before or found anew: not a byte differs."""
    _, ledger = read(journal)
    _, other = read(write_journal(tmp_path / "b", dict(reversed(FILES.items()))))
    pages = claim_pages(ledger, {})
    assert claim_pages(other, {}, find(other)) == pages
    assert all(page.endswith(b"</html>\n") and b"\r" not in page for page in pages.values())


@pytest.mark.parametrize("page", ["claim/index.html", "claim/area-w.html", "claim/gaps.html"])
def test_a_changed_page_is_found(bag: Path, page: str) -> None:
    """One figure changed on a page is a changed file to `verify`, and not what the notes give."""
    file = bag / page
    file.write_bytes(file.read_bytes().replace(b"more than 50", b"more than 40") + b" ")
    faults = {(fault.path, fault.code) for fault in verify_bag(bag)}
    assert faults == {(page, "changed"), (page, "page")}


def test_added_and_missing_pages_are_found(bag: Path) -> None:
    """A page put in, one taken away and one renamed are each told."""
    (bag / "claim/area-x.html").write_bytes(b"<p>Granted.</p>")
    (bag / "claim/help.html").rename(bag / "claim/Help.html")
    assert {(fault.path, fault.code) for fault in verify_bag(bag)} >= {
        ("claim/area-x.html", "unlisted"),
        ("claim/Help.html", "unlisted"),
        ("claim/help.html", "missing"),
    }


def test_pages_lie_beside_the_payload(bag: Path) -> None:
    """No page stands below data/, where only the journal's files and the tables are."""
    listed = (bag / "manifest-sha256.txt").read_text(encoding="utf-8")
    tags = (bag / "tagmanifest-sha256.txt").read_text(encoding="utf-8")
    assert "  claim/" not in listed
    assert [path for path in html_of(bag) if f"  {path}\n" not in tags] == []


def test_a_tiny_journal_has_all_its_pages(tmp_path: Path) -> None:
    """A journal without a note and a work list has its front page, help and gaps, and no area."""
    tiny = "title: T\nbuilder: Ines\npeople: {Ines: builder}\nrulebook: eu\n"
    bag = with_files(tmp_path, {"journal.yaml": tiny.encode(), "photos/a.png": png(1)})
    assert set(html_of(bag)) == {"claim/index.html", "claim/help.html", "claim/gaps.html"}
    assert "None is on record." in pages_of(bag)["claim/help.html"].text
    assert strays_in(bag) == []
