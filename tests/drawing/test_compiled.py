"""Holds that a template is compiled once for all sites of a process, and anew when it changes."""

from __future__ import annotations

from pathlib import Path

import pytest
from jinja2 import Environment

from builderlog.drawing.theme import Pen, Theme, ThemeFolder


def pen(folder: Path) -> Pen:
    """A pen for a theme of that one folder."""
    return Pen(Theme("made", (ThemeFolder(folder, "themes/made"),)), {})


def test_a_template_is_compiled_once_and_again_when_it_changes(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Three sites of one theme compile it once; another text in the same file is seen."""
    compiled: list[str | None] = []
    compile_one = Environment.compile

    def counted(
        jinja: Environment, source: str, name: str | None = None, filename: str | None = None
    ) -> object:
        compiled.append(name)
        return compile_one(jinja, source, name, filename)

    monkeypatch.setattr(Environment, "compile", counted)
    (tmp_path / "page.html").write_text("Hello {{ name }}", encoding="utf-8")
    assert {pen(tmp_path).draw("page.html", {"name": name}) for name in "abc"} == {
        "Hello a",
        "Hello b",
        "Hello c",
    }
    assert compiled == ["page.html"]
    (tmp_path / "page.html").write_text("Bye {{ name }}", encoding="utf-8")
    assert pen(tmp_path).draw("page.html", {"name": "a"}) == "Bye a"
    assert compiled == ["page.html"] * 2


def test_a_filter_works_on_constants_too_for_each_site_by_itself(tmp_path: Path) -> None:
    """What a filter gives at one site is never written into the pages of another."""
    (tmp_path / "page.html").write_text("{{ 'x' | place }}", encoding="utf-8")
    theme = Theme("made", (ThemeFolder(tmp_path, "themes/made"),))
    drawn = [
        Pen(theme, {"place": lambda _, told=told: told}).draw("page.html", {})
        for told in ("here", "there")
    ]
    assert drawn == ["here", "there"]
