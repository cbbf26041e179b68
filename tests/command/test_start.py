"""`start`: a new journal that has no mistake and can be published at once, whatever its names."""

from __future__ import annotations

import json
from pathlib import Path

import pytest

from builderlog.command.opening import list_journal
from builderlog.knowing.journal import read_journal
from builderlog.knowing.rulebooks import RULEBOOKS
from builderlog.knowing.worklists import worklist_names, worklist_text
from tests.command.running import digests, run, write

ODD = (
    *("No", "on", "~", "null", "1:30", "010", "- dash", "-dash", "# hash", "a #b", "a: b", "a,b"),
    *('She said "hi"', "O'Neill", "both ' and \"", "back\\slash", "{braces}", "[list]", "&anchor"),
    *("*alias", "!tag", "%percent", "@at", "`tick`", "| pipe", "> fold", "? ask", "🛠️ família 👩‍🔧"),
    *("---", "...", "é", "e\u0301", "板金", "<b>bold</b>", "{title}", "%s", "=1+1", "a  b"),
)


def test_a_new_journal_does_everything(tmp_path: Path) -> None:
    """After `start` every other command ends with status 0 and nothing on standard error."""
    root = tmp_path / "my aircraft"
    said = run("start", root)
    assert said.status == 0
    assert f"Next: builderlog publish '{root}'" in said.out
    for word in ("tally", "publish", "dossier"):
        assert (run(word, root).status, run(word, root).err) == (0, "")
    assert run("check", root).status == 0
    assert run("verify", root / "dossier").status == 0
    assert (root / "published" / "index.html").is_file()


def problems(root: Path) -> object:
    """All that `check` tells of a journal."""
    return json.loads(run("check", root, "--json").out)["problems"]


def test_the_first_evening_is_no_task(tmp_path: Path) -> None:
    """The time of the first note counts and belongs to no task; the one task is to be renamed."""
    run("start", tmp_path / "new")
    assert problems(tmp_path / "new") == []
    tally = json.loads(run("tally", tmp_path / "new", "--json").out)
    assert (tally["seconds"], tally["untasked"], tally["by_task"]) == (1800, 1800, {})
    tasks = read_journal(list_journal(tmp_path / "new")).worklist.by_id
    assert list(tasks) == ["W01"]
    assert "rename it" in tasks["W01"].name


def test_the_first_note_names_a_task_as_it_can_be_named(tmp_path: Path) -> None:
    """The line that the first note shows for naming a task is counted when it is written so."""
    run("start", tmp_path / "new")
    (note,) = (tmp_path / "new" / "notes").rglob("*.md")
    text = note.read_text()
    assert "`tasks: [W01]`" in text
    note.write_text(text.replace("hours: 0h30", "hours: 0h30\ntasks: [W01]"))
    tally = json.loads(run("tally", tmp_path / "new", "--json").out)
    assert (tally["untasked"], tally["by_task"]["W01"]["seconds"]) == (0, 1800)


def test_the_lists_are_named(tmp_path: Path) -> None:
    """The help, the default work list and the word for an unknown list name every list."""
    run("start", tmp_path / "new")
    told = (tmp_path / "new" / "worklist.yaml").read_text()
    unknown = run("start", tmp_path / "other", "--worklist", "tin")
    assert unknown.status == 2
    assert not (tmp_path / "other").exists()
    shown = run("start", "--help").out.replace("-\n", "-").replace(" ", "")
    for name in worklist_names():
        assert name in told
        assert name in unknown.err
        assert name in "".join(shown.split())


@pytest.mark.parametrize("name", worklist_names())
def test_each_worklist(tmp_path: Path, name: str) -> None:
    """A journal that begins with a list holds it whole, has no problem and can be published."""
    root = tmp_path / "new"
    assert run("start", root, "--worklist", name).status == 0
    line, _, rest = (root / "worklist.yaml").read_text().partition("\n")
    assert line == "# yaml-language-server: $schema=.builderlog/schemas/worklist.json"
    assert rest == worklist_text(name)
    assert problems(root) == []
    for word in ("tally", "publish"):
        assert (run(word, root).status, run(word, root).err) == (0, "")
    tasks = read_journal(list_journal(root)).worklist.by_id
    assert len(list((root / "published" / "tasks").glob("*.html"))) == len(tasks)


@pytest.mark.slow
@pytest.mark.parametrize("name", worklist_names())
def test_each_worklist_for_the_inspector(tmp_path: Path, name: str) -> None:
    """A journal that begins with a list can be handed over whole, and verified."""
    root = tmp_path / "new"
    assert run("start", root, "--worklist", name).status == 0
    said = run("dossier", root)
    assert (said.status, said.err) == (0, "")
    assert run("verify", root / "dossier").status == 0


