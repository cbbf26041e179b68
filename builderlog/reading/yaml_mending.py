"""Broken YAML to a sentence for the builder, and to a chunk with which reading can go on.

A mend never moves a character: the sign that YAML stumbles over is masked by another single
character, so that every later place stays true. The builder's file is not touched.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import yaml

from builderlog.reading.problem import Problem, mistake
from builderlog.reading.quoting import open_bracket, quoted_line, value_end
from builderlog.reading.source import Source
from builderlog.reading.yaml_masks import blanked, masked, put

_MARKERS = re.compile(r"(?:[*&!][^\s,\[\]{}]*\s*)+")
_DOTS = re.compile(r"(?:\A|(?<=[\r\n]))\.\.\.")
_LINE_END = re.compile(r"[\r\n]")
_VALUE_IN_LINE = re.compile(r"\s*(?:(?:-\s+)*[^:\s][^:]*:\s+|(?:-\s+)+)")
_KEY_IN_BRACES = re.compile(r"[{,]\s*[^:,{}\[\]\s][^:,{}\[\]]*:\s+")
_ITEM_IN_BRACKETS = re.compile(r"[\[,]\s*")
_SIGN_REFUSED = (
    "cannot start any token",
    "block sequence entries are not allowed",
    "mapping keys are not allowed",
    "did not find expected node content",  # `{part: ?}`
)
_MARKER_REFUSED = ("a tag", "an anchor", "an alias")
_IN_FLOW = re.compile(
    r"""[\[{,:]\s*(?:"(?:[^"\\]|\\.)*"|'[^']*')|(?<=[\s,\[{])(#[^\r\n]*)""", re.DOTALL
)
GLUED_KEY = re.compile(r"\s*(?:-\s+)*[^\W\d_][\w ]*:(?=[^\s:/])")  # `title:Skins`
_CLOSED_EARLY = re.compile(
    r"(?:^|(?<=[\s,\[{]))(\"[^\"]*\"|'[^']*'|\[[^\[\]\"']*\]|\{[^{}\"']*\})[ \t]*$"
)


@dataclass(frozen=True, slots=True)
class Mend:
    """What to tell, and the chunk to read next (None: reading cannot go on past this)."""

    problems: tuple[Problem, ...]
    chunk: str | None
    skip: frozenset[int] = frozenset()  # comments that a mend itself has made


@dataclass(frozen=True, slots=True)
class _Fault:
    """Where libyaml stopped, with what is needed to say why; all indexes are in the chunk."""

    source: Source
    chunk: str
    base: int
    words: str  # libyaml's own
    index: int
    context: str
    context_index: int | None
    last_quote: int | None  # where the last word begins, if it is quoted over several lines

    @property
    def sign(self) -> str:
        return self.chunk[self.index : self.index + 1]

    def text(self, start: int, end: int) -> str:
        """As the builder wrote it, nothing masked."""
        return self.source.text[self.base + start : self.base + end]

    def mend(self, at: int, code: str, told: str, chunk: str | None) -> Mend:
        """One mistake at `at`, and the chunk to go on with."""
        place = self.source.place(self.base + min(at, len(self.chunk)))
        return Mend((mistake(place, code, told),), chunk)

    def line_span(self, index: int) -> tuple[int, int]:
        start = max(self.chunk.rfind("\n", 0, index), self.chunk.rfind("\r", 0, index)) + 1
        end = _LINE_END.search(self.chunk, index)
        return start, end.start() if end else len(self.chunk)

    def flow(self, index: int) -> str:
        """The innermost bracket that is open before `index`, or nothing."""
        at = open_bracket(self.chunk, index)
        return "" if at is None else self.chunk[at]

    def value_end(self, index: int) -> int:
        """Where the value that holds `index` ends in its line."""
        end = value_end(self.source.text, self.base + index, self.flow(index)) - self.base
        return min(end, len(self.chunk))

    def value_start(self, index: int) -> int | None:
        """Where the value that holds `index` begins in its line; None where no key is in it."""
        line, flow = self.line_span(index)[0], self.flow(index)
        if not flow:
            key = _VALUE_IN_LINE.match(self.chunk, line, index)
            return key.end() if key else None
        before = _KEY_IN_BRACES if flow == "{" else _ITEM_IN_BRACKETS
        starts = [found.end() for found in before.finditer(self.chunk, line, index)]
        return starts[-1] if starts else None

    def quoted(self, start: int, end: int) -> str:
        """The line with these characters in quotes."""
        return quoted_line(self.source, self.base + start, self.base + end)

    def offer(self, index: int) -> str:
        """The line with the value that holds `index` in quotes."""
        start = self.value_start(index)
        return self.quoted(index if start is None else start, self.value_end(index))


