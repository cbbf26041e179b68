"""The binder in a bag: it opens from the bag alone, says what the tables say, grants nothing."""

from __future__ import annotations

import io
import re
from collections import Counter
from dataclasses import dataclass
from itertools import pairwise
from pathlib import Path
from posixpath import dirname, join, normpath
from urllib.parse import unquote, urlsplit

import pytest

from builderlog.deciding.claim_words import CAUTION
from builderlog.deciding.findings import find
from builderlog.deciding.words import duration_clock, first_upper
from builderlog.handover.binder import BINDER_FRONT, binder_pages
from builderlog.handover.first_page import FIRST_PAGE
from builderlog.handover.inspector import inspector_view
from builderlog.handover.tables import all_sheets, read_table, table_files
from builderlog.handover.verify import verify_bag
from builderlog.knowing.journal import read_journal
from builderlog.knowing.ledger import Ledger
from builderlog.knowing.rulebook import Measure
from builderlog.sheets.chapter import anchor
from builderlog.sheets.chapter_front import FOOT
from builderlog.sheets.dossier import dossier
from tests.drawing.page_reader import ReadPage, read_page
from tests.handover.odd_journal import AREA_IDS, TASK_IDS, odd_files, worklist
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

pytestmark = pytest.mark.slow

DOCUMENT = "dossier.pdf"
EN_DASH = "\N{EN DASH}"
CLAIM, WINGS, HELP, MISSING = (
    f"binder/{name}.html" for name in ("claim", "area-w", "help", "missing")
)
TABLE, ROW, CELL = (
    re.compile(rf"<{tag}\b.*?</{tag}>", re.DOTALL) for tag in ("table", "tr", "t[hd]")
)
OWN = (
    "rulebook: own\nown rulebook: {title: '<Ours>', measure: points, limit: at least 0.4, "
    "headings: {maker: 'A/B & <c>'}, form: A form}\n"
)
RULEBOOK_LINES = [f"rulebook: {name}\nkit hours: 3h\n" for name in PUBLISHED] + [OWN]


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


@dataclass
class Made:
    """Pages and tables by their paths, made without a bag: no picture drawn, nothing typeset."""

    pages: dict[str, str]
    tables: dict[str, bytes]
    ledger: Ledger

    def words(self, path: str) -> str:
        """All words of a page with single blanks."""
        return " ".join(read_page(self.pages[path]).text.split())

    def table_on(self, path: str, first: str, second: str) -> list[list[str]]:
        """The rows of the table that begins with these two headings."""
        return next(
            rows[1:] for rows in tables_on(self.pages[path]) if rows[0][:2] == [first, second]
        )

    def table(self, name: str) -> list[dict[str, str]]:
        """A table as rows by column."""
        return by_column(self.tables[f"tables/{name}.csv"])


def made_of(root: Path, **changes: str) -> Made:
    """What the small journal gives with another rulebook line."""
    journal = JOURNAL.replace("rulebook: us-checklist\n", changes["rulebook"])
    folder, ledger = read(write_journal(root, {**FILES, "journal.yaml": journal.encode()}))
    seen = read_journal(inspector_view(folder, ledger))
    found = find(seen)
    pages = binder_pages(dossier(found), seen, {})
    html = {path: data.decode() for path, data in pages.items() if path.endswith(".html")}
    return Made(html, table_files(all_sheets(seen, {}, found)), seen)


def html_of(bag: Path) -> dict[str, str]:
    """The binder's pages by their path in the bag."""
    files = sorted((bag / "binder").glob("*.html"))
    return {f"binder/{file.name}": file.read_text(encoding="utf-8") for file in files}


def pages_of(bag: Path) -> dict[str, ReadPage]:
    """The same, read."""
    return {path: read_page(html) for path, html in html_of(bag).items()}


def words_of(bag: Path, path: str) -> str:
    """All words of a page with single blanks."""
    return " ".join(pages_of(bag)[path].text.split())


def strays_in(bag: Path) -> list[str]:
    """Links that lead to no file of the bag, or to no place on one of its pages."""
    pages = pages_of(bag)
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


def table_on(bag: Path, path: str, first: str, second: str) -> list[list[str]]:
    """The rows of the table that begins with these two headings."""
    tables = tables_on(html_of(bag)[path])
    return next(rows[1:] for rows in tables if rows[0][:2] == [first, second])


def table_of(bag: Path, name: str) -> list[dict[str, str]]:
    """A table of the bag as rows by column."""
    return by_column((bag / f"data/tables/{name}.csv").read_bytes())


def by_column(data: bytes) -> list[dict[str, str]]:
    """The rows of a table as cells by column."""
    header, *rows = read_table(data)
    return [dict(zip(header, row, strict=True)) for row in rows]


