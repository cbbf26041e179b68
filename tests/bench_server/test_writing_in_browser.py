"""A note is written in a real browser: by hand, by keyboard, without script, and never twice."""

from __future__ import annotations

import base64
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Page, Route, expect

from tests.bench_server.browsing import (
    ARRIVED,
    DESKTOP,
    PHONE,
    SIZES,
    attach,
    notes_written,
    opened,
)
from tests.bench_server.serving import Served

pytestmark = pytest.mark.browser

DROP = """([name, data]) => {
    const bytes = Uint8Array.from(atob(data), sign => sign.charCodeAt(0));
    const held = new DataTransfer();
    held.items.add(new File([bytes], name, {type: 'image/jpeg'}));
    document.body.dispatchEvent(
        new DragEvent('drop', {dataTransfer: held, bubbles: true, cancelable: true}));
}"""


class Hands:
    """Does what a person does and counts it: a click, a tick, a field typed in, files chosen."""

    def __init__(self, page: Page) -> None:
        """No step yet."""
        self.page, self.steps = page, 0

    def click(self, selector: str) -> None:
        """One press of a finger or of the mouse."""
        self.page.click(selector)
        self.steps += 1

    def write(self, selector: str, words: str) -> None:
        """Going to a field and typing."""
        self.page.fill(selector, words)
        self.steps += 1

    def choose(self, files: list[Path]) -> None:
        """Three presses: the button, the pictures together, and the chooser's own button."""
        attach(self.page, files)
        self.steps += 3


WHOLE = """\
---
date: {day}
hours: 2h30
tasks:
  - {{task: W14, per: sheet 27-3}}
photos:
  - {{photo: photos/{year}/{first}, shows: [W14], caption: Clecos in}}
  - {{photo: photos/{year}/{second}, shows: [W14], seen: [Ada], caption: Ada at rib 4}}
next: dimple the nose skin
---
The skins lie flat.
"""
STEPS = 12  # of a person, for a whole note with two pictures


@pytest.mark.parametrize("size", SIZES)
def test_a_whole_note_with_two_pictures_takes_twelve_steps(
    browser: Browser, bench: Served, pictures: list[Path], size: tuple[int, int]
) -> None:
    """Time, two pictures with task, caption and face, text and next step: the file says it all."""
    with opened(browser, size) as page:
        page.goto(bench.url)
        hands = Hands(page)
        hands.write("#hours-1", "2h30")
        hands.choose(pictures[:2])
        hands.write("#picture-1-caption", "Clecos in")
        hands.click("#picture-1 >> text=W14")
        hands.write("#picture-2-caption", "Ada at rib 4")
        hands.click("#picture-2 >> text=W14")
        hands.click("#picture-2-seen >> text=Ada")
        hands.write("#text", "The skins lie flat.")
        hands.click("text=dimple the nose skin >> nth=0")
        hands.click("text=Write the note")
        expect(page.locator(".understood li")).to_have_count(3)
        expect(page.locator(".understood")).to_contain_text(
            "2\N{NO-BREAK SPACE}h\N{NO-BREAK SPACE}30"
        )
        assert hands.steps <= STEPS
    (note,) = notes_written(bench)
    filed = sorted(path.name for path in bench.root.glob("photos/*/*"))
    assert len(filed) == 2
    day = note.name[:10]
    assert note.read_text(encoding="utf-8") == WHOLE.format(
        day=day, year=day[:4], first=filed[0], second=filed[1]
    )
    assert list(bench.root.glob("inbox/*.jpg")) == []


def test_with_the_keyboard_alone_a_note_is_written(browser: Browser, bench: Served) -> None:
    """From the top: tab to the fields, space to tick, enter to fold out and to send."""
    with opened(browser, DESKTOP) as page:
        page.goto(bench.url)

        def go_to(name: str) -> None:
            for _ in range(80):
                page.keyboard.press("Tab")
                if page.evaluate("document.activeElement.name") == name:
                    return
            pytest.fail(f"the tab key does not lead to {name}")

        go_to("hours:Ines")
        page.keyboard.type("1h")
        go_to("task-1-who")
        page.keyboard.press("Space")
        go_to("still")
        page.keyboard.press("Space")
        page.keyboard.press("Tab")
        go_to("next")
        page.keyboard.type("drill")
        page.keyboard.press("Control+Enter")
        page.wait_for_selector(".understood")
    text = notes_written(bench)[0].read_text(encoding="utf-8")
    assert "- {task: W14, who: Ines, per: sheet 27-3}" in text
    assert "next:\n  - dimple the nose skin\n  - drill\n" in text


def test_a_key_that_ends_a_word_sends_nothing(browser: Browser, bench: Served) -> None:
    """Enter in a field leaves the form where it is; nothing is written or lost."""
    with opened(browser, DESKTOP) as page:
        page.goto(bench.url)
        page.fill("#hours-1", "1h")
        page.press("#hours-1", "Enter")
        page.wait_for_timeout(150)
        assert page.url == bench.url
        assert page.input_value("#hours-1") == "1h"
    assert notes_written(bench) == []


def test_without_script_the_form_does_it_all(
    browser: Browser, bench: Served, pictures: list[Path]
) -> None:
    """Pictures come with the form itself, get their captions, and go with the note."""
    with opened(browser, PHONE, script=False) as page:
        page.goto(bench.url)
        page.fill("#hours-1", "1h")
        page.set_input_files("#file", pictures[:1])
        page.click("text=Attach what was chosen")
        assert page.input_value("#hours-1") == "1h"
        page.fill("#picture-1-caption", "Clecos in")
        page.set_input_files("#file", pictures[1:2])
        page.click("text=Write the note")
        assert page.locator(".understood li").count() == 3
    text = notes_written(bench)[0].read_text(encoding="utf-8")
    assert "hours: 1h" in text
    assert "caption: Clecos in" in text
    assert text.count("photos/") == 2


