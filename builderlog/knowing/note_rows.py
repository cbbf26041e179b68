"""The rows inside a shop note's lists: their keys, and how each row becomes an entry.

What a note says is made here; what follows from settings, work list and other notes is not.
"""

from __future__ import annotations

from dataclasses import dataclass
from decimal import Decimal
from typing import Any

from builderlog.knowing.entries import (
    Away,
    Bulletin,
    Decided,
    FixedLine,
    Measured,
    Money,
    PartLine,
    PartStatus,
    PhotoLine,
    Process,
    SnagLine,
    TaskLine,
    Torqued,
    Visit,
    Work,
)
from builderlog.knowing.forms import (
    Choice,
    Day,
    Desk,
    Key,
    LastDay,
    Many,
    Parsed,
    Row,
    Rows,
    Text,
    Time,
    YesNo,
)
from builderlog.knowing.money import parse_money
from builderlog.knowing.units import Quantity, parse_count, parse_quantity
from builderlog.reading.words import Node

TEXT = Text()
NAME = Text("a name")
NAMES = Many(NAME)
TASK_ID = Text("a task")
FILE = Text("a path from the journal's folder")
COUNT: Parsed[Decimal] = Parsed("a number", parse_count)
QUANTITY: Parsed[Quantity] = Parsed("a value with its unit", parse_quantity)


@dataclass(frozen=True, slots=True)
class Cost:
    """An amount and its currency; a bare amount is in the journal's currency."""

    name: str = "an amount and its currency"

    def read(self, node: Node, desk: Desk) -> Money | None:
        def parse(text: str) -> Money:
            return parse_money(text, desk.currency)

        return Parsed(self.name, parse).read(node, desk)


WORK = Choice(tuple(Work))
K = Key[Any]

T_TASK = K("task", TASK_ID, "the task's id in the work list", "W14")
T_HOURS = K("hours", Time(), "how long, each person named in who", "2.5")
T_WHO = K("who", NAMES, "who did it; left out: the builder", "[Ines, Tomas]")
T_WORK = K("work", WORK, "kind of work; left out: the task's own", "fabrication")
T_PER = K("per", TEXT, "the drawing or manual page followed", "manual 27-3 rev C")


def _task(row: Row) -> TaskLine:
    work = row.get(T_WORK)
    return TaskLine(
        task=row.need(T_TASK),
        place=row.place,
        length=row.get(T_HOURS),
        who=row.many(T_WHO),
        work=Work(work) if work else None,
        per=row.get(T_PER),
    )


P_PART = K("part", TEXT, "what it is", "AN3-5A bolt")
P_COUNT = K("count", COUNT, "how many", "12")
P_COST = K("cost", Cost(), "for the whole entry, with its currency", "8.40 USD")
P_FROM = K("from", TEXT, "who supplied it", "Hardware supplier")
P_STATUS = K("status", Choice(tuple(PartStatus)), "where it stands", "fitted")
P_DUE = K("due", Day(), "when it should come", "2026-04-02")
P_REF = K("ref", TEXT, "part or serial number", "S-1042")
P_FOR = K("for", TASK_ID, "the task it is for", "W14")
P_RECEIPT = K("receipt", FILE, "its invoice or delivery note", "receipts/2026-03-02.pdf")


def _part(row: Row) -> PartLine:
    status = row.get(P_STATUS)
    return PartLine(
        part=row.need(P_PART),
        place=row.place,
        count=row.get(P_COUNT),
        cost=row.get(P_COST),
        source=row.get(P_FROM),
        status=PartStatus(status) if status else None,
        due=row.get(P_DUE),
        ref=row.get(P_REF),
        task=row.get(P_FOR),
        receipt=row.get(P_RECEIPT),
    )


H_PHOTO = K("photo", FILE, "the picture's path from the journal's folder", "photos/2026/skins.jpg")
H_SHOWS = K("shows", Many(TASK_ID), "the tasks it shows", "[W14]")
H_SEEN = K("seen", NAMES, "the people in it", "[Ines]")
H_CAPTION = K("caption", TEXT, "what a reader should see in it", "Skins held with clecos")
H_PRIVATE = K("private", YesNo(), "yes: for the inspector only", "yes")
H_AS = K("as", Choice(("page",)), "page: a scanned page of a paper notebook", "page")


def _photo(row: Row) -> PhotoLine:
    """A `private:` that cannot be read keeps the picture private until it is mended."""
    unread = H_PRIVATE.word in row.values and row.get(H_PRIVATE) is None
    return PhotoLine(
        photo=row.need(H_PHOTO),
        place=row.place,
        shows=row.many(H_SHOWS),
        seen=row.many(H_SEEN),
        caption=row.get(H_CAPTION),
        private=unread or bool(row.get(H_PRIVATE)),
        page=row.get(H_AS) == "page",
    )