def test_every_link_leads_to_a_file_of_the_bag(bag: Path) -> None:
    """Notes, pictures with other names in the bag, receipts named oddly, a sheet: all are found."""
    assert strays_in(bag) == []
    urls = {url for page in pages_of(bag).values() for url in page.urls}
    wanted = (
        *("50%20_%20done-", "line_break-", "back_slash-", "receipts/a.txt"),
        *("other/tables/hours-", DOCUMENT, FIRST_PAGE.replace(" ", "%20")),
    )
    assert [word for word in wanted if not any(word in url for url in urls)] == []


def test_odd_names_and_ids_are_found_too(odd_bag: Path) -> None:
    """Blanks, quotes, `#`, `%`, `?` and other scripts in names and ids break no link."""
    assert strays_in(odd_bag) == []
    assert verify_bag(odd_bag) == ()
    ids = set(pages_of(odd_bag)["binder/area-all.html"].ids)
    assert [task for task in TASK_IDS if anchor(task) not in ids] == []


def test_a_link_that_leads_nowhere_is_found(bag: Path) -> None:
    """The test's own eye sees a file that is gone, a place that is not there, and an address."""
    (bag / "data/receipts/a.txt").unlink()
    page = bag / BINDER_FRONT
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
    for path, page in pages_of(odd_bag).items():
        tags = Counter(tag for tag, _ in page.elements)
        assert not {"script", "style", "i", "u", "s"} & set(tags), path
        assert "</style><b>Odd</b> & sons" in page.text, path
    words = words_of(odd_bag, "binder/area-all.html")
    assert '"><img src=x>' in words
    assert "<u>4</u>" in words
    assert "<b>Bold</b> & \u00fc" in words
    plain = (" ".join(task.split()) for task in TASK_IDS)
    assert [task for task in plain if task not in words] == []


def test_areas_whose_ids_are_alike_have_pages_of_their_own(odd_bag: Path) -> None:
    """Ids that differ in case, sign or length alone, devices' names, dots: each has a safe file."""
    names = [path.removeprefix("binder/") for path in html_of(odd_bag)]
    assert len({name.casefold() for name in names}) == len(names)
    assert sum(name.startswith("area-") for name in names) == len(AREA_IDS) + 1
    assert [name for name in names if not re.fullmatch(r"[a-z0-9-]{1,90}\.html", name)] == []
    rows = table_on(odd_bag, CLAIM, "Area", "Tasks")
    named = [row[0].partition("<i>")[0].strip() for row in rows]
    assert named == ["All", *AREA_IDS, "In all"]


@pytest.mark.slow
def test_two_hundred_tasks_each_have_their_place(tmp_path: Path) -> None:
    """A long work list is whole: each task that was begun has a section, and all have a row."""
    ids = [f"T{number}" for number in range(200)]
    areas = [("One", ids[:150]), ("Two", ids[150:])]
    note = "---\nhours: 20h\ntasks:\n" + "".join(
        f"  - {{task: {task}, hours: 5m}}\n" for task in ids
    )
    files = {"journal.yaml": JOURNAL.encode(), "worklist.yaml": worklist(areas)}
    files["notes/2026-03-14.md"] = f"{note}---\n".encode()
    bag = with_files(tmp_path, {**files, "papers/bill.txt": b"a bill"})
    assert strays_in(bag) == []
    places = Counter(place for page in pages_of(bag).values() for place in page.ids)
    assert [places[anchor(task)] for task in ids] == [1] * 200
    words = words_of(bag, "binder/area-one.html")
    assert all(f"{task} " in words for task in ids[:150])


@pytest.mark.parametrize("rulebook", RULEBOOK_LINES)
def test_the_rulebook_is_named_and_nothing_is_granted(tmp_path: Path, rulebook: str) -> None:
    """The claim's page has rulebook and cautions, each page the short one, and none grants it."""
    made = made_of(tmp_path, rulebook=rulebook)
    ruled = made.ledger.rulebook
    assert ruled
    claim = made.words(CLAIM)
    assert ruled.title in claim
    assert ruled.title in made.words(BINDER_FRONT)
    assert [each for each in (*ruled.cautions, CAUTION) if each not in claim] == []
    for path in made.pages:
        assert FOOT in made.words(path), path
    for path in (CLAIM, WINGS, HELP, MISSING, BINDER_FRONT):
        told = made.words(path).lower().replace("qualify is for the authority", "")
        assert [word for word in GRANTING if word in told] == [], path


