"""The words that tell an inspector how to read the record: fixed sentences, facts with sources."""

from __future__ import annotations

from collections.abc import Mapping

WHAT_IT_IS = (
    (
        "The builder kept a shop note for each day at the aircraft: a plain text file with the "
        "time of everyone who worked, the tasks, and the pictures of that day. This record is "
        "made from those notes by rule: the same notes give the same pages, whoever makes them. "
        "It adds nothing and leaves nothing out but what is named in the chapter of notes marked "
        "private."
    ),
    (
        "To find who did a task, when, and who looked at it: look up any word of its name in the "
        "index, or turn to the chapter of its area, which begins with a table of just that. Each "
        "task that was begun has one evidence sheet."
    ),
)
NOT_CLAIMED = (
    (
        "This record supports the builder's own statement. It grants nothing and replaces no "
        "inspection: whether the aircraft and its builder qualify is for the authority alone to "
        "decide."
    ),
    (
        "It shows what the builder wrote. Digests and seals show whether a file was changed "
        "since; they do not show that what was written is true."
    ),
    (
        "Nothing here is a judgement of airworthiness. Where a value is held against a limit, the "
        "limit is the one that the builder's note states; the kit's and the parts makers' manuals "
        "prevail."
    ),
)
COUNTING = (
    (
        "Time is kept in whole seconds and shown to the minute, half a minute upwards; so a sum "
        "may differ by a minute from what the eye adds up. The tables (data/tables, CSV) have the "
        "seconds."
    ),
    (
        "Two people at one task for two hours are four hours. A day of work is a date with time "
        "on it. Hours count in the totals whether their note is private or not. Work after the "
        "day of the certificate is no build time."
    ),
    (
        "Shares are compared with the rulebook's limit before anything is rounded, and are shown "
        "with as many decimals as it takes not to stand on the limit's other side. What nobody "
        "claims of a task never counts for the builder."
    ),
    (
        "A picture counts once, however many notes show it. A measurement, torque or process "
        "entry belongs to its note and so to each task that the note works on."
    ),
)
CITING = (
    (
        "A note is cited by its day, year first (2026-03-14), and where there is room by its "
        "title. The note itself is a text file below data/notes, in its year's folder or wherever "
        "the builder put it; on the binder's pages each citation leads there."
    ),
    (
        "A picture is cited by its number. Numbers run by the time of taking, and the photo index "
        "tells for each when it was taken, in which note it stands, what it shows, who is seen, "
        "and the first digits of its digest. The originals lie unaltered below data/photos."
    ),
    (
        "Where something is not on record the page says so in words: a question of the authority "
        "that the notes do not answer is told as such, not left out."
    ),
)
CHECKING = (
    (
        "The record lies in a folder that is a bag by the open standard BagIt 1.0 (RFC 8493): "
        "every file is listed with its digest, a number that changes when a single bit of the "
        "file does. Any program that knows the standard can check it. Without one, in a terminal "
        "inside the folder: on Linux sha256sum --check --quiet manifest-sha256.txt, on macOS "
        "shasum -a 256 --check manifest-sha256.txt. READ ME FIRST.txt beside this record has "
        "these commands in full, and those for Windows."
    ),
    (
        "Totals can be added up from data/tables/hours.csv in any spreadsheet; each of its rows "
        "names the note that it comes from, and a note opens in any editor. Nothing needs a "
        "program of ours."
    ),
    (
        "The digests show that no file was changed after the folder was made, as long as the "
        "lists of digests are the ones that were made then. The chapter on sealed months tells "
        "which months were closed earlier than that, and what a seal shows."
    ),
)

# By the ids of chapters. What a chapter of an area holds is said once.
IN_CHAPTERS: Mapping[str, str] = {
    "claim": "The count by its rulebook, by area and in all; hours by area; sources and cautions.",
    "kept": "Notes that friends do not see, and what of them goes along to the inspector.",
    "a-to-z": "Every task by the words of its name, and everyone who worked or looked at it.",
    "help": "Paid help first; work that was away; unpaid help; everyone with role and hours.",
    "visits": "Who came to look at the work, when, what they looked at, said and found.",
    "parts": "Parts and materials with their sources and receipts.",
    "closeout": "Every group of fasteners brought to torque: value, wrench, mark, by whom.",
    "process": "Glue, resin, fabric, primer, heat: batch, temperature, sample; all measurements.",
    "bulletins": "Bulletins of makers and authorities, and what was done about each.",
    "snags": "What was found wrong, how and by whom it was put right, what is open.",
    "decisions": "What was decided, why, and when to look at it again.",
    "papers": "The papers that the authority asks for: what is at hand and what is not.",
    "months": "The months one by one: time, notes, pictures, money.",
    "notes": "Every note in order of its day: who worked, how long, on which tasks.",
    "photos": "Every picture by its number.",
    "contact": "The pictures that no sheet shows, in small.",
    "seals": "Which months were closed when, what was amended, and how soon notes were written.",
    "missing": "Doubts and gaps that the record has by its own count.",
    "remarks": "Empty lines for remarks and signatures.",
}
IN_EACH_AREA = (
    "Of each area: who did which task, when, and who looked at it; the count; then an evidence "
    "sheet for each task that was begun."
)

# Each with its source where one was read; where the authority's own form says otherwise, the form
# prevails.
WORDS: tuple[tuple[str, str], ...] = (
    (
        "Fabrication",
        (
            "Work on a part that brings it toward its finished state: layout, bending, cutting, "
            "drilling, countersinking, straightening, sewing and the like (FAA Order 8130.2J of "
            "21 July 2017, read in part; gluing, forming, riveting, heat treating and coating are "
            "from memory of AC 20-27G). Each entry is fabrication where its note, or the task's "
            "own kind in the work list, says so."
        ),
    ),
    (
        "Assembly",
        "Joining or fitting finished parts to each other (AC 20-27G, from memory).",
    ),
    (
        "Other work",
        (
            "Planning, inventory, taking apart, doing again. It is on record as time, and where "
            "hours are counted it is not claimed."
        ),
    ),
    ("Builder", "One of the amateurs who make the claim, by the role that the journal declares."),
    (
        "Unpaid helper",
        (
            "Someone who works for no pay. Unpaid help does not lessen the amateurs' share (AC "
            "20-27G, from memory) and is on record with names."
        ),
    ),
    (
        "Paid",
        (
            "Help for hire or compensation: commercial assistance, with a column of its own "
            "(Amateur-Built Aircraft Fabrication and Assembly Checklist, 2011, instructions)."
        ),
    ),
    (
        "Maker",
        "The manufacturer of the kit, of a component or of a part (the same instructions).",
    ),
    (
        "Work away",
        "Work that left the shop, with who did it: for pay, by the maker, or by someone unpaid.",
    ),
    (
        "Primary builder",
        (
            "The one builder who is named as such; for a repairman certificate 14 CFR 65.104 asks "
            "for the primary builder of the aircraft."
        ),
    ),
    (
        "Task, area",
        (
            "As the journal's work list has them, in the builder's words; done or open is what "
            "the builder declares."
        ),
    ),
    ("Closed", "From that day on the work cannot be seen: a skin riveted on, a cover glued."),
    ("Snag", "Something found wrong or forgotten, numbered until it is put right."),
    (
        "Second pair of eyes",
        (
            "Someone named as having watched: a nut torqued, a snag put right. Common practice, "
            "no rule."
        ),
    ),
    ("N/A", "The task is on the list and not on this aircraft; it counts nowhere."),
    ("Doubt, gap", "What is counted as written but worth a second look; what evidence is thin."),
)
