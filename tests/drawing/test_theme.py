"""Holds what a theme and the journal's look may do, and how their faults are told."""

from __future__ import annotations

from pathlib import Path

import pytest

from builderlog.drawing.theme import EVERY, Pen, ThemeFault, open_theme, theme_names, theme_shelf
from tests.drawing.made_public import drawn


def look(journal: Path, **files: str) -> Path:
    """Writes files into a journal's look/, with `_html` in a name for its ending."""
    folder = journal / "look"
    folder.mkdir(exist_ok=True)
    for name, text in files.items():
        (folder / name.replace("_", ".")).write_text(text, encoding="utf-8")
    return journal


def fault_of(journal: Path) -> ThemeFault:
    """The fault that drawing with a journal's look ends in."""
    with pytest.raises(ThemeFault) as caught:
        drawn(theme=open_theme("trammel", journal))
    return caught.value


def test_an_unknown_theme_is_told_with_those_there_are() -> None:
    """The message names the theme asked for and every theme that could be asked for."""
    with pytest.raises(ThemeFault, match=r"no theme 'tramel'; write one of .*trammel"):
        open_theme("tramel")
    assert "trammel" in theme_names()


@pytest.mark.parametrize("name", ["", ".", "..", "trammel/..", "../themes/trammel"])
def test_a_theme_is_a_name_and_no_path(name: str) -> None:
    """What climbs out of the shelf is no theme."""
    with pytest.raises(ThemeFault):
        open_theme(name)


def test_look_overrides_file_by_file(tmp_path: Path) -> None:
    """A template and a style of the journal's own take the theme's place; the rest stays."""
    look(tmp_path, parts_html="<h1>{{ sheet.count }}</h1>", style_css="body{}")
    site = drawn(theme=open_theme("trammel", tmp_path))
    plain = drawn()
    assert site["parts.html"] == b"<h1>2 parts</h1>"
    assert site["style.css"] == b"body{}"
    assert site["index.html"] == plain["index.html"]
    assert site["icon.svg"] == plain["icon.svg"]


def test_look_may_add_files(tmp_path: Path) -> None:
    """A picture laid into look/ is copied; hidden and backup files are not."""
    look(tmp_path, map_svg="<svg/>")
    (tmp_path / "look" / ".hidden.css").write_text("x")
    (tmp_path / "look" / "style.css~").write_text("x")
    site = drawn(theme=open_theme("trammel", tmp_path))
    assert site["map.svg"] == b"<svg/>"
    assert set(site) == {*drawn(), "map.svg"}


def test_a_preview_is_no_part_of_the_site(tmp_path: Path) -> None:
    """The picture by which a theme is chosen is not copied into the site."""
    look(tmp_path, preview_webp="picture")
    assert set(drawn(theme=open_theme("trammel", tmp_path))) == set(drawn())


def test_a_file_in_a_pages_place_is_refused(tmp_path: Path) -> None:
    """A file of look/ never takes the place of one that the site makes itself."""
    look(tmp_path, robots_txt="User-agent: *")
    fault = fault_of(tmp_path)
    assert fault.place.path == "look/robots.txt"
    assert "another name" in fault.message


def test_what_all_share_is_reached_behind_a_theme(tmp_path: Path) -> None:
    """`every/` is what all themes share, whatever look and theme have in its place."""
    shelf = tmp_path / "shelf"
    for folder, text in (("_every", "shared"), ("mine", "mine"), ("../look", "own")):
        (shelf / folder).mkdir(parents=True)
        (shelf / folder / "front.html").write_text(text)
    pages = ("front.html", "theme/front.html", "every/front.html")
    pen = Pen(open_theme("mine", tmp_path, shelf), {})
    assert [pen.draw(page, {}) for page in pages] == ["own", "mine", "shared"]


def test_a_link_in_look_is_refused(tmp_path: Path) -> None:
    """A link may lead to what is not meant for friends, so it is told and not followed."""
    secret = tmp_path / "secret.txt"
    secret.write_text("secret")
    look(tmp_path)
    (tmp_path / "look" / "a.txt").symlink_to(secret)
    assert fault_of(tmp_path).place.path == "look/a.txt"