@pytest.mark.parametrize("rulebook", RULEBOOK_LINES)
def test_the_count_is_that_of_the_table(tmp_path: Path, rulebook: str) -> None:
    """Row by row the claim's numbers are those of claim.csv in the same bag."""
    made = made_of(tmp_path, rulebook=rulebook)
    assert made.ledger.rulebook
    hours = made.ledger.rulebook.measure is Measure.HOURS
    rows, told = made.table_on(CLAIM, "Area", "Tasks"), made.table("claim")
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


def test_a_bag_by_ones_own_rulebook_is_whole(tmp_path: Path) -> None:
    """Headings with strokes and signs of HTML break no link and no page."""
    bag = small_bag(tmp_path, rulebook=OWN)
    assert strays_in(bag) == []
    assert verify_bag(bag) == ()
    assert "A/B & <c>" in words_of(bag, CLAIM)


def test_the_tasks_are_those_of_the_table(bag: Path) -> None:
    """On an area's page each task's columns are those of claim_tasks.csv in the same bag."""
    counted = next(rows for rows in tables_on(html_of(bag)[WINGS]) if "Unclaimed" in rows[0])
    rows = {row[0].split()[0]: row[1:] for row in counted}
    sides = ("maker", "paid", "assembly", "fabrication", "unclaimed")
    for row in table_of(bag, "claim_tasks"):
        assert rows[row["task"]] == [row[side] for side in sides]


def test_help_is_that_of_the_table(bag: Path) -> None:
    """The page of help has each person's row of the table, with the same hours and minutes."""
    told = table_on(bag, HELP, "Who", "Task")
    hours = [(row["who"], row["h:mm"]) for row in table_of(bag, "help") if row["h:mm"]]
    assert hours
    assert [(row[0], row[2]) for row in told][: len(hours)] == hours


