"""A bag being filled: every file that is put is kept with its digests, the manifests come last."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from contextlib import closing
from dataclasses import dataclass, field
from pathlib import Path

from builderlog.handover.bag_info import PAYLOAD
from builderlog.handover.digests import digests_of_bytes
from builderlog.handover.manifests import manifest_bytes
from builderlog.storing.copying import ALGORITHMS, Digests
from builderlog.storing.outbox import Outbox
from builderlog.storing.refusal import Refused

Advance = Callable[[int], None]  # bytes done


@dataclass(frozen=True, slots=True)
class Original:
    """A file that goes along: where it lies in the bag, where it is, its SHA-256 as it was read.

    `known` is "" where it was not read before.
    """

    path: str
    source: Path
    known: str = ""


@dataclass(slots=True)
class Filling:
    """A bag being filled."""

    outbox: Outbox
    files: dict[str, Digests] = field(default_factory=dict)

    def put(self, path: str, data: bytes) -> None:
        """A file that we made."""
        self.outbox.put(path, data)
        self.files[path] = digests_of_bytes(data)

    def put_all(self, files: Mapping[str, bytes]) -> None:
        """Several of them."""
        for path, data in files.items():
            self.put(path, data)

    def put_files(self, originals: Iterable[Original], advance: Advance) -> None:
        """Files on the disk, each read once.

        Raises `Refused` where one is no longer what was read: the tables tell of that one.
        """
        listed = list(originals)
        done = 0
        with closing(self.outbox.put_files((each.path, each.source) for each in listed)) as put:
            for each, (path, digests) in zip(listed, put, strict=True):
                _refuse_other(each, digests)
                self.files[path] = digests
                done += digests.size_bytes
                advance(done)

    def sizes(self) -> list[int]:
        """The sizes in bytes of all files below data/."""
        return [each.size_bytes for path, each in self.files.items() if path.startswith(PAYLOAD)]

    def put_manifests(self) -> None:
        """The manifests of data/ and then of all else; nothing may be put behind them."""
        for algorithm in ALGORITHMS:
            payload = manifest_bytes(self._listed(algorithm, payload=True))
            self.put(f"manifest-{algorithm}.txt", payload)
        names = {algorithm: f"tagmanifest-{algorithm}.txt" for algorithm in ALGORITHMS}
        mark = self.outbox.mark_bytes([*self.files, *names.values()])
        self.files[self.outbox.mark_path] = digests_of_bytes(mark)
        tags = {names[name]: self._listed(name, payload=False) for name in ALGORITHMS}
        for path, listed in tags.items():
            self.put(path, manifest_bytes(listed))

    def _listed(self, algorithm: str, *, payload: bool) -> dict[str, str]:
        """Path to digest, of the files below data/ or of all others."""
        return {
            path: digests.by_algorithm[algorithm]
            for path, digests in self.files.items()
            if path.startswith(PAYLOAD) is payload
        }


def _refuse_other(original: Original, digests: Digests) -> None:
    if original.known not in ("", digests.by_algorithm["sha256"]):
        raise Refused(f"{original.source} changed while the dossier was made; make it again")
