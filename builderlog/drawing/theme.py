"""A theme: folders of templates and plain files: the journal's `look/`, its own, what all share.

A theme is free to draw pages as it likes, and can do nothing else: its templates run sandboxed,
see one sheet and the page's chrome, and reach no file but those of the theme.
"""

from __future__ import annotations

import hashlib
import traceback
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from jinja2 import (
    BaseLoader,
    ChoiceLoader,
    FileSystemLoader,
    PrefixLoader,
    StrictUndefined,
    TemplateError,
    TemplateNotFound,
    TemplateSyntaxError,
    UndefinedError,
)
from jinja2.sandbox import ImmutableSandboxedEnvironment

import builderlog
from builderlog.drawing.compiled import compiled_for
from builderlog.reading.problem import Place

TEMPLATE_ENDING = ".html"
PRINT_ENDING = ".typ"  # the inspector's document; no part of a site
LOOK = "look"
EVERY = "_every"  # what all themes share; each may have its own in place of it
OWN_STYLE = "own.css"  # in look/, it comes after the theme's style and changes what it must
OWN_PAGES = "pages"  # in look/, each template here is a page more
AS_SHIPPED = "theme"  # "theme/front.html" is the theme's own, whatever the look has in its place
AS_SHARED = "every"  # "every/front.html" is what all share, whatever the theme has in its place
PREVIEW = "preview"  # a picture of the theme for its chooser, under any ending; no part of a site
# What jinja offers that would make a page depend on chance, and what no page needs.
UNWANTED_GLOBALS = ("lipsum", "cycler")
UNWANTED_FILTERS = ("random", "pprint", "xmlattr")


class ThemeFault(Exception):
    """What is wrong with a theme or the journal's look, in a whole sentence, and where."""

    def __init__(self, place: Place, message: str) -> None:
        """`place.path` is "look/note.html" or "themes/trammel/note.html"."""
        super().__init__(f"{place.path}:{place.line}: {message}")
        self.place = place
        self.message = message


@dataclass(frozen=True, slots=True)
class ThemeFolder:
    """One folder of a theme, and how its files are called in messages."""

    folder: Path
    shown: str  # "look" or "themes/trammel"

    def files(self) -> Iterator[tuple[str, Path]]:
        """Every file with its name from the folder, sorted; names that begin with a dot are not.

        Raises `ThemeFault` for a link: what it leads to may not be meant for friends.
        """
        if self.shown == LOOK and self.folder.is_symlink():
            raise ThemeFault(Place(LOOK), "this is a link; put the folder itself here")
        for file in sorted(self.folder.rglob("*")):
            name = file.relative_to(self.folder).as_posix()
            if any(part.startswith(".") for part in name.split("/")) or name.endswith("~"):
                continue
            if file.is_symlink():
                words = "this is a link; put the file itself here"
                raise ThemeFault(Place(f"{self.shown}/{name}"), words)
            if "\\" in name:
                words = "no address can have a \\ in it; give this another name"
                raise ThemeFault(Place(f"{self.shown}/{name}"), words)
            if file.is_file():
                yield name, file


@dataclass(frozen=True, slots=True)
class Theme:
    """A theme by its name; `folders` in the order in which a file is looked for."""

    name: str
    folders: tuple[ThemeFolder, ...]

    def templates(self) -> Mapping[str, Path]:
        """The templates by name, the journal's own before the theme's."""
        return {
            name: file for name, file in self._files().items() if name.endswith(TEMPLATE_ENDING)
        }

    def plain_files(self) -> Mapping[str, Path]:
        """The files that are copied as they are, by site path."""
        return {
            name: file
            for name, file in self._files().items()
            if not name.endswith((TEMPLATE_ENDING, PRINT_ENDING)) and Path(name).stem != PREVIEW
        }

    def own_style(self) -> bool:
        """Whether there is a style to come after the theme's."""
        return OWN_STYLE in self.plain_files()

    def digest(self) -> str:
        """SHA-256 in hex over the names and bytes of all templates, those beneath others too."""
        made = hashlib.sha256(f"{self.own_style()}\n".encode())
        for name, file in self.layers():
            made.update(f"{name}\0{hashlib.sha256(file.read_bytes()).hexdigest()}\n".encode())
        return made.hexdigest()

    def layers(self) -> Iterator[tuple[str, Path]]:
        """Every template with its name, the journal's own first; a name may come twice."""
        for folder in self.folders:
            for name, file in folder.files():
                if name.endswith(TEMPLATE_ENDING):
                    yield name, file

    def shown(self, filename: str | Path | None) -> str:
        """The name of one of the theme's files as a builder knows it."""
        for folder in self.folders:
            if filename and Path(filename).is_relative_to(folder.folder):
                return f"{folder.shown}/{Path(filename).relative_to(folder.folder).as_posix()}"
        return f"themes/{self.name}"

    def _files(self) -> dict[str, Path]:
        found: dict[str, Path] = {}
        for folder in reversed(self.folders):
            found.update(folder.files())
        return found


def theme_shelf() -> Path:
    """The folder of all themes: inside the installed package, or beside it in a checkout."""
    package = Path(builderlog.__file__).parent
    inside = package / "themes"
    return inside if inside.is_dir() else package.parent / "themes"


def theme_names(shelf: Path | None = None) -> tuple[str, ...]:
    """The names of the themes there are, sorted."""
    folder = shelf or theme_shelf()
    return tuple(
        sorted(
            entry.name
            for entry in folder.iterdir()
            if entry.is_dir() and not entry.name.startswith((".", "_"))
        )
    )


