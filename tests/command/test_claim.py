"""`claim`: what it prints and with which exit status, in a pipe, on a terminal and as JSON."""

from __future__ import annotations

import json
import re
import shutil
from collections.abc import Iterator
from pathlib import Path

import pytest
from rich.cells import cell_len

from builderlog.deciding.claim_words import CAUTION
from builderlog.knowing.rulebook import Measure
from builderlog.knowing.rulebooks import OWN, RULEBOOKS, find_rulebook
from tests.command.running import originals, run, show, write

EXAMPLE = Path(__file__).resolve().parent.parent.parent / "example_journal"
SHIPPED = tuple(name for name in RULEBOOKS if name != OWN)
OWN_LINES = "own rulebook: {measure: points, limit: at least 55 %}\n"
KEYS = {"rulebook", "measure", "tasks", "columns", "share", "limit", "meets", "headroom"}
SIDES = {"maker", "paid", "assembly", "fabrication", "unclaimed"}
DECIMAL = re.compile(r"\d+(\.\d+)?")
GRANTING = re.compile(r"\bapprov|complian|\bpass(?:ed|es)?\b|\beligib", re.IGNORECASE)
CONTROL = re.compile(r"\x1b\[[0-9;?]*[A-Za-z]")
MISTAKE = "---\nhours: all day\n---\n"
WORDS = (
    ["claim"],
    ["claim", "--if", "T09=paid:1.0", "--if", "W02=paid:0.5"],
    ["claim", "--hire", "I"],
    ["claim", "--hire", "E01", "--if", "T09=paid:1.0"],
)


