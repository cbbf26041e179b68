"""A journal whose names and ids would break a careless page: written as files; invented data."""

from __future__ import annotations

from collections.abc import Iterable

from tests.handover.small_journal import png

PEOPLE = "{Ines: {role: builder, full name: Ines <Aldermark>}, Ada: helper, Osk: paid}"
TASK_IDS = (
    *("W/1", "w-1", "W 1", "..", "con", "#", "%41", "a/", "a.2f", "A.2F", "é", "e\u0301", "ß"),
    *(
        '"><b>x</b>',
        "it's",
        "a&amp;b",
        "{{ 7 }}",
        "?x=1",
        "x: y",
        "x",
        "=1+1",
        "a\u2028b",
        "a\nb",
    ),
)
AREA_IDS = (
    *("W/1", "w-1", "W 1", "..", "con", "CON", "#", "%", "é", "e\u0301", "\u65e5\u672c", "/"),
    *("index", "help", "gaps", "area", "<script>", "x" * 90, "x" * 91, "data/../../x"),
)
ODD = 'it\'s 50 # & "x" \u00e9?.png'  # a name that no page may write as it is
RENAMED = "50 % \\ of\nit.png"  # a name that the bag does not keep
NOTE = "notes/2026-03-01 odd #1 \u00fc.md"
RECEIPT = "receipts/one; two, \u00fc%.pdf"


def quoted(text: str) -> str:
    """A word of YAML, whatever signs it holds."""
    signs = (f"\\x{ord(sign):02x}" if sign in '"\\\n' else sign for sign in text)
    return '"' + "".join(signs).replace("\u2028", "\\L") + '"'


def worklist(areas: Iterable[tuple[str, Iterable[str]]]) -> bytes:
    """A work list of these areas and tasks; every third task is done, each has credit."""
    lines = ["areas:\n"]
    for area, tasks in areas:
        lines.append(
            f"  - area: {quoted(area)}\n    name: <i>{len(lines)}</i> & more\n    tasks:\n"
        )
        for number, task in enumerate(tasks):
            state = "open" if number % 3 else "done"
            credit = "credit: {maker: 0.4, assembly: 0.3, fabrication: 0.2}"
            lines.append(f"      - {{task: {quoted(task)}, state: {state}, {credit}}}\n")
    return "".join(lines).encode()


def odd_files() -> dict[str, bytes]:
    """The journal: odd tasks in the first area, an area for each odd id, and notes on all tasks."""
    areas = [("All", TASK_IDS), *((area, [f"{area}!"]) for area in AREA_IDS)]
    tasks = [*TASK_IDS, *(f"{area}!" for area in AREA_IDS)]
    journal = f"title: </style><b>Odd</b> & sons\nbuilder: Ines\npeople: {PEOPLE}\n"
    shows = f"[{', '.join(map(quoted, TASK_IDS))}]"
    note = (
        "title: <b>Bold</b> & \u00fc\nhours: {Ines: 9h, Ada: 1h}\ntasks:\n"
        + "".join(f"  - {{task: {quoted(task)}, hours: 0:05, per: <u>4</u>}}\n" for task in tasks)
        + f"photos:\n  - {{photo: {quoted('photos/' + ODD)}, shows: {shows}, seen: [Ines]}}\n"
        f"  - {{photo: {quoted('photos/' + RENAMED)}, shows: {shows}, caption: '\"><img src=x>'}}\n"
        f"parts: {{part: Rib, for: {quoted(TASK_IDS[0])}, receipt: {quoted(RECEIPT)}}}\n"
        f"visits: {{who: Hedda, looked at: [{quoted('#')}], sheet: {quoted('tables/claim.csv')}}}\n"
        f"away: {{what: <s>Covers</s>, task: {quoted('..')}, with: A & B, as: paid}}\n"
    )
    return {
        "journal.yaml": f"{journal}rulebook: us-checklist\n".encode(),
        "worklist.yaml": worklist(areas),
        NOTE: f"---\n{note}---\nWords.\n".encode(),
        f"photos/{ODD}": png(21),
        f"photos/{RENAMED}": png(22),
        RECEIPT: b"a receipt",
        "tables/claim.csv": b"the builder's own table",
    }
