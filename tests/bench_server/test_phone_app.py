"""Holds the phone's server: a code lets one phone in, and there is a form, and nothing else."""

from __future__ import annotations

import re
from collections.abc import Iterator
from pathlib import Path
from threading import Thread

import httpx
import pytest
from starlette.types import Receive, Scope, Send

from builderlog.bench.bulletin import Bulletin
from builderlog.bench.door import MOST_IN_WINDOW, WRONG_CODES, Door
from builderlog.bench.inbox import Inbox
from builderlog.bench.live_journal import LiveJournal
from builderlog.bench.phone_app import COOKIE, phone_app
from builderlog.bench.serving import Servers, Serving, listen_on, port_of
from builderlog.bench.workplace import Workplace
from tests.bench_server.made_desk import laid
from tests.bench_server.running_bench import PLAIN, get, running
from tests.bench_server.serving import evening
from tests.command.small_journal import jpeg


class House:
    """A phone's server, the codes on its terminal, and what it writes into; doors come and go."""

    def __init__(self, place: Workplace, host: str) -> None:
        self.place, self.host = place, host
        self.codes: list[str] = []
        self.new_door()

    def new_door(self) -> None:
        """As if the bench were started again."""
        self.codes.clear()
        self._app = phone_app(self.place, Door(self.codes.append), frozenset((self.host,)))

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Passes a request on to the app behind the newest door."""
        await self._app(scope, receive, send)

    def phone(self) -> httpx.Client:
        """One more phone, with cookies of its own."""
        return httpx.Client(base_url=f"http://{self.host}", verify=PLAIN)


@pytest.fixture(scope="module")
def served(tmp_path_factory: pytest.TempPathFactory) -> Iterator[House]:
    """One server for all tests."""
    root = laid(Path(tmp_path_factory.mktemp("journal")))
    live = LiveJournal(root, root / ".builderlog", Bulletin())
    listening = listen_on("127.0.0.1", 0)
    place = Workplace(live, Inbox(root), evening)
    house = House(place, f"127.0.0.1:{port_of(listening)}")
    servers = Servers([Serving(house, listening)], live.bulletin)
    thread = Thread(target=servers.run)
    thread.start()
    yield house
    servers.stop()
    thread.join()


@pytest.fixture
def house(served: House) -> House:
    """With a door of its own for each test."""
    served.new_door()
    return served


@pytest.fixture
def phone(house: House) -> Iterator[httpx.Client]:
    """A phone that was let in."""
    with house.phone() as client:
        assert knock(client, house.codes[0]).headers["location"] == "/"
        yield client


def token_in(page: str) -> str:
    """The token that a page's form carries."""
    found = re.search(r'name="token" value="([^"]+)"', page)
    assert found
    return found[1]


def knock(client: httpx.Client, code: str) -> httpx.Response:
    """Types a code."""
    return client.post("/code", data={"token": token_in(client.get("/").text), "code": code})


def test_before_the_code_there_is_the_code(house: House) -> None:
    """The page says nothing of the journal, and note and pictures are refused unread."""
    with house.phone() as client:
        page = client.get("/").text
        assert "Kestrin" not in page
        assert "W14" not in page
        token = token_in(page)
        assert client.post("/note", data={"token": token, "text": "x"}).status_code == 403
        files = {"picture": ("a.jpg", jpeg(), "image/jpeg")}
        sent = client.post("/pictures", files=files, headers={"x-bench-token": token})
        assert (sent.status_code, "code" in sent.json()["told"]) == (403, True)
    assert not list(house.place.root.glob(".builderlog/incoming/*"))
    assert not list(house.place.root.glob("inbox/*"))


def test_the_code_opens_the_form_for_one_phone(house: House) -> None:
    """The cookie is no script's and no other site's to send; the same code opens nothing again."""
    code = house.codes[-1]
    with house.phone() as first:
        cookie = knock(first, code.lower()).headers["set-cookie"]
        assert "HttpOnly" in cookie
        assert "SameSite=strict" in cookie
        assert "Max-Age" not in cookie
        assert "expires" not in cookie.lower()
        assert "W14" in first.get("/").text
    with house.phone() as second:
        assert knock(second, code).status_code == 403
        assert "W14" not in second.get("/").text
        assert house.codes[-1] != code
        assert knock(second, house.codes[-1]).status_code == 303