def test_pictures_can_be_dropped_anywhere(
    browser: Browser, bench: Served, pictures: list[Path]
) -> None:
    """A picture that falls on the page is attached, and the browser does not leave for it."""
    data = base64.b64encode(pictures[0].read_bytes()).decode()
    with opened(browser, DESKTOP) as page:
        page.goto(bench.url)
        page.evaluate(DROP, ["dropped.jpg", data])
        expect(page.locator(ARRIVED)).to_have_count(1)
        assert page.url == bench.url


def test_what_is_no_picture_is_refused_by_name(
    browser: Browser, bench: Served, pictures: list[Path]
) -> None:
    """The sentence names the file; the pictures beside it arrive."""
    with opened(browser, DESKTOP) as page:
        page.goto(bench.url)
        page.set_input_files("#file", [pictures[2], pictures[0]])
        expect(page.locator("[data-refused]")).to_contain_text("script.jpg")
        expect(page.locator(ARRIVED)).to_have_count(1)
        expect(page.locator(".picture")).to_have_count(1)


def write_half(page: Page, pictures: list[Path]) -> None:
    """Time, another task in place of the one offered, a snag, a picture, and half a sentence."""
    page.fill("#hours-1", "1h")
    page.click("text=Another task")
    page.fill("#task-2", "W15")
    page.click("[data-row=task] >> nth=0 >> text=Leave out")
    page.click("[data-fold=snag] > summary")
    page.fill("#snag-1", "Dent")
    attach(page, pictures[:1])
    page.fill("#picture-1-caption", "Clecos in")
    page.fill("#text", "Half a sen")


def test_a_reload_loses_nothing(browser: Browser, bench: Served, pictures: list[Path]) -> None:
    """Words, ticks, rows and pictures stand there again; after writing the draft is gone."""
    with opened(browser, DESKTOP) as page:
        page.goto(bench.url)
        write_half(page, pictures)
        page.reload()
        expect(page.locator("[data-draft]")).to_be_visible()
        for field, words in (
            ("#hours-1", "1h"),
            ("#task-2", "W15"),
            ("#snag-1", "Dent"),
            ("#picture-1-caption", "Clecos in"),
            ("#text", "Half a sen"),
        ):
            assert page.input_value(field) == words
            assert page.is_visible(field)
        assert page.is_hidden("#task-1")
        page.click("text=Write the note")
        page.wait_for_selector("html.js .understood")
        page.goto(bench.url)
        assert page.is_hidden("[data-draft]")
        assert page.input_value("#text") == ""
    text = notes_written(bench)[0].read_text(encoding="utf-8")
    assert "W14" not in text
    assert "tasks: [W15]" in text


def test_a_second_press_writes_no_second_note(browser: Browser, bench: Served) -> None:
    """A double click on the button is one note."""
    with opened(browser, DESKTOP) as page:
        page.goto(bench.url)
        page.fill("#text", "Once.")
        page.dblclick("text=Write the note")
        page.wait_for_selector(".understood")
    assert len(notes_written(bench)) == 1


def test_a_picture_that_did_not_arrive_can_be_sent_again(
    browser: Browser, bench: Served, pictures: list[Path]
) -> None:
    """Where the bench does not answer, its row says so, and one press sends it once more."""
    with opened(browser, DESKTOP, "light", failing=True) as page:
        page.goto(bench.url)
        page.route("**/pictures", lambda route: route.abort())
        page.set_input_files("#file", pictures[:1])
        expect(page.locator(".picture [role=alert]")).to_contain_text("did not answer")
        page.unroute("**/pictures")
        page.click("text=Send it again")
        expect(page.locator(ARRIVED)).to_have_count(1)
        expect(page.locator(".picture [role=alert]")).to_have_count(0)


def test_the_note_waits_for_its_pictures(
    browser: Browser, bench: Served, pictures: list[Path]
) -> None:
    """Sent while a picture is on the way, the form says so, and goes when it is there."""
    with opened(browser, DESKTOP) as page:
        page.goto(bench.url)
        held: list[Route] = []
        page.route("**/pictures", lambda route: held.append(route))  # noqa: PLW0108 - it is asked for its arity
        page.set_input_files("#file", pictures[:1])
        page.click("text=Write the note")
        expect(page.locator("[data-waiting]")).to_contain_text("written when they are here")
        held[0].continue_()
        page.wait_for_selector(".understood")
    assert "photos/" in notes_written(bench)[0].read_text(encoding="utf-8")


def test_an_untimed_pair_of_tasks_is_told_while_it_is_written(
    browser: Browser, bench: Served
) -> None:
    """Two tasks without a time get none of the hours: the form says so, until one has its own."""
    with opened(browser, DESKTOP) as page:
        page.goto(bench.url)
        page.fill("#hours-1", "2h")
        expect(page.locator("[data-untimed]")).to_be_empty()
        page.click("text=Another task")
        page.fill("#task-2", "E01")
        expect(page.locator("[data-untimed]")).to_contain_text("2 tasks have no time of their own")
        expect(page.locator("[data-row=task] >> nth=1 >> [data-called]")).to_have_text("Fin")
        page.fill("#task-2-hours", "1h")
        expect(page.locator("[data-untimed]")).to_be_empty()
