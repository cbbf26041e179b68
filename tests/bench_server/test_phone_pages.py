"""The phone's pages know the form, the upload and what was written, and nothing else."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from builderlog.bench.desk import Desk
from builderlog.bench.form import FormKept, Trouble
from builderlog.bench.phone_pages import code_page, form_page, written_page
from tests.bench_server.made_desk import LAST


@pytest.fixture
def phone(made_desk: Desk) -> Desk:
    """The desk as a phone sees it."""
    return replace(made_desk, phone=True)


def test_no_page_of_the_phone_leads_anywhere_else(phone: Desk) -> None:
    """Addresses are the form's own, the upload's, the pictures' and the few files of style."""
    pages = (code_page("t"), form_page(phone), written_page(phone, LAST))
    found = {
        address
        for page in pages
        for address in re.findall(r'(?:href|src|action)="([^"]*)"', page)
        if not address.startswith(("#", "data:"))
    }
    assert found == {"/", "/note", "/code", "/ink/bench.css", "/ink/form.js", "/ink/phone.js"}


def test_the_phone_is_told_no_sum_of_the_journal(phone: Desk) -> None:
    """The evening's time is told, as the phone sent it; month, whole, claim and gaps are not."""
    pages = form_page(phone) + written_page(phone, LAST)
    assert "4\N{NO-BREAK SPACE}h on 14 March 2026" in pages
    for word in ("In all", "March 2026: ", "share", "headroom", "evidence"):
        assert word.lower() not in pages.lower(), word


def test_a_wrong_code_is_told_at_its_field(phone: Desk) -> None:
    """What the server says stands there as an alert; the token goes with the form."""
    page = code_page("<t>", "that is not the code")
    assert 'role="alert">that is not the code' in page
    assert 'name="token" value="&lt;t&gt;"' in page
    assert "alert" not in code_page("t")
    assert "Nothing is written yet" in form_page(phone, FormKept({}, (Trouble("", "x"),)))


def test_a_note_that_is_gone_leads_back(phone: Desk) -> None:
    """Where no such note is, the page says so."""
    assert "There is no such note" in written_page(phone, "notes/gone.md")