def open_theme(name: str, journal: Path | None = None, shelf: Path | None = None) -> Theme:
    """The theme of that name: the journal's `look/`, the theme's own folder, what all themes share.

    Raises `ThemeFault` where no theme has the name; `shelf` is for tests and other themes.
    """
    names = theme_names(shelf)
    if name not in names:
        raise ThemeFault(
            Place("journal.yaml"), f"there is no theme {name!r}; write one of {', '.join(names)}"
        )
    own, every = (
        ThemeFolder((shelf or theme_shelf()) / each, f"themes/{each}") for each in (name, EVERY)
    )
    look = ThemeFolder(journal / LOOK, LOOK) if journal else None
    return Theme(name, tuple(each for each in (look, own, every) if each and each.folder.is_dir()))


class Pen:
    """A theme ready to draw: its templates with the filters they may use."""

    def __init__(self, theme: Theme, filters: Mapping[str, Callable[..., Any]]) -> None:
        """`filters` are all a template may call besides jinja's own."""
        self._theme = theme
        self._jinja = _sandbox(theme)
        self._jinja.bytecode_cache = compiled_for(filters)
        self._jinja.filters.update(filters)
        self._jinja.globals["own_style"] = theme.own_style()

    def draw(self, template: str, values: Mapping[str, object]) -> str:
        """The page as text. Raises `ThemeFault` for whatever the template does wrong."""
        try:
            return self._jinja.get_template(template).render(values)
        except TemplateSyntaxError as error:
            raise self._fault(error.filename, error.lineno, error.message) from error
        except TemplateNotFound as error:
            words = f"there is no template {error.name!r} in the theme"
            raise self._fault_of(error, template, words) from error
        except UnicodeDecodeError as error:
            raise self._unreadable(error) from error
        except Exception as error:
            if not _is_the_templates(error):
                raise
            raise self._fault_of(error, template, str(error)) from error

    def _fault_of(self, error: Exception, template: str, message: str) -> ThemeFault:
        """The fault with the last line of a template that was drawn when it happened."""
        known = {str(file) for _, file in self._theme.layers()}
        frames = traceback.extract_tb(error.__traceback__)
        inside = [frame for frame in frames if frame.filename in known]
        if not inside:
            return self._fault(str(self._theme.templates().get(template, "")), 1, message)
        return self._fault(inside[-1].filename, inside[-1].lineno, message)

    def _unreadable(self, error: UnicodeDecodeError) -> ThemeFault:
        for _, file in self._theme.layers():
            if file.read_bytes() == error.object:
                line = error.object.count(b"\n", 0, error.start) + 1
                return self._fault(str(file), line, "this is not UTF-8; save it as UTF-8")
        return self._fault(None, 1, "a template is not UTF-8; save it as UTF-8")

    def _fault(self, filename: str | None, line: int | None, message: str | None) -> ThemeFault:
        return ThemeFault(
            Place(self._theme.shown(filename), line or 1), message or "cannot be read"
        )


class _Sandbox(ImmutableSandboxedEnvironment):
    """Hands no template what its row keeps from templates: a row names it in `untold`."""

    def __init__(self, **setup: Any) -> None:  # noqa: ANN401 - jinja's
        """`setup` is jinja's own."""
        super().__init__(**setup)
        self._judged: dict[tuple[type, str], bool] = {}

    def is_safe_attribute(self, obj: Any, attr: str, value: Any) -> bool:  # noqa: ANN401 - jinja's
        """Whether a template may read it; the answer hangs on type and name, and is asked often."""
        asked = (type(obj), attr)
        if asked not in self._judged:
            kept = getattr(type(obj), "untold", ())
            self._judged[asked] = attr not in kept and super().is_safe_attribute(obj, attr, value)
        return self._judged[asked]


def _sandbox(theme: Theme) -> ImmutableSandboxedEnvironment:
    jinja = _Sandbox(
        loader=_loader(theme),
        undefined=StrictUndefined,
        autoescape=True,
        trim_blocks=True,
        lstrip_blocks=True,
        auto_reload=False,
        cache_size=-1,
        keep_trailing_newline=True,
    )
    for name in UNWANTED_GLOBALS:
        jinja.globals.pop(name, None)
    for name in UNWANTED_FILTERS:
        jinja.filters.pop(name, None)
    return jinja


def _loader(theme: Theme) -> BaseLoader:
    folders = [folder.folder for folder in theme.folders]
    shipped = [folder.folder for folder in theme.folders if folder.shown != LOOK]
    shared = [folder.folder for folder in theme.folders if folder.folder.name == EVERY]
    beneath = PrefixLoader(
        {AS_SHIPPED: FileSystemLoader(shipped), AS_SHARED: FileSystemLoader(shared)}
    )
    return ChoiceLoader([FileSystemLoader(folders), beneath])


def _is_the_templates(error: Exception) -> bool:
    """Whether a template did wrong, not our code: jinja says so, or no frame of ours was deeper.

    A fault of our own keeps its traceback.
    """
    if isinstance(error, (TemplateError, UndefinedError)):
        return True
    ours = str(Path(builderlog.__file__).parent)
    last = traceback.extract_tb(error.__traceback__)[-1].filename
    return not (last.startswith(ours) and last.endswith(".py"))