def test_a_guessed_cookie_opens_nothing(phone: httpx.Client) -> None:
    """A session is known by its whole secret word."""
    known = phone.cookies[COOKIE]
    for word in ("", "x", known[:-1], known.lower()):
        page = get(str(phone.base_url), headers={"cookie": f"{COOKIE}={word}"}).text
        assert "W14" not in page
    page = get(str(phone.base_url), headers={"cookie": f"{COOKIE}={known}"}).text
    assert "W14" in page


def test_codes_are_not_guessed_for_long(house: House, phone: httpx.Client) -> None:
    """After a few wrong ones the right one opens nothing; the phone that is in goes on."""
    with house.phone() as guesser:
        for _ in range(WRONG_CODES):
            assert knock(guesser, "AAAA-AAAA").status_code == 403
        last = knock(guesser, house.codes[-1])
        assert (last.status_code, "too many wrong codes" in last.text) == (429, True)
    assert "W14" in phone.get("/").text


def test_nothing_else_is_there(phone: httpx.Client) -> None:
    """Of the bench's other addresses not one exists for a phone, whatever it sends."""
    for path in (
        *("parts", "events", "site", "site/", "clock", "inbox/a.jpg/small", "journal.yaml"),
        *("ink/bench.js", "ink/live.js", "ink/front.html", "docs", "openapi.json"),
    ):
        assert phone.get(f"/{path}").status_code == 404
        assert phone.post(f"/{path}", data={"do": "start"}).status_code in (404, 405)


def test_a_phone_writes_a_note_with_its_picture(tmp_path: Path) -> None:
    """Over its socket: the picture goes into the inbox, then with the note; the page tells."""
    root = laid(tmp_path)
    with (
        running(root, phone=True) as bench,
        httpx.Client(base_url=bench.phone_url, verify=PLAIN) as client,
    ):
        assert knock(client, bench.code).headers["location"] == "/"
        token = token_in(client.get("/").text)
        files = {"picture": ("IMG_7.jpg", jpeg(), "image/jpeg")}
        sent = client.post("/pictures", files=files, headers={"x-bench-token": token})
        form = {
            "token": token,
            "day": "2026-03-16",
            "hours:Ines": "2h30",
            "task-1": "W14",
            "picture-1": sent.json()["name"],
            "picture-1-attach": "yes",
        }
        assert client.post("/note", data=form).headers["location"] == "/?wrote=yes"
        assert "2 h 30" in client.get("/?wrote=yes").text.replace("\xa0", " ")
        assert bench.left_behind() == []
        for url, wrong in ((bench.url, token), (bench.phone_url, bench.token)):
            sent = client.post(f"{url}note", data={"token": wrong, "text": "x"})
            assert sent.status_code == 403, "what a phone was given opens nothing at the bench"
    assert "photos/2026/" in next(root.glob("notes/2026/2026-03-16*.md")).read_text()


def test_a_phone_cannot_ask_what_was_understood_of_other_notes(phone: httpx.Client) -> None:
    """Only of the note that it wrote itself; before that there is the form."""
    for word in ("yes", "notes/2026/2026-03-14-skins.md"):
        page = phone.get("/", params={"wrote": word}).text
        assert "3 h" not in page.replace("\xa0", " ")
        assert 'action="/note"' in page


def test_a_foreign_page_cannot_use_the_session(phone: httpx.Client) -> None:
    """Origin, name of the host and token are asked for here as at the bench."""
    token = token_in(phone.get("/").text)
    foreign = {"origin": "http://elsewhere.example"}
    assert phone.post("/note", data={"token": token}, headers=foreign).status_code == 403
    assert phone.get("/", headers={"host": "127.0.0.1:1"}).status_code == 421


def test_a_session_may_not_work_without_end(phone: httpx.Client) -> None:
    """After very many deeds in a short time the phone has to wait, in a sentence."""
    token = token_in(phone.get("/").text)
    for _ in range(MOST_IN_WINDOW):
        assert phone.post("/pictures", headers={"x-bench-token": token}).status_code == 415
    answer = phone.post("/pictures", headers={"x-bench-token": token})
    assert (answer.status_code, "wait" in answer.json()["told"]) == (429, True)
