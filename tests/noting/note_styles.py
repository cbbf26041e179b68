"""Shop notes in every style that builders and YAML allow, drawn by Hypothesis."""

from __future__ import annotations

from hypothesis import strategies as st

from builderlog.noting.new_note import NewPart, NewPhoto
from tests.knowing.worklist_styles import NAMES

DAY = "2026-03-14"
PATH = f"notes/2026/{DAY}-skins.md"
PHOTOS = (
    *("photos:", "photos:   # none yet", "photos: []", "photos: [ ]", "photos: [\n  ]"),
    *("photos: a.jpg", "photos: 'it''s a.jpg'", 'photos: "a.jpg"   # one', "photos: a, b.jpg"),
    *('photos: it\'s "a", b.jpg', "photos:\n  a.jpg", "photos: a\n  b.jpg", "photos:\ta.jpg"),
    *("photos: [a.jpg]", "photos: [a.jpg,b.jpg]", "photos: [a.jpg, {photo: b.jpg, shows: W1},]"),
    *("photos: [\n  a.jpg,   # a\n  b.jpg   # b\n]   # c", "photos: [ {photo: a.jpg} ]"),
    *("photos: {photo: a.jpg}", "photos: {photo: a.jpg,\n  caption: 'x, y'}   # c"),
    *("photos:\n- a.jpg", "photos:\n- a.jpg   # one\n- b.jpg", "photos:\n- a.jpg\n# next: key"),
    *("photos:   # c\n  - a.jpg\n  # - old.jpg", "photos:\n  - a.jpg\n\n  - b.jpg"),
    *("photos:\n    -   a.jpg\n    -   {photo: b.jpg, seen: [Ines]}", "photos:\n  -\n  - a.jpg"),
    *(
        "photos:\n  - photo: a.jpg\n    caption: x\n    # c",
        "photos:\n-   photo: a.jpg\n    as: page",
    ),
    *("photos:\n  -\n    photo: a.jpg\n    shows:\n    - W1", "photos:\n  - - a.jpg"),
    *(
        "photos:\n  photo: a.jpg\n  shows: [W1]",
        "photos:\n   photo: a.jpg   # c\n\n   # d\n   as: page",
    ),
    "photos:\n  - photo: a.jpg\n    caption: |\n      one\n\n      # two\tthree",
    "photos:\n  photo: a.jpg\n  caption: >-\n    one\n\n    two\n   \n    three",
    *(
        "photos:\n  photo: a.jpg\n  caption: 'one\n\n   two'",
        '"photos": [a.jpg]',
        "? photos\n: a.jpg",
    ),
    *("photos:\n  - photo: a.jpg\n    caption: |+\n      one\n\n", "photos: ~", "photos: [ # c\n]"),
)
PARTS = tuple(one.replace("photo", "part").replace("as: page", "ref: 1") for one in PHOTOS)
HOURS = (
    *("hours:", "hours:   # c", "hours: 3h15", "hours: 3,25   # c", "hours: '3:15'"),
    *("hours: 18:00-19:00", 'hours: "18:00-19:00"', "hours: [18:00-19:00,19:00-19:30]"),
    *("hours:\n- 18:00-19:00   # c\n# d", "hours:\n  - 18:00-19:00\n\n  - 19:00-20:00"),
    *("hours: {Ines: 1h}", "hours: {Ines: 1h, Bo: 18:00-19:00}", "hours: { Bo: '1,5' }"),
    *("hours:\n  Ines: 18:00-19:00   # c\n  Bo: 2h", "hours:\n  Bo:\n    - 18:00-19:00\n    # c"),
    *("hours: {Ines: [18:00-19:00], Bo: }", "hours: {Ines: , Bo: 45m}", "hours:\n  Ines:   # c"),
    *("hours:\n    18:00-19:00", "hours: {Ines: 1h,\n  Bo: 2h}"),
)
SNAGS = (
    *("snags:", "snags: []", "snags: nick in the skin", "snags: nick, left   # c", "squawks: a"),
    *("snags: ['it''s', \"b\", c d]", "snags: [{snag: a, no: x1}, {snag: b}]", "snags: {snag: a}"),
    *(
        "snags:\n- a   # c\n- {snag: 'b, c', area: W}\n# d",
        "snags:\n  - snag: a\n    area: W   # c",
    ),
    *("snags:\n  - snag: a\n    no: x7\n  - b", "snags:\n  snag: a\n  task: W1"),
    *("snags:\n  - a\n    b, no", "visits: {who: A, found: burr at rib 4, said: x}"),
    "visits:\n- who: A\n  found:\n  - burr\n  - {snag: b, no: }\n  said: x\n  result: y",
    *('snags:\n  - it\'s "x", y', "snags:\n  - snag: >\n      a\n      b\n    area: W"),
)
OTHERS = (
    *("title: Skins on   # a # b", "title: |+\n  kept\n\n", "tasks: [W14, {task: W15, who: [Bo]}]"),
    *(
        "next:\n- a: b\n\n- 'c'",
        "closes:\n  - W1\n  # - W2",
        "private: yes",
        "place: >\n  the\n  barn",
    ),
    *(
        "written: 2026-03-16\t# late",
        "unknown: {x: [y, {z: 1}]}",
        "decided: {what: a, why: 'b\n  c'}",
    ),
    *(
        '"quoted key": 1',
        "fixed:\n  no: x1\n  how: |\n    a\n\n    b",
        "process:\n\n  what: glue\n",
    ),
)
BETWEEN = ("", "", "", "\n", "# a comment: [here\n", "   # set in\n", "\n# - two\n#three\n")
PROSE = (
    *("", "Prose.\n", "Prose", "\n\tTab and  blanks  \n\n---\nphotos: no\n---\n", "---", "…"),
    *("photos: [a.jpg]\n", "\u2028 old line end\n"),
)  # fmt: skip
LINE_ENDS = ("\n", "\r\n", "\r")