@dataclass(frozen=True, slots=True)
class Marker:
    """`*`, `&` or `!` where a value begins, in the chunk, and the bracket that it stands in."""

    index: int
    flow: str
    start: int | None = None  # of the value, where that is not the marker
    of_text: bool = True  # else of a list or table, whose text it can be no part of


def mend_markers(source: Source, chunk: str, base: int, markers: Sequence[Marker]) -> Mend:
    """YAML's aliases, anchors and tags are not used here."""
    problems = tuple(_marked(source, base, marker) for marker in markers)
    chunk = masked(chunk, [marker.index for marker in markers if marker.of_text])
    blanks = (_MARKERS.match(chunk, marker.index) for marker in markers if not marker.of_text)
    return Mend(problems, blanked(chunk, [found.span() for found in blanks if found]))


def _marked(source: Source, base: int, marker: Marker) -> Problem:
    names = {"*": "an alias", "&": "an anchor", "!": "a tag"}
    codes = {"*": "yaml-alias", "&": "yaml-anchor"}
    at = base + marker.index
    found, end = source.text[at], value_end(source.text, at, marker.flow)
    start = at if marker.start is None else base + marker.start
    told = f"'{found}' begins {names.get(found, 'a marker')} of YAML, which a journal does not use"
    if marker.of_text:
        told = f"{told}; if it is part of the text, write: {quoted_line(source, start, end)}"
    else:
        told = f"{told}; delete it"
    return mistake(source.place(at, end), codes.get(found, "yaml-tag"), told)


def mend_error(
    source: Source, chunk: str, base: int, error: yaml.MarkedYAMLError, last_quote: int | None
) -> Mend:
    """The first reading that fits libyaml's complaint; the last of them fits all."""
    context_mark = error.context_mark
    fault = _Fault(
        source,
        chunk,
        base,
        str(error.problem),
        error.problem_mark.index if error.problem_mark else 0,
        str(error.context or ""),
        context_mark.index if context_mark else None,
        last_quote,
    )
    return next(mend for mend in (reading(fault) for reading in _READINGS) if mend is not None)


def _tab(fault: _Fault) -> Mend | None:
    start, end = fault.line_span(fault.index)
    blank = re.compile(r"[ \t]*").match(fault.chunk, start, end)
    tab = fault.chunk.find("\t", start, blank.end() if blank else start)
    tab = fault.index if fault.sign == "\t" else tab
    if tab < 0:
        return None
    told = "a tab stands where YAML wants spaces; write spaces instead"
    return fault.mend(tab, "tab", told, put(fault.chunk, tab, " "))


def _open_quote(fault: _Fault) -> Mend | None:
    """No closing quote at all, or the next quote, lines below, was taken for it."""
    at = fault.context_index if "quoted scalar" in fault.context else fault.last_quote
    if at is None:
        return None
    told = f"the quote that begins here is not closed; close it, or write: {fault.offer(at)}"
    return fault.mend(at, "quote-not-closed", told, masked(fault.chunk, [at]))


def _bad_marker(fault: _Fault) -> Mend | None:
    """`!important,` or `**bold**`: not even a tag or an alias."""
    marker = fault.context.endswith(_MARKER_REFUSED)
    at = fault.context_index if marker else fault.index
    if at is None or not (marker or "tag handle" in fault.words):
        return None
    found = Marker(at, fault.flow(at), fault.value_start(at))
    return mend_markers(fault.source, fault.chunk, fault.base, [found])


def _bad_start(fault: _Fault) -> Mend | None:
    """A value that begins with a sign of YAML's own: `@`, `%`, `>= 1 mm`, `- 3`, `? why`."""
    at = fault.index
    if "block scalar" in fault.context and fault.context_index is not None:
        at = fault.context_index
    elif not any(words in fault.words for words in _SIGN_REFUSED) or fault.sign in ",[]{}":
        return None
    sign = fault.chunk[at : at + 1]
    if not sign.strip():
        return None
    told = f"a value that begins with '{sign}' wants quotes; write: {fault.offer(at)}"
    return fault.mend(at, "wants-quotes", told, masked(fault.chunk, [at]))