@pytest.fixture(scope="module")
def template(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The example journal without a rulebook, its pictures read once."""
    root = tmp_path_factory.mktemp("template") / "example"
    ours = shutil.ignore_patterns(".builderlog", "published", "dossier")
    shutil.copytree(EXAMPLE, root, ignore=ours)
    journal = root / "journal.yaml"
    text = journal.read_text(encoding="utf-8")
    journal.write_text(re.sub(r"(?m)^rulebook:.*\n", "", text), encoding="utf-8")
    assert run("check", root).status == 0
    return root


@pytest.fixture
def example(template: Path) -> Iterator[Path]:
    """The template, for a test to add to; put back afterwards, so that no picture is read again."""
    journal, before = template / "journal.yaml", {*template.rglob("*.md")}
    text = journal.read_text(encoding="utf-8")
    yield template
    journal.write_text(text, encoding="utf-8")
    for note in {*template.rglob("*.md")} - before:
        note.unlink()


@pytest.fixture(scope="module")
def checklist(template: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """The template with the checklist of the United States as its rulebook; only to be read."""
    root = tmp_path_factory.mktemp("checklist") / "example"
    return add(shutil.copytree(template, root), "rulebook: us-checklist\n")


def add(root: Path, lines: str) -> Path:
    """Adds lines to journal.yaml."""
    file = root / "journal.yaml"
    file.write_text(file.read_text(encoding="utf-8") + lines, encoding="utf-8")
    return root


def with_tasks(root: Path, *tasks: str, journal: str = "rulebook: us-checklist\n") -> Path:
    """A small journal with these tasks in one area."""
    head = "title: T\nbuilder: Ines\npeople: {Ines: builder, Osk: paid}\n"
    lines = "".join(f"      - {{{task}}}\n" for task in tasks)
    text = f"areas:\n  - area: W\n    name: Wings\n    tasks:\n{lines}"
    return write(root, {"journal.yaml": head + journal, "worklist.yaml": text})


def hold_to_the_contract(document: dict[str, object], name: str) -> None:
    """The keys are there and have their form."""
    rulebook, _ = find_rulebook(name)
    assert rulebook
    assert document.keys() >= KEYS
    assert (document["rulebook"], document["measure"]) == (name, rulebook.measure.value)
    assert document["limit"] == str(rulebook.limit)
    assert isinstance(document["tasks"], int)
    assert isinstance(document["meets"], bool)
    assert re.fullmatch(r"[01]\.\d{6}", str(document["share"]))
    columns = document["columns"]
    assert isinstance(columns, dict)
    assert columns.keys() == SIDES
    texts = [*columns.values(), document["headroom"]]
    assert all(isinstance(text, str) and DECIMAL.fullmatch(text) for text in texts)
    if rulebook.measure is Measure.POINTS:
        assert all(re.fullmatch(r"\d+\.\d", str(text)) for text in texts)


@pytest.mark.slow
@pytest.mark.parametrize("name", SHIPPED)
def test_each_rulebook_by_option_and_in_the_journal(example: Path, name: str) -> None:
    """Asked for on the command line or named in journal.yaml, a rulebook gives the same claim."""
    by_option = run("claim", example, "--rulebook", name, "--json")
    words = run("claim", example, "--rulebook", name)
    add(example, f"rulebook: {name}\n")
    in_journal = run("claim", example, "--json")
    assert (by_option.status, by_option.err, in_journal) == (0, "", by_option)
    hold_to_the_contract(json.loads(by_option.out), name)
    assert run("claim", example) == words
    assert words.out.splitlines()[-1] == f"Caution: {CAUTION}"


def test_the_builders_own_by_option(example: Path) -> None:
    """`--rulebook own` counts by what journal.yaml states under `own rulebook`."""
    add(example, f"rulebook: eu\n{OWN_LINES}")
    document = json.loads(run("claim", example, "--rulebook", "own", "--json").out)
    assert (document["rulebook"], document["limit"], document["meets"]) == ("own", ">= 0.55", True)


def test_the_citation_is_the_journals(example: Path) -> None:
    """The journal's citation stands over its own rulebook's claim, and over no other's."""
    add(example, "rulebook: eu\ncitation: Example Rules 5\n")
    assert "; Example Rules 5\n" in run("claim", example).out
    assert "; Example Rules 5\n" in run("claim", example, "--rulebook", "eu").out
    assert "Example Rules 5" not in run("claim", example, "--rulebook", "canada").out


def test_without_a_rulebook(template: Path) -> None:
    """Where no rulebook is named the exit status is 2, and the names are told."""
    for words in ([], ["--json"], ["--if", "I02=paid:0.5"]):
        said = run("claim", template, *words)
        assert (said.status, said.out) == (2, "")
        assert "journal.yaml names no rulebook; write rulebook: NAME there" in said.err
        assert all(name in said.err for name in RULEBOOKS)


def test_without_a_rulebook_but_with_a_mistake(example: Path) -> None:
    """A mistake in a note does not hide that no rulebook is named."""
    write(example, {"notes/2026-04-01.md": MISTAKE})
    said = run("claim", example)
    assert (said.status, said.out) == (2, "")
    assert "journal.yaml names no rulebook" in said.err


@pytest.mark.parametrize(
    ("line", "told"),
    [
        ("rulebook: us-checklst\n", "unknown-word: 'us-checklst' is none of the words for this"),
        ("rulebook: own\n", "missing-key: rulebook: own needs measure and limit"),
        ("rulebook: own\nown rulebook: {measure: points, limit: half}\n", "'half' is not a limit"),
    ],
)
def test_a_rulebook_that_cannot_be_used(example: Path, line: str, told: str) -> None:
    """A rulebook that cannot be used is a mistake of the journal: told, and exit status 1."""
    said = run("claim", add(example, line))
    assert (said.status, said.out) == (1, "")
    assert told in said.err
    assert run("claim", example, "--rulebook", "eu").status == 1
    assert "On this record the share is" in run("claim", example, "--rulebook", "eu").out


def test_own_without_its_lines(example: Path) -> None:
    """`--rulebook own` without measure and limit in journal.yaml is refused with what to write."""
    said = run("claim", add(example, "rulebook: eu\n"), "--rulebook", "own")
    assert (said.status, said.out) == (2, "")
    assert "write own rulebook: {measure: points, limit: more than 0.5}" in said.err


def test_mistakes_are_told_and_the_rest_counts(example: Path) -> None:
    """With a mistake the claim is printed all the same, the mistake beside it, and status 1."""
    add(example, "rulebook: us-checklist\n")
    sound = run("claim", example)
    write(example, {"notes/2026-08-01.md": MISTAKE})
    spoilt, document = run("claim", example), run("claim", example, "--json")
    assert (sound.status, spoilt.status, document.status) == (0, 1, 1)
    assert spoilt.out.splitlines()[:3] == sound.out.splitlines()[:3]
    for said in (spoilt, document):
        assert len(said.err.splitlines()) == 1
        assert said.err.startswith("notes/2026-08-01.md:2:8: unreadable: 'all day'")
    hold_to_the_contract(json.loads(document.out), "us-checklist")


def test_if_holds_both_states(checklist: Path) -> None:
    """`--if` gives the state after under the contract's keys, and the one before in `before`."""
    now = json.loads(run("claim", checklist, "--json").out)
    then = json.loads(
        run("claim", checklist, "--if", "I02=paid:1.0", "--if", "W02=paid:0.5", "--json").out
    )
    hold_to_the_contract(then, "us-checklist")
    assert then.pop("before") == now
    assert now["columns"]["paid"] == "2.0"
    assert then["columns"]["paid"] == "3.0"
    assert float(then["share"]) < float(now["share"])
    assert "before" not in now


def test_if_in_words(checklist: Path) -> None:
    """`--if` shows the claim now and then, and what the record would have to disclose."""
    out = run("claim", checklist, "--if", "I02=paid:1.0", "--if", "E01=paid:0.6").out
    assert re.search(r"(?m)^share +57\.8 % +\d\d\.\d %$", out)
    assert "\nWith that the share is " in out
    assert "\nE01 is done: finished work cannot be hired out, so this only reckons.\n" in out
    assert "role: paid on I02 and E01, or away with as: paid\n" in out
    rulebook, _ = find_rulebook("us-checklist")
    assert rulebook
    assert all(f"\n- {words}\n" in out for words in rulebook.disclose)
    lost = run("claim", checklist, *(word for one in LARGE for word in ("--if", one)))
    assert "\nSo the limit would be lost.\n" in lost.out


LARGE = ("T09=paid:1", "W12=paid:1", "I02=paid:1", "E09=paid:.9", "C05=paid:.7", "I01=paid:.9")


def test_if_changes_no_file(checklist: Path) -> None:
    """A supposition is reckoned and never written."""
    before = originals(checklist)
    for words in WORDS:
        assert run(words[0], checklist, *words[1:]).status == 0
    assert originals(checklist) == before


def test_hire_in_words_and_as_json(checklist: Path) -> None:
    """`--hire` takes an area or a task, tells how much could go, and adds `hire` to the JSON."""
    said = run("claim", checklist, "--hire", "I")
    assert "\nI: 6 tasks of 6 still open: I01, I02, I03, I04, I05 and I06\n" in said.out
    assert "\nThere the amateurs claim 3.4 points.\n" in said.out
    assert "By area" not in said.out
    document = json.loads(run("claim", checklist, "--hire", "I", "--hire", "W01", "--json").out)
    hire = document["hire"]
    assert hire["tasks"] == ["I01", "I02", "I03", "I04", "I05", "I06", "W01"]
    assert (hire["builder"], hire["unclaimed"]) == ("3.7", "1.3")
    assert float(hire["most"]) <= float(document["headroom"])


def test_hire_after_a_supposition(checklist: Path) -> None:
    """Together with `--if`, `--hire` reckons on the state after."""
    document = json.loads(
        run("claim", checklist, "--if", "I02=paid:1", "--hire", "I02", "--json").out
    )
    assert (document["hire"]["builder"], document["hire"]["most"]) == ("0.0", "0.0")


@pytest.mark.parametrize(
    ("words", "told"),
    [
        (["--if", "I2=paid:0.5"], "'I2' is no task of the work list; did you mean 'I02'?"),
        (["--if", "I02"], "'I02' cannot be read; write TASK=paid:0.5"),
        (["--if", "I02=paid:0.55"], "'0.55' is not a credit in tenths"),
        (["--if", "U05=paid:0.5"], "U05 does not apply to this aircraft"),
        (["--if", "E01=paid:0.7"], "E01 has 0.6 left beside its maker's 0.4; write at most 0.6"),
        (["--if", "I02=paid:1", "--if", "I02=paid:0"], "I02 is supposed twice; write it once"),
        (["--hire", "I2"], "'I2' is no task and no area of the work list; did you mean 'I02'?"),
        (["--hire", "U05"], "nothing of U05 applies to this aircraft"),
    ],
)
def test_what_is_called_wrongly(checklist: Path, words: list[str], told: str) -> None:
    """What cannot be supposed or hired is refused with a sentence and status 2, nothing printed."""
    for more in ([], ["--json"]):
        said = run("claim", checklist, *words, *more)
        assert (said.status, said.out) == (2, "")
        assert said.err.startswith(f"builderlog: {told}")
        assert said.err.count("\n") == 1


def test_an_unknown_rulebook_by_option(template: Path) -> None:
    """A name that no rulebook has is refused with those that there are."""
    said = run("claim", template, "--rulebook", "us")
    assert (said.status, said.out) == (2, "")
    assert all(name in said.err for name in RULEBOOKS)


@pytest.mark.parametrize(
    ("name", "asked"),
    [
        ('"W=1"', "W=1=paid:0.5"),
        ('"W:1"', "W:1=paid:0.5"),
        ('"a=paid:0.1"', "a=paid:0.1=paid:0.5"),
        ("Flügel 1", "Flügel 1=paid : 0,5"),
        ("W1", " W1 = paid: .5 "),
    ],
)
def test_odd_ids_and_spellings(tmp_path: Path, name: str, asked: str) -> None:
    """Ids with signs of the option itself, spaces and a decimal comma are all understood."""
    root = with_tasks(tmp_path, f"task: {name}, credit: {{maker: 0.3, fabrication: 0.7}}")
    document = json.loads(run("claim", root, "--if", asked, "--json").out)
    assert (document["columns"]["paid"], document["columns"]["fabrication"]) == ("0.5", "0.2")
    assert document["before"]["columns"]["paid"] == "0.0"


def test_more_than_the_maker_leaves(tmp_path: Path) -> None:
    """On a task whose maker has 0.3, a whole point for paid help is refused."""
    root = with_tasks(tmp_path, "task: W1, credit: {maker: 0.3, fabrication: 0.7}")
    said = run("claim", root, "--if", "W1=paid:1.0")
    assert (said.status, said.out) == (2, "")
    assert said.err == ("builderlog: W1 has 0.7 left beside its maker's 0.3; write at most 0.7\n")


def test_an_area_of_which_nothing_applies(tmp_path: Path) -> None:
    """Where no task applies there is no share to tell, no table, and the caution all the same."""
    root = with_tasks(tmp_path, "task: W1, applies: no", "task: W2, applies: no")
    said = run("claim", root)
    assert (said.status, said.err) == (0, "")
    first = "On this record no share can be told; the work list has no task that applies."
    assert said.out.splitlines()[1] == first
    assert said.out.splitlines()[-1] == f"Caution: {CAUTION}"
    document = json.loads(run("claim", root, "--json").out)
    assert (document["tasks"], document["areas"], document["meets"]) == (0, {}, False)


def test_no_work_list(tmp_path: Path) -> None:
    """A journal without a work list has no claim to tell, and --hire says so."""
    root = with_tasks(tmp_path)
    (root / "worklist.yaml").unlink()
    assert run("claim", root).status == 0
    said = run("claim", root, "--hire", "W1")
    assert (said.status, said.out) == (2, "")
    assert said.err.endswith("no task and no area of the work list; name one of worklist.yaml\n")


def test_given_marks_of_any_number(tmp_path: Path) -> None:
    """Marks of none and of several count as they are given."""
    root = with_tasks(
        tmp_path, "task: W1, marks: [0, 0]", "task: W2, marks: [2, 5]", journal="rulebook: canada\n"
    )
    document = json.loads(run("claim", root, "--json").out)
    columns = document["columns"]
    assert (columns["maker"], columns["assembly"], columns["unclaimed"]) == ("2", "5", "1")
    assert (document["share"], document["headroom"], document["derived_marks"]) == (
        "0.714286",
        "2",
        [],
    )


def test_piped_lines_are_never_wrapped(checklist: Path) -> None:
    """In a pipe every sentence is one line, without an escape code, whatever its length."""
    for words in WORDS:
        out = run(words[0], checklist, *words[1:]).out
        assert f"\nCaution: {CAUTION}\n" in out
        assert "\x1b" not in out
        assert max(map(len, out.splitlines())) > 100


LONG_AREA = "Undercarriage, brakes and everything that hangs below the floor of the fuselage"
HARD = {
    "journal.yaml": "title: T\nbuilder: Ines\npeople: {Ines: builder, Osk: paid}\n"
    "rulebook: france-hours\nkit hours: 99999h\n",
    "worklist.yaml": f"areas:\n  - area: WWWWWWWWWWWW\n    name: {LONG_AREA}\n    tasks:\n"
    "      - {task: W1, estimate: 99998.999h}\n  - area: F\n    tasks: [F1, F2]\n",
    "notes/2026-01-01.md": "---\nhours: {Osk: 23h30}\ntasks: [W1]\n---\n",
    "notes/2026-01-02.md": "---\nhours: 23h30\n"
    "tasks: [{task: W1, hours: 10, work: fabrication}, {task: W1, hours: 10.0003, work: assembly}]"
    "\n---\n",
}


@pytest.mark.parametrize("words", [*WORDS, ["claim", "--rulebook", "canada"]])
def test_on_a_terminal(checklist: Path, words: list[str]) -> None:
    """On a terminal of 80 columns no line is wider, and every word of the caution is there."""
    fits(show(words[0], checklist, *words[1:]).out)


@pytest.mark.parametrize("words", [["claim"], ["claim", "--if", "W1=paid:50h", "--hire", "F"]])
def test_hard_cases_on_a_terminal(tmp_path: Path, words: list[str]) -> None:
    """Long names, many columns and shares close to the limit fit too, and nothing is cut off."""
    out = fits(show(words[0], write(tmp_path, HARD), *words[1:]).out)
    assert "\N{HORIZONTAL ELLIPSIS}" not in out
    if words == ["claim"]:
        assert "99999:00" in out
        assert "".join(LONG_AREA.split()) in "".join(out.split())


def fits(shown: str) -> str:
    """What came to the screen, of which no line is wider than 80 columns."""
    lines = CONTROL.sub("", shown).replace("\r", "\n").split("\n")
    assert max(map(cell_len, lines)) <= 80
    text = "\n".join(lines)
    assert CAUTION in " ".join(text.split())
    return text


@pytest.mark.slow
@pytest.mark.parametrize("name", SHIPPED)
def test_no_word_grants_anything(template: Path, name: str) -> None:
    """Whatever is asked, by whichever rulebook, nothing is said to be granted."""
    for words in WORDS:
        said = run(words[0], template, "--rulebook", name, *words[1:])
        assert (said.status, said.err) == (0, "")
        assert CAUTION in said.out
        assert not GRANTING.search(said.out)


def test_help_fits() -> None:
    """`claim --help` grants nothing and fits 80 columns."""
    shown = CONTROL.sub("", show("claim", "--help").out)
    assert max(map(len, shown.splitlines())) <= 80
    assert not GRANTING.search(shown)
    assert "grants nothing" in " ".join(shown.split())


def test_a_rulebook_that_cannot_be_used_is_still_one_document(tmp_path: Path) -> None:
    """`--json` prints its keys without a number, and the mistake goes to standard error."""
    root = tmp_path / "journal"
    assert run("start", root, "--rulebook", "eu").status == 0
    settings = root / "journal.yaml"
    settings.write_text(settings.read_text().replace("rulebook: eu", "rulebook: europe"))
    said = run("claim", root, "--json")
    assert said.status == 1
    assert "unknown-word" in said.err
    document = json.loads(said.out)
    assert (document["rulebook"], document["tasks"], document["share"]) == (None, 1, None)
    assert run("claim", root).out == ""