@st.composite
def notes(draw: st.DrawFn, blocks: tuple[str, ...]) -> str:
    """A note without mistakes in its YAML, that has at most one of these blocks."""
    others = draw(
        st.lists(st.sampled_from(OTHERS), max_size=4, unique_by=lambda it: it.split(":")[0])
    )
    mine = draw(st.lists(st.sampled_from(blocks), min_size=0, max_size=1))
    keys = draw(st.permutations([*others, *mine, *draw(st.sampled_from([[], [f"date: {DAY}"]]))]))
    front = "".join(f"{draw(st.sampled_from(BETWEEN))}{key}\n" for key in keys)
    front += draw(st.sampled_from(BETWEEN))
    if not keys and draw(st.booleans()):
        text = draw(st.sampled_from(PROSE)).replace("---", "***")  # no front matter at all
    else:
        text = f"{draw(st.sampled_from(['', '', chr(10)]))}---\n{front}---"
        text += "\n" + draw(st.sampled_from(PROSE)) if draw(st.booleans()) else ""
    return draw(st.sampled_from(["", "\ufeff"])) + text.replace(
        "\n", draw(st.sampled_from(LINE_ENDS))
    )


@st.composite
def photos(draw: st.DrawFn) -> list[NewPhoto]:
    """Pictures, with any of what may be said of them."""
    few = st.lists(st.sampled_from(["W14", "No", "#1", "a, b"]), max_size=2).map(tuple)
    names = draw(st.lists(st.integers(1, 99), min_size=1, max_size=3, unique=True))
    return [
        NewPhoto(
            f"photos/2026/{draw(st.sampled_from(['', 'x: y, ', 'é #']))}{name}.jpg",
            shows=draw(few),
            seen=draw(few),
            caption=draw(st.just("") | NAMES),
            page=draw(st.booleans()),
        )
        for name in names
    ]


PARTS_TO_ADD = st.lists(
    st.builds(NewPart, NAMES, count=st.sampled_from(["", "12"]), source=st.just("") | NAMES),
    min_size=1,
    max_size=3,
)