M_WHAT = K("what", TEXT, "what was measured", "gap at the hinge")
M_VALUE = K("value", QUANTITY, "the value found", "0.8 mm")
M_LIMIT = K("limit", QUANTITY, "the value allowed", "<= 1 mm")


def _measured(row: Row) -> Measured:
    return Measured(row.need(M_WHAT), row.place, row.get(M_VALUE), row.get(M_LIMIT))


Q_WHERE = K("where", TEXT, "which fasteners", "left aileron hinge")
Q_BOLT = K("bolt", TEXT, "the bolt", "AN3-5A")
Q_NUT = K("nut", Choice(("tension", "shear", "other")), "the kind of nut", "shear")
Q_THREADS = K("threads", Choice(("dry", "oiled")), "the threads", "dry")
Q_COUNT = K("count", COUNT, "how many", "4")
Q_TO = K("to", QUANTITY, "the torque wanted, without drag", "20..25 in-lb")
Q_DRAG = K("drag", QUANTITY, "the friction drag of the nut", "3 in-lb")
Q_SET = K("set", QUANTITY, "what the wrench showed", "26 in-lb")
Q_EXTENSION = K("extension", TEXT, "an adapter on the wrench and its lengths", "2 in on 10 in")
Q_SOURCE = K("source", TEXT, "where the wanted value comes from", "kit manual 51-2")
Q_WRENCH = K("wrench", NAME, "the wrench, as declared in journal.yaml", "small wrench")
Q_MARKED = K("marked", YesNo(), "a mark was put across nut and part", "yes")
Q_SAFETIED = K("safetied", Choice(("cotter", "wire", "locknut")), "how it is secured", "cotter")
Q_BY = K("by", NAMES, "who did it", "Ines")
Q_WITNESS = K("witness", NAMES, "who saw it", "Tomas")


def _torqued(row: Row) -> Torqued:
    return Torqued(
        where=row.get(Q_WHERE),
        place=row.place,
        bolt=row.get(Q_BOLT),
        nut=row.get(Q_NUT),
        threads=row.get(Q_THREADS),
        count=row.get(Q_COUNT),
        wanted=row.get(Q_TO),
        drag=row.get(Q_DRAG),
        set_to=row.get(Q_SET),
        extension=row.get(Q_EXTENSION),
        source=row.get(Q_SOURCE),
        wrench=row.get(Q_WRENCH),
        marked=row.get(Q_MARKED),
        safetied=row.get(Q_SAFETIED),
        by=row.many(Q_BY),
        witness=row.many(Q_WITNESS),
    )


R_WHAT = K("what", TEXT, "the material", "epoxy primer")
R_BATCH = K("batch", TEXT, "its batch", "B-2207")
R_EXPIRES = K("expires", LastDay(), "its last day, or month", "2027-01")
R_MIX = K("mix", TEXT, "the mixing ratio", "4 to 1")
R_COAT = K("coat", TEXT, "which coat", "second")
R_TEMPERATURE = K("temperature", QUANTITY, "in the shop", "19 °C")
R_HUMIDITY = K("humidity", QUANTITY, "in the shop", "55 %")
R_SAMPLE = K("sample", TEXT, "the sample kept", "tin lid in the drawer")


def _process(row: Row) -> Process:
    return Process(
        what=row.get(R_WHAT),
        place=row.place,
        batch=row.get(R_BATCH),
        expires=row.get(R_EXPIRES),
        mix=row.get(R_MIX),
        coat=row.get(R_COAT),
        temperature=row.get(R_TEMPERATURE),
        humidity=row.get(R_HUMIDITY),
        sample=row.get(R_SAMPLE),
    )


S_SNAG = K("snag", TEXT, "what was found wrong or forgotten", "nick in the left skin")
S_AREA = K("area", NAME, "the area", "W")
S_TASK = K("task", TASK_ID, "the task", "W14")
S_NO = K("no", TEXT, "its number; left out: date and place that day", "17")


def _snag(row: Row) -> SnagLine:
    return SnagLine(
        row.need(S_SNAG),
        row.place,
        row.get(S_AREA),
        row.get(S_TASK),
        row.get(S_NO),
    )


SNAG_ROW = Rows("a snag", (S_SNAG, S_AREA, S_TASK, S_NO), _snag, ("snag",), "snag")

F_NO = K("no", TEXT, "the snag's number", "2026-03-14.2")
F_HOW = K("how", TEXT, "how it was put right", "drilled out and an oversize rivet set")
F_BY = K("by", NAMES, "who did it", "Ines")
F_WITNESS = K("witness", NAMES, "who saw it", "Tomas")


def _fixed(row: Row) -> FixedLine:
    return FixedLine(
        row.need(F_NO),
        row.place,
        row.get(F_HOW),
        row.many(F_BY),
        row.many(F_WITNESS),
    )


D_WHAT = K("what", TEXT, "what was decided", "flush rivets on the top skin")
D_WHY = K("why", TEXT, "the reason", "the paint will show every head")
D_INSTEAD = K("instead of", TEXT, "what it replaces", "universal heads")
D_AGAIN = K("again", TEXT, "when to look at it again", "before the bottom skin")


