"""Holds what the bench's server gives and takes, asked over its socket as a browser would."""

from __future__ import annotations

import socket
import time
from collections.abc import Iterator
from pathlib import Path

import httpx
import pytest

from builderlog.bench.form_parts import Limits
from tests.bench_server.made_desk import laid
from tests.bench_server.running_bench import Running, events_of, get, post, running
from tests.command.small_journal import jpeg

NOTE = "notes/2026/2026-03-14-skins.md"


@pytest.fixture(scope="module")
def bench(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    """One bench for all tests that leave nothing behind."""
    with running(laid(Path(tmp_path_factory.mktemp("journal")))) as made:
        yield made


@pytest.fixture
def own(tmp_path: Path) -> Iterator[Running]:
    """A bench for a test that writes."""
    with running(laid(tmp_path / "journal")) as made:
        yield made


@pytest.mark.parametrize(
    ("path", "status", "kind"),
    [
        ("", 200, "text/html"),
        ("parts", 200, "text/html"),
        ("site/", 200, "text/html"),
        ("site/index.html", 200, "text/html"),
        ("site/style.css", 200, "text/css"),
        ("site/notes/2026-03-14-skins.html", 200, "text/html"),
        ("ink/bench.css", 200, "text/css"),
        ("ink/live.js", 200, "text/javascript"),
        ("ink/front.html", 404, "text/plain"),
        ("ink/phone.js", 404, "text/plain"),
        ("ink/..%2f..%2fapp.py", 404, "text/plain"),
        ("site/..%2f..%2fjournal.yaml", 404, "text/plain"),
        ("site/%2fetc%2fpasswd", 404, "text/plain"),
        ("inbox/..%2fjournal.yaml/small", 404, "text/plain"),
        ("journal.yaml", 404, "text/plain"),
        ("code", 404, "text/plain"),
    ],
)
def test_each_address_gives_what_it_should(
    bench: Running, path: str, status: int, kind: str
) -> None:
    """Pages, the live site and our ink are there; no file of the journal, of ours or the disk."""
    answer = get(bench.url + path)
    assert (answer.status_code, answer.headers["content-type"].split(";")[0]) == (status, kind)
    assert "frame-ancestors 'none'" in answer.headers["content-security-policy"]
    assert answer.headers["x-content-type-options"] == "nosniff"
    assert answer.headers["cache-control"] == "no-store"


@pytest.fixture
def inbox(bench: Running) -> Iterator[Running]:
    """The same, its inbox emptied afterwards."""
    yield bench
    for file in bench.root.glob("inbox/*"):
        file.unlink()


@pytest.mark.parametrize(
    ("host", "status"),
    [
        ("127.0.0.1:{port}", 200),
        ("localhost:{port}", 200),
        ("LOCALHOST:{port}", 200),
        ("[::1]:{port}", 200),
        ("127.0.0.1", 421),
        ("127.0.0.1:1", 421),
        ("bench.example:{port}", 421),
        ("localhost.example:{port}", 421),
        ("127.0.0.1:{port}.example", 421),
        ("", 421),
    ],
)
def test_another_host_name_is_refused(bench: Running, host: str, status: int) -> None:
    """A name that somebody made to lead to this machine gets nothing of the journal."""
    answer = get(bench.url, headers={"host": host.format(port=bench.port)})
    assert answer.status_code == status
    assert ("Kestrin" in answer.text) == (status == 200)


def test_two_host_names_or_none_are_refused(bench: Running) -> None:
    """A request that names two hosts, or none, is not ours to answer."""
    own = f"Host: 127.0.0.1:{bench.port}\r\n"
    for hosts in (own + "Host: bench.example\r\n", own + own, ""):
        assert b" 200 " not in raw(bench, f"GET / HTTP/1.1\r\n{hosts}Connection: close\r\n\r\n")


@pytest.mark.parametrize(
    "headers",
    [
        {"origin": "http://elsewhere.example"},
        {"origin": "http://127.0.0.1:1"},
        {"origin": "null"},
        {"origin": "https://127.0.0.1:{port}"},
        {"origin": "http://127.0.0.1:{port}.example"},
        {"sec-fetch-site": "cross-site"},
        {"sec-fetch-site": "same-site"},
        {"origin": "http://127.0.0.1:{port}", "sec-fetch-site": "cross-site"},
    ],
)
def test_a_foreign_page_writes_nothing(bench: Running, headers: dict[str, str]) -> None:
    """Even with the right token a form from another page is refused, and no note is written."""
    sent = {name: value.format(port=bench.port) for name, value in headers.items()}
    before = sorted(bench.root.rglob("*.md"))
    for path in ("note", "pictures", "clock"):
        form = {"token": bench.token, "text": "not mine", "do": "start"}
        assert post(bench.url + path, data=form, headers=sent).status_code == 403
    assert sorted(bench.root.rglob("*.md")) == before
    assert bench.left_behind() == []


def test_a_foreign_page_reads_nothing(bench: Running) -> None:
    """It may link to us, and neither show nor fetch anything of ours."""
    foreign = {"sec-fetch-site": "cross-site"}
    for path in ("", "parts", "site/", "events"):
        assert get(bench.url + path, headers=foreign).status_code == 403
    linked = {**foreign, "sec-fetch-mode": "navigate"}
    assert get(bench.url, headers=linked).status_code == 200


@pytest.mark.parametrize("token", [None, "", "guessed"])
def test_without_the_token_nothing_is_written(bench: Running, token: str | None) -> None:
    """A form without it gets the page again with a sentence; a picture and the clock a refusal."""
    form = {"text": "hello"} if token is None else {"token": token, "text": "hello"}
    answer = post(f"{bench.url}note", data=form)
    assert (answer.status_code, "older than the bench" in answer.text) == (403, True)
    picture = {"picture": ("a.jpg", jpeg(), "image/jpeg")}
    assert post(f"{bench.url}pictures", files=picture, data=form).status_code == 403
    assert post(f"{bench.url}clock", data={**form, "do": "start"}).status_code == 403
    assert bench.left_behind() == []


def test_a_form_becomes_a_note_and_its_pictures_are_filed(own: Running) -> None:
    """Two pictures are sent, attached, filed; the note is a plain file; sent twice it is one."""
    names = [send(own, f"IMG {shade}.jpg", jpeg(shade)).json()["name"] for shade in (40, 200)]
    assert names == ["IMG-40.jpg", "IMG-200.jpg"]
    form = {
        "token": own.token,
        "once": "a",
        "day": "2026-03-16",
        "title": "Skins on",
        "hours:Ines": "2h30",
        "task-1": "W14",
        "text": "All in.",
        **{f"picture-{n}": name for n, name in enumerate(names)},
        **{f"picture-{n}-attach": "yes" for n in range(2)},
        "picture-1-caption": "Straight",
    }
    for _ in range(2):
        answer = post(f"{own.url}note", data=form)
        assert answer.status_code == 303
        assert answer.headers["location"] == "/?wrote=notes/2026/2026-03-16-skins-on.md"
    text = (own.root / "notes/2026/2026-03-16-skins-on.md").read_text()
    assert text.count("photos/2026/2026-03-16") == 2
    assert [len(list(own.root.rglob(f"photos/**/{end}"))) for end in ("*.jpg", "*.part")] == [2, 0]
    assert own.left_behind() == []
    assert len(list(own.root.rglob("*.md"))) == 2
    assert "2 h 30" in get(f"{own.url}?wrote=notes/2026/2026-03-16-skins-on.md").text.replace(
        "\xa0", " "
    )


def test_what_cannot_be_read_keeps_the_form(own: Running) -> None:
    """The page comes again with all that was filled in and a sentence; nothing is written."""
    form = {"token": own.token, "hours:Ines": "all day", "text": "Long words, kept."}
    answer = post(f"{own.url}note", data=form)
    assert answer.status_code == 422
    assert "Long words, kept." in answer.text
    assert "all day" in answer.text
    assert len(list(own.root.rglob("*.md"))) == 1


@pytest.mark.parametrize(
    ("sent", "name"),
    [
        ("../../journal.yaml", "journal.jpg"),
        ("C:\\Users\\Ines\\IMG_1.JPG", "IMG_1.jpg"),
        (".hidden.jpg", "hidden.jpg"),
        ("con.jpg", "picture-con.jpg"),
        ("…", "picture.jpg"),
        ("Flügel links ☺.png", "Flügel-links.jpg"),
        ("a" * 300 + ".jpg", "a" * 60 + ".jpg"),
    ],
)
def test_the_name_of_a_picture_is_ours(inbox: Running, sent: str, name: str) -> None:
    """No folder, no device, no ending but that of its kind; twice sent it is there once."""
    answers = [send(inbox, sent, jpeg()) for _ in range(2)]
    assert [answer.json()["name"] for answer in answers] == [name] * 2
    assert inbox.left_behind() == [name]
    small = get(inbox.url.rstrip("/") + answers[0].json()["small"])
    assert (small.status_code, small.content[8:12]) == (200, b"WEBP")


def test_another_picture_of_one_name_is_beside_it(inbox: Running) -> None:
    """Nothing is written over, in names of other capitals neither."""
    for shade, name in enumerate(("IMG_1.jpg", "img_1.JPG")):
        send(inbox, name, jpeg(90 * shade))
    assert inbox.left_behind() == ["IMG_1.jpg", "img_1-2.jpg"]


def test_a_script_is_no_picture(bench: Running) -> None:
    """Whatever its name and type say, and a picture that is cut off neither."""
    script = send(bench, "holiday.jpg", b"#!/bin/sh\nrm -r ~\n" * 99)
    assert (script.status_code, "a text file" in script.json()["told"]) == (415, True)
    cut = send(bench, "cut.jpg", jpeg(size=(640, 480))[:-300])
    assert (cut.status_code, bool(cut.json()["told"])) == (415, True)
    assert bench.left_behind() == []


def test_too_large_an_upload_is_refused_before_it_comes(bench: Running) -> None:
    """Of 200 MB that are announced not a byte is sent, and the answer comes all the same."""
    answer = raw(
        bench,
        "POST /pictures HTTP/1.1\r\n"
        f"Host: 127.0.0.1:{bench.port}\r\nX-Bench-Token: {bench.token}\r\n"
        "Content-Type: multipart/form-data; boundary=x\r\nContent-Length: 209715200\r\n\r\n",
    )
    assert b" 413 " in answer.split(b"\r\n")[0]
    assert bench.left_behind() == []


def test_a_dropped_connection_leaves_nothing(bench: Running) -> None:
    """A phone that leaves the network in the middle of a picture is as if it had never been."""
    head = (
        "POST /pictures HTTP/1.1\r\n"
        f"Host: 127.0.0.1:{bench.port}\r\nX-Bench-Token: {bench.token}\r\n"
        "Content-Type: multipart/form-data; boundary=x\r\nContent-Length: 100000\r\n\r\n"
        '--x\r\nContent-Disposition: form-data; name="picture"; filename="a.jpg"\r\n\r\n'
    )
    with socket.create_connection(("127.0.0.1", bench.port)) as dropping:
        dropping.sendall(head.encode() + jpeg() + bytes(20000))
        wait_until(lambda: bench.left_behind() != [])
    wait_until(lambda: bench.left_behind() == [])


def test_the_limits_are_what_is_said() -> None:
    """The sentence of a refusal names the size that a picture may have, which 200 MB are beyond."""
    assert Limits().one_file == 64 << 20
    assert Limits().whole < 200_000_000 or Limits().whole < 200 << 20


def test_the_shops_clock_is_turned(own: Running) -> None:
    """It starts, and refuses with a sentence, said once, to start twice or stop twice."""
    said = []
    for do in ("start", "start", "stop"):
        answer = post(f"{own.url}clock", data={"token": own.token, "do": do})
        assert answer.status_code == 303
        said.append(answer.headers["location"])
    assert said[0] == said[2] == "/"
    assert said[1] == "/?told=yes"
    post(f"{own.url}clock", data={"token": own.token, "do": "stop"})
    pages = [get(f"{own.url}?told=The+journal+is+lost").text for _ in range(2)]
    assert ["no clock is running" in page for page in pages] == [True, False]
    assert "The journal is lost" not in "".join(pages), "an address can say nothing"


def test_saving_a_note_is_told_with_its_page(own: Running) -> None:
    """First the problems as they stand; then the pages that changed, that of the note by name."""
    events = events_of(own.url, 3)
    assert next(events)[0] == "problems"
    file = own.root / NOTE
    file.write_text(file.read_text().replace("Skins on.", "Skins on, and straight."))
    name, data = next(events)
    assert name == "site"
    assert data["page"] == "notes/2026-03-14-skins.html"
    assert data["page"] in data["changed"]
    assert "parts.html" not in data["changed"]
    assert "and straight" in get(f"{own.url}site/{data['page']}").text
    assert next(events)[0] == "front"


def test_a_file_of_the_look_may_go_at_any_moment(own: Running) -> None:
    """Asked for at once, before anybody looked, it is gone, or the theme's own stands there."""
    for name in ("own.css", "style.css", "front.html"):
        events = events_of(own.url, 3)
        next(events)
        file = own.root / "look" / name
        file.parent.mkdir(exist_ok=True)
        file.write_text("p { color: red }")
        assert next(events)[0] == "site"
        path = "index.html" if name == "front.html" else name
        assert "red" in get(f"{own.url}site/{path}").text
        file.unlink()
        after = get(f"{own.url}site/{path}")
        assert after.status_code == (404 if name == "own.css" else 200), name


def test_a_page_of_the_site_carries_our_script(bench: Running) -> None:
    """The page's own policy, which would stop it, is taken out; ours stands in the head."""
    page = get(f"{bench.url}site/notes/2026-03-14-skins.html").text
    assert '<script src="/ink/live.js" defer></script>' in page.split("</head>")[0]
    assert "http-equiv" not in page


def test_the_page_for_what_is_not_there_keeps_its_style(bench: Running) -> None:
    """It is one file alone: the style in it may count, on no other page; no script inside may."""
    kept = get(f"{bench.url}site/404.html")
    assert "<style>" in kept.text
    policies = [
        kept.headers["content-security-policy"],
        get(bench.url).headers["content-security-policy"],
    ]
    assert ["style-src 'self' 'unsafe-inline';" in policy for policy in policies] == [True, False]
    assert "script-src 'self';" in policies[0]


def send(bench: Running, name: str, data: bytes) -> httpx.Response:
    """Sends one picture as the page's script does."""
    files = {"picture": (name, data, "image/jpeg")}
    return post(f"{bench.url}pictures", files=files, headers={"x-bench-token": bench.token})


def raw(bench: Running, words: str) -> bytes:
    """The first bytes of the answer to a request as it stands."""
    with socket.create_connection(("127.0.0.1", bench.port), timeout=10) as asking:
        asking.sendall(words.encode())
        return asking.recv(4096)


def wait_until(seen: object) -> None:
    """Waits up to twenty seconds for what must come."""
    assert callable(seen)
    for _ in range(1000):
        if seen():
            return
        time.sleep(0.02)
    raise AssertionError("it did not come")
