"""Which camera took a picture is read from its Exif, whatever the kind of file."""

from __future__ import annotations

from pathlib import Path

import pytest
from PIL import Image

from builderlog.reading.camera import camera_of
from tests.drawing.picture_files import corners, encode

MAKE, MODEL = 0x010F, 0x0110


def named(make: str, model: str, kind: str = "JPEG") -> bytes:
    """A small picture that names its camera."""
    exif = Image.Exif()
    exif[MAKE], exif[MODEL] = make, model
    return encode(corners(), kind, exif=exif.tobytes())


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "WEBP", "HEIF", "AVIF"])
def test_maker_and_model(tmp_path: Path, kind: str) -> None:
    """Maker and model are told of each kind of picture."""
    (tmp_path / "a").write_bytes(named("Fernon", "Five", kind))
    assert camera_of(tmp_path / "a") == "Fernon Five"


def test_the_maker_is_named_once(tmp_path: Path) -> None:
    """A model that begins with its maker's name is enough."""
    (tmp_path / "a").write_bytes(named("Fernon", "Fernon Zed  II"))
    assert camera_of(tmp_path / "a") == "Fernon Zed II"


def test_what_names_no_camera(tmp_path: Path) -> None:
    """A picture without Exif, what is no picture and what is not there have no camera."""
    (tmp_path / "plain").write_bytes(encode(corners(), "JPEG"))
    (tmp_path / "text").write_bytes(b"no picture")
    assert [camera_of(tmp_path / name) for name in ("plain", "text", "absent")] == ["", "", ""]