def _decided(row: Row) -> Decided:
    return Decided(
        row.need(D_WHAT),
        row.place,
        row.get(D_WHY),
        row.get(D_INSTEAD),
        row.get(D_AGAIN),
    )


V_WHO = K("who", NAMES, "the names of all persons involved", "[A. Person, B. Person]")
V_AS = K("as", TEXT, "in what capacity", "technical counsellor")
V_LOOKED = K("looked at", Many(TASK_ID), "areas or tasks", "[W, W14]")
V_SAID = K("said", TEXT, "what they said", "good shop heads")
V_FOUND = K("found", Many(SNAG_ROW), "defects found; each becomes a snag", "burr at rib 4")
V_SHEET = K("sheet", FILE, "the sheet they left", "receipts/visit.pdf")
V_RESULT = K("result", TEXT, "the result, in their words", "go on")


def _visit(row: Row) -> Visit:
    return Visit(
        who=row.many(V_WHO),
        place=row.place,
        capacity=row.get(V_AS),
        looked_at=row.many(V_LOOKED),
        said=row.get(V_SAID),
        found=row.many(V_FOUND),
        sheet=row.get(V_SHEET),
        result=row.get(V_RESULT),
    )


A_WHAT = K("what", TEXT, "what left the shop", "seat shells to be covered")
A_TASK = K("task", TASK_ID, "the task it belongs to", "C7")
A_WITH = K("with", TEXT, "who has it", "a trim shop")
A_AS = K("as", Choice(("paid", "maker", "unpaid")), "in what capacity", "paid")
A_SENT = K("sent", Day(), "when it left", "2026-03-02")
A_DUE = K("due", Day(), "when it should be back", "2026-03-20")
A_BACK = K("back", Day(), "when it came back", "2026-03-24")


def _away(row: Row) -> Away:
    return Away(
        what=row.need(A_WHAT),
        place=row.place,
        task=row.get(A_TASK),
        firm=row.get(A_WITH),
        capacity=row.get(A_AS),
        sent=row.get(A_SENT),
        due=row.get(A_DUE),
        back=row.get(A_BACK),
    )


B_NO = K("no", TEXT, "the bulletin's number", "SB-12")
B_APPLIES = K("applies", YesNo(), "whether it concerns this aircraft", "yes")
B_DONE = K("done", TEXT, "when it was done, or no", "2026-03-14")


def _bulletin(row: Row) -> Bulletin:
    return Bulletin(row.need(B_NO), row.place, row.get(B_APPLIES), row.get(B_DONE))


TASK_ROW = Rows("a task", (T_TASK, T_HOURS, T_WHO, T_WORK, T_PER), _task, ("task",), "task")
PART_ROW = Rows(
    "a part",
    (P_PART, P_COUNT, P_COST, P_FROM, P_STATUS, P_DUE, P_REF, P_FOR, P_RECEIPT),
    _part,
    ("part",),
    "part",
)
PHOTO_ROW = Rows(
    "a photo", (H_PHOTO, H_SHOWS, H_SEEN, H_CAPTION, H_PRIVATE, H_AS), _photo, ("photo",), "photo"
)
MEASURED_ROW = Rows("a measurement", (M_WHAT, M_VALUE, M_LIMIT), _measured, ("what",), None)
TORQUED_ROW = Rows(
    "a torque entry",
    (
        *(Q_WHERE, Q_BOLT, Q_NUT, Q_THREADS, Q_COUNT, Q_TO, Q_DRAG, Q_SET, Q_EXTENSION),
        *(Q_SOURCE, Q_WRENCH, Q_MARKED, Q_SAFETIED, Q_BY, Q_WITNESS),
    ),
    _torqued,
    (),
    None,
)
PROCESS_ROW = Rows(
    "a process",
    (R_WHAT, R_BATCH, R_EXPIRES, R_MIX, R_COAT, R_TEMPERATURE, R_HUMIDITY, R_SAMPLE),
    _process,
    (),
    None,
)
FIXED_ROW = Rows("a snag put right", (F_NO, F_HOW, F_BY, F_WITNESS), _fixed, ("no",), "no")
DECIDED_ROW = Rows("a decision", (D_WHAT, D_WHY, D_INSTEAD, D_AGAIN), _decided, ("what",), "what")
VISIT_ROW = Rows(
    "a visit", (V_WHO, V_AS, V_LOOKED, V_SAID, V_FOUND, V_SHEET, V_RESULT), _visit, ("who",), None
)
AWAY_ROW = Rows(
    "work away", (A_WHAT, A_TASK, A_WITH, A_AS, A_SENT, A_DUE, A_BACK), _away, ("what",), None
)
BULLETIN_ROW = Rows("a bulletin", (B_NO, B_APPLIES, B_DONE), _bulletin, ("no",), "no")