@pytest.mark.parametrize(
    "escape",
    [
        "{{ sheet.__class__.__mro__ }}",
        "{{ ''.__class__.__base__.__subclasses__() }}",
        "{{ chrome.__init__.__globals__ }}",
        "{{ sheet['__class__'] }}",
        "{{ sheet | attr('__class__') }}",
        "{{ '{0.__class__}'.format(sheet) }}",
        "{{ self._TemplateReference__context }}",
        "{{ url.__globals__ }}",
    ],
)
def test_the_sandbox_bites(tmp_path: Path, escape: str) -> None:
    """A template that reaches behind its sheet is stopped, with its path and line."""
    look(tmp_path, parts_html=f"<h1>x</h1>\n{escape}\n")
    fault = fault_of(tmp_path)
    assert str(fault).startswith("look/parts.html:2: ")


def test_a_sheet_cannot_be_changed(tmp_path: Path) -> None:
    """A template that tries to change a list or a mapping in place is stopped."""
    look(tmp_path, parts_html="{% set a = [1] %}\n\n{{ a.append(2) }}")
    assert str(fault_of(tmp_path)).startswith("look/parts.html:3: ")


@pytest.mark.parametrize(
    ("template", "line", "words"),
    [
        ("a\n{{ nothing }}", 2, "'nothing' is undefined"),
        ("\n\n{{ sheet.colour }}", 3, "no attribute 'colour'"),
        ("{% for x in %}", 1, "Expected an expression"),
        ("a\n\n{% if sheet %}", 3, "Unexpected end of template"),
        ("a\n{{ sheet | shout }}", 2, "No filter named 'shout'"),
        ("{{ 1 + 'a' }}", 1, "unsupported operand"),
        ("{{ 3 | url }}", 1, "the filter 'url' takes a str, not 3"),
        ("{{ sheet.count | picture }}", 1, "the filter 'picture' takes a Photo"),
        ("{{ lipsum() }}", 1, "'lipsum' is undefined"),
        ("{% include 'gone.html' %}", 1, "no template 'gone.html'"),
    ],
)
def test_a_templates_fault_is_told_with_its_line(
    tmp_path: Path, template: str, line: int, words: str
) -> None:
    """Whatever a template does wrong ends in one sentence with path and line, no traceback."""
    look(tmp_path, parts_html=template)
    fault = fault_of(tmp_path)
    assert str(fault).startswith(f"look/parts.html:{line}: ")
    assert words in fault.message


def test_a_fault_in_a_shared_piece_is_told_where_it_stands(tmp_path: Path) -> None:
    """A fault inside an included template names that template, not the page's."""
    look(tmp_path, parts_html="{% include 'piece.html' %}", piece_html="\n{{ nothing }}")
    assert str(fault_of(tmp_path)).startswith("look/piece.html:2: ")


@pytest.mark.parametrize("path", ["../secret.html", "/etc/passwd", "a/../../secret.html"])
def test_a_template_reaches_no_file_outside(tmp_path: Path, path: str) -> None:
    """Including a file outside the theme's folders finds nothing."""
    (tmp_path / "secret.html").write_text("secret")
    look(tmp_path, parts_html=f"{{% include '{path}' %}}")
    assert "no template" in fault_of(tmp_path).message


def test_a_template_that_is_not_text_is_told(tmp_path: Path) -> None:
    """A template that is not UTF-8 is named with the line of the first wrong byte."""
    look(tmp_path)
    (tmp_path / "look" / "parts.html").write_bytes(b"<h1>\n\xff</h1>")
    assert str(fault_of(tmp_path)) == "look/parts.html:2: this is not UTF-8; save it as UTF-8"


def test_our_own_fault_keeps_its_traceback(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An error inside our code is not told as a fault of the theme."""
    monkeypatch.setattr("builderlog.drawing.pages.charts.hours_chart", lambda _: 1)
    with pytest.raises(TypeError):
        drawn(theme=open_theme("trammel", tmp_path))


def test_changed_templates_change_the_digest(tmp_path: Path) -> None:
    """The digest that pages are kept by follows the bytes and the names of the templates."""
    plain = open_theme("trammel", tmp_path).digest()
    look(tmp_path, style_css="body{}")
    assert open_theme("trammel", tmp_path).digest() == plain
    look(tmp_path, parts_html="x")
    assert open_theme("trammel", tmp_path).digest() != plain


def test_the_shelf_is_found() -> None:
    """Every theme has the templates of all kinds of pages, own or shared, a style and an icon."""
    shared = {path.name for path in (theme_shelf() / EVERY).iterdir()}
    for name in theme_names():
        files = shared | {path.name for path in (theme_shelf() / name).iterdir()}
        kinds = ("front", "archive", "note", "month", "area", "task", "parts", "photos", "next")
        assert {f"{kind}.html" for kind in kinds} <= files
        assert {"style.css", "icon.svg"} <= files