@pytest.mark.slow
@pytest.mark.parametrize("name", ODD)
def test_odd_names(tmp_path: Path, name: str) -> None:
    """A name that YAML would read as something else stays the name that was given."""
    words = [f"--builder={name}", f"--title={name}", f"--design={name}"]
    assert run("start", tmp_path / "new", *words).status == 0
    assert run("check", tmp_path / "new").status == 0
    settings = read_journal(list_journal(tmp_path / "new")).settings
    line = " ".join(name.split())
    assert (settings.title, settings.builder, settings.aircraft.design) == (line, line, line)
    assert [person.name for person in settings.people] == [line]
    assert run("publish", tmp_path / "new").status == 0


def test_a_name_of_two_lines(tmp_path: Path) -> None:
    """Line breaks in a name become blanks."""
    run("start", tmp_path / "new", "--title", "a\nb\u2028c\td")
    assert read_journal(list_journal(tmp_path / "new")).settings.title == "a b c d"


@pytest.mark.parametrize("rulebook", RULEBOOKS)
def test_each_rulebook(tmp_path: Path, rulebook: str) -> None:
    """Each rulebook that can be named is written and read again."""
    assert run("start", tmp_path / "new", "--rulebook", rulebook).status == 0
    assert read_journal(list_journal(tmp_path / "new")).settings.rulebook == rulebook
    assert run("claim", tmp_path / "new").status == 0


@pytest.mark.parametrize("held", ["a.txt", ".hidden", "folder/a.txt"])
def test_a_folder_that_holds_anything(tmp_path: Path, held: str) -> None:
    """A folder with anything in it is refused, and nothing in it is changed."""
    write(tmp_path / "full", {held: "mine"})
    said = run("start", tmp_path / "full")
    assert (said.status, said.out) == (2, "")
    assert "is not empty" in said.err
    assert digests(tmp_path / "full").keys() == {held}


def test_a_second_start(tmp_path: Path) -> None:
    """`start` a second time is refused and leaves the journal as it was."""
    run("start", tmp_path / "new")
    before = digests(tmp_path / "new")
    assert run("start", tmp_path / "new", "--title", "other").status == 2
    assert digests(tmp_path / "new") == before


def test_an_empty_folder(tmp_path: Path) -> None:
    """An empty folder that is there already, and a folder several levels below, will do."""
    (tmp_path / "empty").mkdir()
    assert run("start", tmp_path / "empty").status == 0
    assert run("start", tmp_path / "a" / "b" / "c").status == 0


@pytest.mark.parametrize("place", ["file", "file/below"])
def test_a_file_in_the_way(tmp_path: Path, place: str) -> None:
    """A file in the place of the folder is told in a sentence and left alone."""
    write(tmp_path, {"file": "mine"})
    said = run("start", tmp_path / place)
    assert (said.status, said.out) == (2, "")
    assert (tmp_path / "file").read_text() == "mine"


def test_editors_find_what_they_complete_by(tmp_path: Path) -> None:
    """The first line of each file leads to its schema, in a folder that is not of the record."""
    run("start", tmp_path / "new")
    for file in ("journal", "worklist"):
        line = (tmp_path / "new" / f"{file}.yaml").read_text().split("\n")[0]
        _, _, path = line.partition("$schema=")
        assert json.loads((tmp_path / "new" / path).read_text())["title"] == f"{file}.yaml"
    assert not [path for path in list_journal(tmp_path / "new").paths if "schema" in path]


def test_the_schemas_alone(tmp_path: Path) -> None:
    """In a journal that is there they are laid out anew and nothing else is touched."""
    root = tmp_path / "old"
    write(root, {"journal.yaml": "title: a\nbuilder: B\npeople: {B: builder}\n"})
    before = digests(root)
    said = run("start", root, "--schemas")
    assert (said.status, said.err) == (0, "")
    assert "# yaml-language-server: $schema=.builderlog/schemas/worklist.json" in said.out
    after = digests(root)
    assert {path: after[path] for path in before} == before
    assert {Path(path).name for path in after if "schemas/" in path} == {
        *("journal.json", "note.json", "worklist.json"),
    }
    refused = run("start", tmp_path / "none", "--schemas")
    assert (refused.status, (tmp_path / "none").exists()) == (2, False)
    assert "holds no journal.yaml" in refused.err
