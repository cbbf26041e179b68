"""The parts of a form as they arrive: fields bounded, pictures aside, anything else refused."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import TYPE_CHECKING

from python_multipart.multipart import parse_options_header

from builderlog.reading.photo_file import KINDS_SHOWN
from builderlog.reading.picture_bytes import describe_stranger, tell_kind
from builderlog.storing.incoming import Incoming

if TYPE_CHECKING:
    from python_multipart.multipart import MultipartCallbacks

MEGABYTE = 1 << 20
ENOUGH_TO_KNOW = 64  # bytes by which a picture is known
TOKEN, TOKEN_HEADER = "token", "x-bench-token"
STALE = "this page is older than the bench that runs now; load it again, then send"
BROKEN = "the form broke off or cannot be read; send it again"


class UploadRefused(Exception):
    """Status and a sentence for the builder: what came, what is wrong with it, what to do."""

    def __init__(self, status: int, sentence: str) -> None:
        """`status` is that of the answer."""
        super().__init__(sentence)
        self.status = status
        self.sentence = sentence


@dataclass(frozen=True, slots=True)
class Limits:
    """How much one request may bring, and how long it may keep us waiting."""

    one_file: int = 64 * MEGABYTE
    whole: int = 192 * MEGABYTE
    files: int = 24
    one_field: int = MEGABYTE
    fields: int = 4000
    pause_seconds: float = 20.0  # without a single byte
    whole_seconds: float = 600.0


@dataclass(frozen=True, slots=True)
class Upload:
    """A file that came: under which field, how the sender calls it, and where it lies."""

    field: str
    name: str
    incoming: Incoming


@dataclass(slots=True)
class Received:
    """A form that came whole."""

    fields: dict[str, list[str]] = field(default_factory=dict)
    uploads: list[Upload] = field(default_factory=list)


@dataclass(frozen=True, slots=True)
class Gate:
    """What a request must show before its files are taken: the token, and the limits."""

    admits: Callable[[str], bool]  # a token
    cache: Path  # the journal's `.builderlog`
    limits: Limits = Limits()


def too_much(limit: int) -> UploadRefused:
    """More came than is taken."""
    return UploadRefused(
        413,
        f"more than {limit // MEGABYTE} MB came; a picture may have 64 MB, "
        "so send fewer at once, or put large ones into the folder inbox/ yourself",
    )


class Parts:
    """Fills a form from what the parser tells of it; what is raised here ends the parsing."""

    def __init__(self, form: Received, gate: Gate, shown: Callable[[], bool]) -> None:
        """`shown` says whether the token was shown by now: no file is taken before."""
        self._form, self._gate, self._shown = form, gate, shown
        self._header = (bytearray(), bytearray())  # the one that is being read: name, value
        self._disposition = b""
        self._field = ""
        self._name: str | None = None  # the sender's name of a file; None for a field of words
        self._value = bytearray()
        self._upload: Upload | None = None
        self.waiting: list[tuple[Incoming, bytes]] = []
        self.ended = False

    def callbacks(self) -> MultipartCallbacks:
        """What the parser is to call."""
        return {
            "on_part_begin": self._begin,
            "on_header_field": lambda data, a, b: self._header[0].extend(data[a:b]),
            "on_header_value": lambda data, a, b: self._header[1].extend(data[a:b]),
            "on_header_end": self._end_header,
            "on_headers_finished": self._open,
            "on_part_data": lambda data, a, b: self._take(data[a:b]),
            "on_part_end": self._end,
            "on_end": self._finish,
        }

    def write_waiting(self) -> None:
        """Writes what came; called in another thread, while the parser rests."""
        for incoming, data in self.waiting:
            incoming.write(data)
        self.waiting.clear()

    def _begin(self) -> None:
        self._disposition, self._upload = b"", None
        self._value.clear()

    def _end_header(self) -> None:
        name, value = self._header
        if name.lower() == b"content-disposition":
            self._disposition = bytes(value)
        name.clear()
        value.clear()

    def _open(self) -> None:
        _, options = parse_options_header(self._disposition)
        self._field = options.get(b"name", b"").decode("utf-8", "replace")
        name = options.get(b"filename")
        self._name = None if name is None else name.decode("utf-8", "replace")
        if self._name is not None and not self._shown():
            raise UploadRefused(403, STALE)

    def _take(self, data: bytes) -> None:
        """Bytes of a field, or of a file: its first ones decide whether it is a picture."""
        if self._upload:
            self._write(self._upload.incoming, data)
            return
        self._value += data
        if self._name is None and len(self._value) > self._gate.limits.one_field:
            raise too_much(self._gate.limits.one_field)
        if self._name is not None and len(self._value) >= ENOUGH_TO_KNOW:
            self._begin_file(self._name)

    def _begin_file(self, name: str) -> None:
        begun = bytes(self._value)
        self._value.clear()
        if not tell_kind(begun):
            raise UploadRefused(415, _no_picture(name, begun))
        if len(self._form.uploads) >= self._gate.limits.files:
            told = f"more than {self._gate.limits.files} pictures came at once; send fewer"
            raise UploadRefused(413, told)
        self._upload = Upload(self._field, name, Incoming(self._gate.cache))
        self._form.uploads.append(self._upload)
        self._write(self._upload.incoming, begun)

    def _write(self, incoming: Incoming, data: bytes) -> None:
        waiting = sum(len(more) for other, more in self.waiting if other is incoming)
        if incoming.size + waiting + len(data) > self._gate.limits.one_file:
            raise too_much(self._gate.limits.one_file)
        self.waiting.append((incoming, data))

    def _end(self) -> None:
        """Also a file that ends within its first bytes; a chooser without a choice is no file."""
        if self._name is None:
            self._keep(self._field, self._value.decode("utf-8", "replace"))
        elif not self._upload and (self._name or self._value):
            self._begin_file(self._name)

    def _keep(self, name: str, value: str) -> None:
        kept = self._form.fields
        if sum(map(len, kept.values())) >= self._gate.limits.fields:
            raise UploadRefused(413, "the form has too many fields; write the rest into the note")
        kept.setdefault(name, []).append(value)

    def _finish(self) -> None:
        self.ended = True


def _no_picture(name: str, begun: bytes) -> str:
    found = describe_stranger(begun)
    what = found if found == "not a picture" else f"{found}, not a picture that can be shown"
    return f"'{name}' is {what}; send {KINDS_SHOWN}"