def _lost_in_flow(fault: _Fault) -> Mend | None:
    """`{snag: hole at #40, area: W}`: the comment has eaten the closing brace."""
    opened = open_bracket(fault.chunk, fault.index)
    if opened is None:
        return None
    comments = (
        found.start(1)
        for found in _IN_FLOW.finditer(fault.chunk, opened, fault.index)
        if found[1] and found[1][1:2].strip()
    )
    at = next(comments, None)
    if at is None:
        return None
    told = f"YAML takes everything from '#' on for a comment; write: {fault.offer(at)}"
    return fault.mend(at, "comment-cuts-value", told, masked(fault.chunk, [at]))


def _missing_comma(fault: _Fault) -> Mend | None:
    """Braces over several lines, where a line set in further begins with a key after no comma."""
    at = fault.context_index
    if fault.sign != ":" or "flow" not in fault.context or at is None:
        return None
    line = fault.line_span(fault.index)[0]
    if line <= at or _indent(fault, line) <= _indent(fault, fault.line_span(at)[0]):
        return None
    end = len(fault.chunk[:line].rstrip())
    if fault.chunk[end - 1] in ",[{":
        return None
    told = "a comma is missing at the end of this line; write one"
    return fault.mend(end - 1, "comma-missing", told, put(fault.chunk, line - 1, ","))


def _indent(fault: _Fault, line: int) -> int:
    text = fault.chunk[slice(*fault.line_span(line))]
    return len(text) - len(text.lstrip())


def _open_bracket(fault: _Fault) -> Mend | None:
    at = open_bracket(fault.chunk, fault.index)
    if at is None:
        return None
    text = fault.chunk[at : fault.line_span(at)[1]]
    if sum(text.count(sign) for sign in "[{") <= sum(text.count(sign) for sign in "]}"):
        return None
    closing = "}" if fault.chunk[at : at + 1] == "{" else "]"
    told = f"the '{fault.chunk[at : at + 1]}' here is not closed; write '{closing}' at its end"
    return fault.mend(at, "bracket-not-closed", told, _passed_over(fault, at))


def _passed_over(fault: _Fault, at: int) -> str:
    """The chunk without the value at `at`: its line and all lines below that are set in further."""
    start, end = fault.line_span(at)
    depth = _indent(fault, start) + 1
    more = re.compile(rf"(?:(?:\r\n|\n|\r)(?:[ \t]*(?=[\r\n]|\Z)| {{{depth}}}[^\r\n]*))*")
    found = more.match(fault.chunk, end)
    stop = found.end() if found else end
    return blanked(fault.chunk, [(at, stop)])


def _colon(fault: _Fault) -> Mend | None:
    """`title: stop drilled: twice`; a second colon in the same value is mended with the first."""
    refused = "mapping values are not allowed" in fault.words or "flow" in fault.context
    refused = refused or "found unexpected ':'" in fault.words  # `{why: see below:, ...}`
    if fault.sign != ":" or not refused:
        return None
    start = fault.value_start(fault.index)
    if start is None:
        return None if fault.flow(fault.index) else _indented_key(fault)
    end = fault.value_end(fault.index)
    told = f"a colon and a space inside a value want quotes; write: {fault.quoted(start, end)}"
    signs = [at for at in range(fault.index, end) if fault.chunk[at] == ":"]
    return fault.mend(fault.index, "colon-in-value", told, masked(fault.chunk, signs))


def _indented_key(fault: _Fault) -> Mend:
    start = fault.line_span(fault.index)[0]
    above = fault.line_span(max(start - 1, 0))[0]
    if start and GLUED_KEY.match(fault.chunk, above, start):
        return _left_out(fault, above)
    key = fault.text(start, fault.index)
    told = (
        f"'{key.strip()}' is set in further than the line above allows; "
        "begin it where the other keys begin, or put the value above in quotes"
    )
    at = start + len(key) - len(key.lstrip())
    return fault.mend(at, "indentation", told, masked(fault.chunk, [fault.index]))


