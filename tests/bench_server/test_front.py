"""The first page as text: whole, escaped, and without anything that its policy would refuse."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from builderlog.bench.desk import Desk, InboxPicture
from builderlog.bench.form import FormKept, Trouble
from builderlog.bench.front import front_page, front_parts
from builderlog.bench.pen import PAGES
from builderlog.deciding.claim_words import CAUTION
from tests.bench_server.made_desk import LAST

REFUSED_BY_POLICY = re.compile(r"<script(?! src=\"/ink/)|<style|\sstyle=|\son\w+=|javascript:")


def test_the_front_page_has_every_panel_and_the_form(made_desk: Desk) -> None:
    """Hours, problems, what is open, evidence, claim with its caution, pace, and the form."""
    page = front_page(made_desk)
    for name in ("hours", "problems", "open", "evidence", "claim", "pace", "note"):
        assert f'id="{name}"' in page, name
    assert CAUTION in page
    assert page.index('name="token" value="a-token"') < page.index('type="file"')
    assert 'name="once" value="once-1"' in page


def test_words_of_the_journal_cannot_become_markup(made_desk: Desk) -> None:
    """The title, a file's name and what was typed stand escaped wherever they stand."""
    nasty = '"><script>alert(1)</script>'
    desk = replace(made_desk, inbox=(InboxPicture(f"{nasty}.jpg"),))
    kept = FormKept(
        {"text": (f"</textarea>{nasty}",), "task-1": (nasty,), "picture-1": (f"{nasty}.jpg",)},
        (Trouble("task-1", nasty), Trouble('x" onclick="', nasty)),
    )
    page = front_page(desk, kept, told=nasty)
    assert "Kestrin &lt;Three&gt;" in page
    assert not re.search(r"<script(?! src=\"/ink/(?:form|bench)\.js\")", page)
    assert "</textarea>&#34;" not in page


@pytest.mark.parametrize("wrote", ["", LAST])
def test_nothing_on_the_page_is_refused_by_its_policy(made_desk: Desk, wrote: str) -> None:
    """No script, style or handler stands in the page itself."""
    assert not REFUSED_BY_POLICY.search(front_page(made_desk, wrote=wrote))
    assert REFUSED_BY_POLICY.search("<script>x</script>")
    assert REFUSED_BY_POLICY.search('<p style="color: red">')


def test_the_parts_are_the_panels_of_the_page(made_desk: Desk) -> None:
    """What replaces a panel is what the page itself would have shown there, and no form."""
    page, parts = front_page(made_desk), front_parts(made_desk)
    panels = re.findall(r"<section[^>]*data-panel.*?</section>", parts, re.DOTALL)
    assert len(panels) == 6
    assert [panel for panel in panels if panel not in page] == []
    assert 'id="note"' not in parts


def test_the_parts_tell_the_pictures_of_the_inbox(made_desk: Desk) -> None:
    """Those that a fresh form would offer, ticked or not, so that an open form can take them in."""
    inbox = (InboxPicture("a b.jpg", "2026-03-16T21:00:00"), InboxPicture("silent.jpg"))
    parts = front_parts(replace(made_desk, inbox=inbox))
    assert re.findall(r'<i data-inbox="([^"]+)".*?( data-on)?></i>', parts) == [
        ("a b.jpg", " data-on"),
        ("silent.jpg", ""),
    ]


def test_after_writing_the_lines_stand_where_the_form_was(made_desk: Desk) -> None:
    """The note that was written is told, and no form invites to write it once more."""
    page = front_page(made_desk, wrote=LAST)
    assert "4\N{NO-BREAK SPACE}h on 14 March 2026" in page
    assert 'name="once"' not in page
    assert 'href="/"' in page


def test_a_note_that_is_gone_leaves_the_form(made_desk: Desk) -> None:
    """Where the address names no note of the journal the form stands as ever."""
    assert 'name="once"' in front_page(made_desk, wrote="notes/gone.md")


def test_troubles_lead_to_their_fields(made_desk: Desk) -> None:
    """Each sentence stands over the form as a link, and at its field, which names it."""
    kept = FormKept({"hours:Ines": ("x",)}, (Trouble("hours:Ines", "'x' is no time"),))
    page = front_page(made_desk, kept)
    assert '<a href="#hours-1">' in page
    assert 'aria-describedby="hours-1-wrong"' in page
    assert 'id="hours-1-wrong"' in page
    assert "Nothing is written yet" in page


def test_every_file_of_the_pages_is_of_a_known_kind() -> None:
    """Templates, style and script: nothing else lies in the folder that is served in part."""
    endings = {file.suffix for file in PAGES.iterdir()}
    assert endings == {".html", ".css", ".js"}