def test_gaps_are_those_of_the_table(bag: Path) -> None:
    """The page of what is missing has the table's rows in its order, without the advice."""
    page = html_of(bag)[MISSING]
    rows = [row for table in tables_on(page) for row in table[1:]]
    told = table_of(bag, "gaps")
    assert len(rows) == len(told) > 0
    for row, gap in zip(rows, told, strict=True):
        assert gap["told"].startswith(row[0].rstrip(".").replace("\N{NO-BREAK SPACE}%", " %"))
    assert page.count('href="../data/worklist.yaml"') == sum(
        row["path"] == "worklist.yaml" for row in told
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
    words = words_of(bag, WINGS)
    assert "2026-05-01" in words
    assert "Osk, paid, 1 h" in words
    assert "2026-05-01-time-only.md" in html_of(bag)[HELP]


def test_the_explanation_of_a_hidden_gap_is_no_new_doubt(tmp_path: Path) -> None:
    """A gap that went with its hidden note leaves no doubt behind about its explanation."""
    answers = 'answers: [{gap: "photos/secret.png", because: It is ours}]\n'
    bag = small_bag(tmp_path, rulebook=f"rulebook: us-checklist\n{answers}")
    codes = {row["code"] for row in table_of(bag, "gaps")}
    assert "answer-to-nothing" not in codes
    assert "no gap says" not in html_of(bag)[MISSING]


def test_without_a_rulebook_nothing_is_counted(tmp_path: Path) -> None:
    """The claim's page says so, and the claim's table has its headings alone."""
    bag = small_bag(tmp_path, rulebook="")
    assert "names no rulebook" in words_of(bag, CLAIM)
    assert table_of(bag, "claim") == []
    assert strays_in(bag) == []
    assert verify_bag(bag) == ()


def test_pages_that_are_no_longer_made_are_gone(journal: Path, bag: Path) -> None:
    """A journal that drops its decisions drops their page from its next bag, which is whole."""
    assert "binder/decisions.html" in html_of(bag)
    (journal / "notes/2026-04-20.md").unlink()
    bag_of(journal, bag)
    assert "binder/decisions.html" not in html_of(bag)
    assert verify_bag(bag) == ()


def test_a_journal_without_a_work_list(tmp_path: Path) -> None:
    """All tasks that notes name stand on one page; the claim's page says that no share is told."""
    files = {path: data for path, data in FILES.items() if path != "worklist.yaml"}
    bag = with_files(tmp_path, files)
    assert [path for path in html_of(bag) if "area-" in path] == ["binder/area-all-tasks.html"]
    assert strays_in(bag) == []
    assert "no share can be told" in words_of(bag, CLAIM)
    assert "W14" in words_of(bag, "binder/area-all-tasks.html")


def test_hours_say_why_an_area_has_no_share(tmp_path: Path) -> None:
    """By hours the claim's page has a dash for an area's share, and a sentence says why."""
    made = made_of(tmp_path, rulebook="rulebook: france-hours\nkit hours: 3h\n")
    area, whole = made.table_on(CLAIM, "Area", "Tasks")
    assert (area[-1], whole[2]) == (EN_DASH, "3:00")
    assert "for the whole kit" in made.words(CLAIM)


def test_derived_marks_are_shown_as_derived(tmp_path: Path) -> None:
    """By marks a task whose marks nobody gave says so; the claim's page counts such tasks."""
    made = made_of(tmp_path, rulebook="rulebook: us-8000-38\n")
    assert "W14 Aileron skins (marks derived from the credit)" in made.words(WINGS)
    assert "-- rivets (marks derived" not in made.words(WINGS)
    assert "1 of 2 tasks the marks follow" in made.words(CLAIM)


def test_a_picture_of_a_kind_that_browsers_lack_is_shown(tmp_path: Path) -> None:
    """A HEIC picture is drawn as a JPEG, which leads to the original in its own form."""
    import pillow_heif
    from PIL import Image

    out = io.BytesIO()
    pillow_heif.from_pillow(Image.new("RGB", (16, 16), "grey")).save(out)
    note = "---\nphotos: {photo: photos/a b.HEIC, shows: [W15], caption: Phone}\n---\n"
    files = {**FILES, "photos/a b.HEIC": out.getvalue(), "notes/2026-05-01.md": note.encode()}
    bag = with_files(tmp_path, files)
    page = pages_of(bag)[WINGS]
    sources = [each["src"] for tag, each in page.elements if tag == "img"]
    assert all(source.endswith(".jpg") for source in sources)
    assert "../data/photos/a%20b.HEIC" in page.urls
    assert strays_in(bag) == []


def test_an_area_that_is_not_on_the_aircraft_is_named(tmp_path: Path) -> None:
    """Where no task of an area applies, its page says so, and the count leaves it out."""
    areas = b"  - area: F\n    tasks: [{task: F1, applies: no}]\n"
    bag = with_files(tmp_path, {**FILES, "worklist.yaml": FILES["worklist.yaml"] + areas})
    assert "F1" in words_of(bag, "binder/area-f.html")
    rows = table_on(bag, CLAIM, "Area", "Tasks")
    assert [row[0] for row in rows] == ["W Wings", "In all"]
    assert strays_in(bag) == []


def test_the_same_journal_gives_the_same_pages(journal: Path, tmp_path: Path) -> None:
    """Another folder, another order of files, pictures drawn or not: not a byte differs."""
    _, ledger = read(journal)
    _, other = read(write_journal(tmp_path / "b", dict(reversed(FILES.items()))))
    pages = binder_pages(dossier(find(ledger)), ledger, {})
    assert binder_pages(dossier(find(other)), other, {}) == pages


@pytest.mark.parametrize("page", [BINDER_FRONT, WINGS, MISSING])
def test_a_changed_page_is_found(bag: Path, page: str) -> None:
    """A word changed on a page is a changed file to `verify`, and not what the notes give."""
    file = bag / page
    file.write_bytes(file.read_bytes().replace(b"grants nothing", b"grants it all") + b" ")
    faults = {(fault.path, fault.code) for fault in verify_bag(bag)}
    assert faults == {(page, "changed"), (page, "page")}


def test_added_and_missing_pages_are_found(bag: Path) -> None:
    """A page put in, one taken away and one renamed are each told."""
    (bag / "binder/area-x.html").write_bytes(b"<p>Granted.</p>")
    (bag / HELP).rename(bag / "binder/Help.html")
    assert {(fault.path, fault.code) for fault in verify_bag(bag)} >= {
        ("binder/area-x.html", "unlisted"),
        ("binder/Help.html", "unlisted"),
        (HELP, "missing"),
    }


def test_pages_lie_beside_the_payload(bag: Path) -> None:
    """No page stands below data/, where only the journal's files and the tables are."""
    listed = (bag / "manifest-sha256.txt").read_text(encoding="utf-8")
    tags = (bag / "tagmanifest-sha256.txt").read_text(encoding="utf-8")
    assert "  binder/" not in listed
    expected = (*html_of(bag), "binder/binder.css", FIRST_PAGE)
    assert [path for path in expected if f"  {path}\n" not in tags] == []


def test_a_tiny_journal_has_all_its_pages(tmp_path: Path) -> None:
    """A journal without a note and a work list says of each chapter that it holds nothing."""
    tiny = "title: T\nbuilder: Ines\npeople: {Ines: builder}\nrulebook: eu\n"
    bag = with_files(tmp_path, {"journal.yaml": tiny.encode(), "photos/a.png": png(1)})
    assert {BINDER_FRONT, CLAIM, HELP, MISSING} <= set(html_of(bag))
    assert "No task of the record" in words_of(bag, "binder/area-all-tasks.html")
    assert "None is on record" in words_of(bag, HELP)
    assert strays_in(bag) == []
    assert verify_bag(bag) == ()