def _closed_early(fault: _Fault) -> Mend | None:
    """`title: "Skins" on` or `title: [draft] Skins`: the value ends before its text does."""
    start = fault.line_span(fault.index)[0]
    before = _CLOSED_EARLY.search(fault.chunk[start : fault.index])
    if not before or not fault.sign.strip() or fault.sign in ",]}":
        return None
    at = start + before.start(1)
    value = fault.value_start(fault.index)
    inside = fault.chunk[start if value is None else value : at].strip()
    if inside or (fault.chunk[at] in "[{" and fault.flow(at)):
        return None
    code = "text-after-quote" if fault.chunk[at] in "\"'" else "text-after-bracket"
    told = (
        f"text follows the closing '{before[1][-1]}' of this value; "
        f"write: {fault.quoted(at, fault.value_end(fault.index))}"
    )
    return fault.mend(fault.index, code, told, masked(fault.chunk, [at]))


def _extra_sign(fault: _Fault) -> Mend | None:
    """`[x, y]]`, or the comma behind `- {part: bolt},`."""
    if fault.sign in ("]", "}"):
        code, told = "bracket-too-many", f"'{fault.sign}' closes nothing; delete it"
    elif fault.sign == "," and not fault.flow(fault.index):
        code, told = "comma-too-many", "a comma stands behind the end of this value; delete it"
    else:
        return None
    return fault.mend(fault.index, code, told, put(fault.chunk, fault.index, " "))


def _no_colon(fault: _Fault) -> Mend | None:
    at = fault.context_index
    known = "could not find expected ':'" in fault.words or "a directive" in fault.context
    return None if at is None or not known else _left_out(fault, at)


def _left_out(fault: _Fault, at: int) -> Mend:
    """A line that is no key with a value: told, and passed over as a comment."""
    start, end = fault.line_span(at)
    line = fault.text(start, end).strip()
    glued = GLUED_KEY.match(fault.chunk, start, end)
    begin = start + len(fault.chunk[start:end]) - len(fault.chunk[start:end].lstrip())
    if glued:
        code = "no-space-after-colon"
        pasted = f"{fault.text(start, glued.end())} {fault.text(glued.end(), end)}"
        told = f"'{line}' has no space after its colon; write: {pasted.strip()}"
    else:
        code = "no-colon"
        told = f"'{line}' has no colon; write key: value, or put it below the second ---"
    mend = fault.mend(begin, code, told, put(fault.chunk, begin, "#"))
    return replace(mend, skip=frozenset({begin}))


def _document_end(fault: _Fault) -> Mend | None:
    """A line of three dots ends all reading for YAML; the builder goes on below it."""
    dots = [*_DOTS.finditer(fault.chunk, 0, fault.index)]
    if "<document start>" not in fault.words or not dots:
        return None
    at, end = dots[-1].span()
    told = "YAML reads nothing below a line of three dots; delete it"
    return fault.mend(at, "second-document", told, blanked(fault.chunk, [(at, end)]))


def _out_of_line(fault: _Fault) -> Mend | None:
    """A line that begins in a column of its own: passed over with what is set in below it."""
    start, end = fault.line_span(fault.index)
    line = fault.text(start, end)
    if fault.chunk[start : fault.index].strip() or not line.strip() or fault.flow(fault.index):
        return None
    at = start + len(line) - len(line.lstrip())
    told = (
        f"'{line.strip()}' begins in a column of its own and is not read; "
        "begin it where the keys or dashes above begin"
    )
    return fault.mend(at, "indentation", told, _passed_over(fault, at))


def _anything(fault: _Fault) -> Mend:
    start, end = fault.line_span(min(fault.index, max(len(fault.chunk) - 1, 0)))
    told = (
        f"YAML cannot read on at '{fault.text(start, end).strip()}' ({fault.words}); "
        "check that keys of one list begin in the same column and that brackets and quotes close"
    )
    return fault.mend(fault.index, "yaml", told, None)


_READINGS: tuple[Callable[[_Fault], Mend | None], ...] = (
    _tab,
    _open_quote,
    _closed_early,
    _bad_marker,
    _lost_in_flow,
    _bad_start,
    _colon,
    _missing_comma,
    _open_bracket,
    _extra_sign,
    _no_colon,
    _document_end,
    _out_of_line,
    _anything,
)
