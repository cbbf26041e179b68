"""A journal in which every private thing is a marker that stands nowhere else; invented data.

A marker is `zq`, a word, and `qz`: letters alone, so that no escaping in HTML, addresses or
slugs can hide it, and a search that ignores case finds it.
"""

from __future__ import annotations

import base64
import io
import re
from collections.abc import Iterable, Iterator
from pathlib import Path
from urllib.parse import unquote_to_bytes

from PIL import ExifTags, Image, ImageCms, PngImagePlugin
from pillow_heif import register_heif_opener

from tests.command.running import write

EMBEDDED = re.compile(rb"data:([a-z/+]*)[^,\"']*;base64,([A-Za-z0-9+/=%]*)")
MARKER = re.compile(rb"zq[a-z]+?qz", re.IGNORECASE)
COSTS = ("791937.13", "682911.57")  # of a public and of a private note: digits, as money is
SHOW = (
    *("full names", "place", "costs", "suppliers", "receipts", "registration", "serial"),
    *("refs", "snags", "visits", "paid help", "claim"),
)

# What each word of `site: show` lets friends see; of receipts the site has nothing.
OPENED: dict[str, tuple[str, ...]] = {
    "full names": ("zqfullinesqz", "zqfullyesqz"),
    "place": ("zqplaceqz", "zqnoteplaceqz"),
    "costs": (COSTS[0],),
    "suppliers": ("zqkitqz", "zqsupplierqz"),
    "receipts": (),
    "registration": ("zqregistrationqz",),
    "serial": ("zqserialqz",),
    "refs": ("zqrefqz",),
    "snags": ("zqsnagqz", "zqhowqz", "zqfoundqz", "zqsnagnoqz"),
    "visits": ("zqvisitorqz", "zqvisitasqz", "zqsaidqz"),
    "paid help": ("zqpaidyesqz",),
    "claim": (
        *("zqcitationqz", "zqrulebookqz", "zqruleqz", "zqformqz", "zqunsettledqz"),
        *("zqrulecautionqz", "zqrulesourceqz", "zqparagraphqz", "zqsourcesaysqz"),
    ),
}
HEADINGS = ("zqcolumnaqz", "zqcolumnbqz", "zqcolumncqz", "zqcolumndqz")  # claim and paid help

JOURNAL = """\
# zqjournalremarkqz
title: zqtitleqz
builder: zqinesqz
people:
  zqinesqz: {role: builder, full name: zqfullinesqz}
  zqyesqz: {role: helper, full name: zqfullyesqz, may show: yes}
  zqhelperqz: {role: helper, full name: zqfullhelperqz}
  zqnoqz: {role: builder, full name: zqfullnoqz, may show: no}
  zqpaidqz: {role: paid, full name: zqfullpaidqz}
  zqpaidyesqz: {role: paid, may show: yes}
aircraft:
  design: zqdesignqz
  kit: zqkitqz
  registration: zqregistrationqz
  maker: zqmakerqz
  model: zqmodelqz
  serial: zqserialqz
kit evaluated: {date: 2024-05-02, file: papers/zqevaluationqz.pdf, unaltered: yes}
place: zqplaceqz
currency: USD
rulebook: own
own rulebook:
  title: zqrulebookqz
  measure: points
  limit: more than 0.5
  rule: zqruleqz
  citation: zqowncitationqz
  form: zqformqz
  headings: {maker: zqcolumnaqz, paid: zqcolumnbqz, assembly: zqcolumncqz, fabrication: zqcolumndqz}
  unsettled: zqunsettledqz
  need not be built: [zqnotbuiltqz]
  questions: [{ask: who, words: zqasksqz}]
  disclose: [zqdiscloseqz]
  evaluated: zqevaluatedqz
  cautions: [zqrulecautionqz]
  sources: [{what: zqrulesourceqz, paragraph: zqparagraphqz, known: read, says: zqsourcesaysqz}]
citation: zqcitationqz
wrenches: {zqwrenchqz: 2026-01-15}
papers: {zqpaperqz: {have: 2026-01-04, file: papers/zqpaperfileqz.pdf}}
answers: {gap: zqgapqz, because: zqbecauseqz}
holidays: [{from: 2026-07-06, until: 2026-07-26, why: zqholidayqz}]
"""
WORKLIST = """\
# zqlistremarkqz
areas:
  - area: W
    name: zqareaqz
    tasks:
      - {task: W1, name: zqtaskqz, work: fabrication, state: open,
         credit: {maker: 0.1, paid: 0.3, fabrication: 0.5}}
      - {task: W2, name: zqtaskotherqz, work: assembly, state: open,
         credit: {maker: 0.2, assembly: 0.8}}
      - {task: W3, name: zqtaskthirdqz, work: assembly, state: done, estimate: 4h}
"""
PUBLIC_NOTE = """\
---
date: 2026-03-14
title: zqnotetitleqz
hours: {zqinesqz: 1h, zqhelperqz: 1h, zqyesqz: 1h, zqnoqz: 1h}
tasks: [{task: W1, hours: 1h, per: zqperqz}]
parts:
  - part: zqpartqz
    count: 4
    cost: 791937.13 USD
    from: zqsupplierqz
    ref: zqrefqz
    status: fitted
    receipt: receipts/zqreceiptqz.pdf
photos:
  - {photo: photos/zqphotonameqz.jpg, shows: [W1], seen: [zqinesqz, zqyesqz], caption: zqcaptionqz}
  - {photo: photos/zqprivatephotoqz.jpg, caption: zqprivatecaptionqz, private: yes}
  - {photo: photos/zqsharedqz.jpg, caption: zqsharedcaptionqz}
  - {photo: photos/zqtwinqz.jpg, caption: zqtwincaptionqz}
  - {photo: photos/zqseenqz.jpg, caption: zqseencaptionqz, seen: [zqhelperqz]}
  - {photo: photos/zqpaidseenqz.jpg, caption: zqpaidseencaptionqz, seen: [zqinesqz, zqpaidqz]}
  - {photo: photos/zqpngqz.png, caption: zqpngcaptionqz}
  - {photo: photos/zqwebpqz.webp, caption: zqwebpcaptionqz}  # zqyamlremarkqz
  - {photo: photos/zqalbumqz/zqavifqz.avif, caption: zqavifcaptionqz}
  - {photo: photos/zqheifqz.heic, caption: zqheifcaptionqz}
measured: {what: zqmeasuredqz, value: 1 mm, limit: <= 2 mm}
torqued:
  - {where: zqtorquedqz, bolt: zqboltqz, to: 20 in-lb, extension: zqextensionqz,
     source: zqsourceqz, wrench: zqwrenchqz, by: zqinesqz}
process: {what: zqprocessqz, batch: zqbatchqz, mix: zqmixqz, coat: zqcoatqz, sample: zqsampleqz}
snags: [{snag: zqsnagqz, area: W, no: zqsnagnoqz}]
decided: {what: zqdecidedqz, why: zqwhyqz, instead of: zqinsteadqz, again: zqagainqz}
visits:
  - {who: [zqvisitorqz], as: zqvisitasqz, looked at: [W1], said: zqsaidqz, found: [zqfoundqz],
     sheet: receipts/zqsheetqz.pdf, result: zqresultqz}
away: {what: zqawayqz, task: W2, with: zqfirmqz, as: paid, sent: 2026-03-02}
bulletins: {no: zqbulletinqz, applies: no, done: zqbulletindoneqz}
next: zqnextqz
place: zqnoteplaceqz
---
Words zqproseqz, with a [zqlinkwordsqz](2026-03-20-zqprivatenameqz.md "zqlinktitleqz"), a
[zqreceiptwordsqz](../receipts/zqlinkedreceiptqz.pdf), the hours of
[zqhourswordsqz](2026-03-21-zqhoursnameqz.md), a [zqnextnotewordsqz](2026-03-15-zqnextnameqz.md)
and ![zqinlineqz](../photos/zqonlylinkedqz.jpg) beside ![zqprivatealtqz](../photos/zqsharedqz.jpg).

[zqunusedlabelqz]: ../receipts/zqunusedtargetqz.pdf "zqunusedtitleqz"
"""
SECOND_NOTE = """\
---
hours: {zqinesqz: 1h, zqpaidqz: 2h, zqpaidyesqz: 1h}
tasks: [W2]
fixed: {no: zqsnagnoqz, how: zqhowqz, by: zqnoqz, witness: zqpaidqz}
---
# zqheadingqz

More words. [zqpicturewordsqz](../photos/zqlinkedprivateqz.jpg)
"""
ALONE_NOTE = """\
---
date: 2026-03-16
title: zqalonetitleqz
hours: {zqyesqz: 1h}
---
"""
LETTER = """\
---
title: zqlettertitleqz
written: 2026-04-02
---
Words zqletterwordsqz, [zqletterlinkqz](../notes/2026-03-20-zqprivatenameqz.md "zqlettertipqz"),
![zqletterprivatealtqz](../photos/zqprivateonlyqz.jpg),
![zqletterseenaltqz](../photos/zqseenqz.jpg),
![zqletternobodyqz](../photos/zqlettersownqz.jpg), [zqletterbillqz](../receipts/zqreceiptqz.pdf)
and ![zqletteraltqz](../photos/zqphotonameqz.jpg).

<!-- zqlettercommentqz -->
"""
PRIVATE_NOTE = """\
---
date: 2026-03-20
title: zqprivatetitleqz
hours: {zqinesqz: 1h}
tasks: [{task: W2, hours: 0.5, per: zqprivateperqz}, {task: W3, hours: 0.5}]
closes: [W3]
parts:
  - {part: zqprivatepartqz, cost: 682911.57 USD, from: zqprivatefromqz, ref: zqprivaterefqz,
     receipt: receipts/zqprivatereceiptqz.pdf, status: wanted}
photos:
  - {photo: photos/zqprivateonlyqz.jpg, caption: zqprivatenotecaptionqz, shows: [W1]}
  - {photo: photos/zqsharedqz.jpg, caption: zqsharedprivatecaptionqz}
  - {photo: photos/zqoriginaltwinqz.jpg}
measured: {what: zqprivatemeasuredqz, value: 1 mm}
torqued: {where: zqprivatetorquedqz, source: zqprivatesourceqz}
process: {what: zqprivateprocessqz}
snags: [{snag: zqprivatesnagqz, task: W1, no: zqprivatesnagnoqz}]
decided: {what: zqprivatedecidedqz, why: zqprivatewhyqz, instead of: zqprivateinsteadqz}
visits: {who: [zqprivatevisitorqz], as: zqprivateasqz, said: zqprivatesaidqz}
away: {what: zqprivateawayqz, with: zqprivatefirmqz, as: paid}
bulletins: {no: zqprivatebulletinqz}
next: [zqprivatenextqz]
place: zqprivateplaceqz
private: yes
---
# zqprivateheadingqz

zqprivatewordsqz ![zqprivatelinkqz](../photos/zqlinkedprivateqz.jpg)
"""
HOURS_NOTE = """\
---
date: 2026-03-21
title: zqhourstitleqz
hours: {zqinesqz: 1h}
tasks: [{task: W2, hours: 0.5, per: zqhoursperqz}]
parts: [{part: zqhourspartqz, cost: 3 USD, from: zqhoursfromqz, ref: zqhoursrefqz,
         receipt: receipts/zqhoursreceiptqz.pdf}]
photos: [{photo: photos/zqhoursphotoqz.jpg, caption: zqhourscaptionqz}]
measured: {what: zqhoursmeasuredqz}
snags: [zqhourssnagqz]
decided: zqhoursdecidedqz
visits: {who: zqhoursvisitorqz, said: zqhourssaidqz, sheet: receipts/zqhourssheetqz.pdf}
away: {what: zqhoursawayqz, with: zqhoursfirmqz}
next: zqhoursnextqz
place: zqhoursplaceqz
private: hours only
---
zqhourswordsonlyqz ![zqhoursaltqz](../photos/zqhourslinkedqz.jpg)
"""
NOTES = {
    "notes/2026-03-14-zqfilenameqz.md": PUBLIC_NOTE,
    "notes/2026-03-15-zqnextnameqz.md": SECOND_NOTE,
    "notes/zqfolderqz/2026-03-16-zqalonenameqz.md": ALONE_NOTE,
    "notes/2026-03-20-zqprivatenameqz.md": PRIVATE_NOTE,
    "notes/2026-03-21-zqhoursnameqz.md": HOURS_NOTE,
}
# What friends see without being asked: one of each kind, so that the search cannot go blind.
TOLD = (
    *("zqtitleqz", "zqinesqz", "zqdesignqz", "zqyesqz", "zqareaqz", "zqtaskqz", "zqtaskotherqz"),
    "zqtaskthirdqz",
    *("zqnotetitleqz", "zqpartqz", "zqcaptionqz", "zqpngcaptionqz", "zqwebpcaptionqz"),
    *("zqavifcaptionqz", "zqheifcaptionqz", "zqlookpictureqz", "zqlookdrawingqz"),
    *("zqmeasuredqz", "zqdecidedqz", "zqwhyqz", "zqinsteadqz", "zqagainqz", "zqnextqz"),
    *("zqproseqz", "zqlinkwordsqz", "zqreceiptwordsqz", "zqhourswordsqz", "zqnextnotewordsqz"),
    *("zqinlineqz", "zqprivatealtqz", "zqpicturewordsqz", "zqheadingqz"),
    *("zqfilenameqz", "zqnextnameqz", "zqalonenameqz", "zqalonetitleqz"),
    *("zqlettertitleqz", "zqletterwordsqz", "zqletterlinkqz", "zqletterprivatealtqz"),
    *("zqletterseenaltqz", "zqletternobodyqz", "zqletterbillqz", "zqletteraltqz"),
    "zqlettercommentqz",
)
PICTURES = (
    *("photonameqz", "privatephotoqz", "sharedqz", "seenqz", "paidseenqz", "onlylinkedqz"),
    *("privateonlyqz", "linkedprivateqz", "hoursphotoqz", "hourslinkedqz", "uncalledqz"),
    "lettersownqz",
)
PAPERS = (
    *("receipts/zqreceiptqz", "receipts/zqlinkedreceiptqz", "receipts/zqsheetqz"),
    *("receipts/zqprivatereceiptqz", "receipts/zqhoursreceiptqz", "receipts/zqhourssheetqz"),
    *("papers/zqevaluationqz", "papers/zqpaperfileqz"),
)
EXIF: dict[int, object] = {
    ExifTags.Base.ImageDescription: "zqexifdescriptionqz",
    ExifTags.Base.Make: "zqexifmakeqz",
    ExifTags.Base.Model: "zqexifmodelqz",
    ExifTags.Base.Software: "zqexifsoftwareqz",
    ExifTags.Base.Artist: "zqexifartistqz",
    ExifTags.Base.Copyright: "zqexifcopyrightqz",
    ExifTags.Base.XPComment: "zqexifcommentqz".encode("utf-16-le"),
}
DETAIL: dict[int, object] = {
    ExifTags.Base.DateTimeOriginal: "2026:03:14 19:40:05",
    ExifTags.Base.BodySerialNumber: "zqexifserialqz",
    ExifTags.Base.LensSerialNumber: "zqexiflensqz",
    ExifTags.Base.CameraOwnerName: "zqexifownerqz",
    ExifTags.Base.UserComment: b"ASCII\0\0\0zqexifusercommentqz",
    ExifTags.Base.ImageUniqueID: "zqexifuniqueqz",
    ExifTags.Base.MakerNote: b"zqmakernoteqz",
}
GPS: dict[int, object] = {
    ExifTags.GPS.GPSLatitudeRef: "N",
    ExifTags.GPS.GPSLatitude: (48.0, 8.0, 13.7),
    ExifTags.GPS.GPSLongitudeRef: "E",
    ExifTags.GPS.GPSLongitude: (11.0, 34.0, 31.1),
    ExifTags.GPS.GPSMapDatum: "zqexifdatumqz",
    ExifTags.GPS.GPSAreaInformation: b"ASCII\0\0\0zqexifareaqz",
}
# More of what programs write into a JPEG: newspapers' words, second pictures, who made it, a list.
SEGMENTS = (
    (0xED, b"Photoshop 3.0\x008BIM\x04\x04zqiptcqz"),
    (0xE2, b"FPXR\x00zqsecondpictureqz"),
    (0xEB, b"JP\x00\x00zqprovenanceqz"),
    (0xE1, b"http://ns.adobe.com/xmp/extension/\x00zqxmpmoreqz"),
    (0xE5, b"zqmakersownqz"),
)
XMP = b'<x:xmpmeta xmlns:x="adobe:ns:meta/"><title>zqxmpqz</title></x:xmpmeta>'


def exif() -> Image.Exif:
    """Exif as a telephone writes it, and more of it than any does."""
    block = Image.Exif()
    block.update(EXIF)
    block.get_ifd(ExifTags.IFD.Exif).update(DETAIL)
    block.get_ifd(ExifTags.IFD.GPSInfo).update(GPS)
    return block


def profile() -> bytes:
    """An sRGB profile under a description of our own, of the same length as the library's."""
    made = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    plain, ours = ("sRGB built-in".encode("utf-16-be"), "zqiccnamelyqz".encode("utf-16-be"))
    assert plain in made
    return made.replace(plain, ours)


def photo(shade: int, kind: str = "JPEG") -> bytes:
    """A small picture of one shade with every kind of metadata, and bytes behind its end."""
    image, out = Image.new("RGB", (64, 48), (shade, 128, 255 - shade)), io.BytesIO()
    if kind == "PNG":
        text = PngImagePlugin.PngInfo()
        text.add_text("Comment", "zqpngtextqz")
        text.add_itxt("XML:com.adobe.xmp", XMP.decode())
        image.save(out, kind, exif=exif(), pnginfo=text, icc_profile=profile())
    elif kind == "WEBP":
        image.save(out, kind, exif=exif(), xmp=XMP, icc_profile=profile())
    elif kind in ("AVIF", "HEIF"):
        register_heif_opener()
        image.save(out, kind, exif=exif().tobytes(), xmp=XMP, icc_profile=profile(), quality=90)
        return out.getvalue()
    else:
        told = {"comment": b"zqjpegcommentqz", "xmp": XMP, "icc_profile": profile()}
        image.save(out, kind, exif=exif(), **told)
    data = out.getvalue()
    if kind == "JPEG":
        more = b"".join(bytes((255, mark)) + _length(said) + said for mark, said in SEGMENTS)
        data = data[:2] + more + data[2:]
    return data + (b"" if kind == "WEBP" else b"zqbehindqz")


def _length(said: bytes) -> bytes:
    return (len(said) + 2).to_bytes(2, "big")


def settings(show: Iterable[str] = (), more: str = "") -> str:
    """journal.yaml where the site may tell these things; `more` are other settings of the site."""
    return f"{JOURNAL}site: {{show: [{', '.join(show)}]{more}}}\n"


def files(show: Iterable[str] = (), more: str = "") -> dict[str, str | bytes]:
    """Every file of the journal; `show` is what its site may tell."""
    jpegs = {f"photos/zq{name}.jpg": photo(8 * shade) for shade, name in enumerate(PICTURES, 1)}
    return {
        "journal.yaml": settings(show, more),
        "worklist.yaml": WORKLIST,
        **NOTES,
        **jpegs,
        "photos/zqtwinqz.jpg": photo(200),
        "photos/zqoriginaltwinqz.jpg": photo(200),
        "photos/zqpngqz.png": photo(210, "PNG"),
        "photos/zqwebpqz.webp": photo(220, "WEBP"),
        "photos/zqalbumqz/zqavifqz.avif": photo(240, "AVIF"),
        "photos/zqheifqz.heic": photo(248, "HEIF"),
        "look/zqlookpictureqz.jpg": photo(240),
        "look/zqlookdrawingqz.png": photo(240, "PNG"),
        "look/.zqlooksecretqz.css": "zqlookhiddenqz",
        **{f"{path}.pdf": f"%PDF {path} zqinpaperqz".encode() for path in PAPERS},
        "inbox/zqinboxqz.jpg": photo(230),
        "letters/2026-03.md": LETTER,
        "letters/2026-03.html": "zqletterpageqz",
        "letters/2026-03.txt": "zqlettermailqz",
        "letters/zqletternameqz.md": "zqletterqz",
        "seals/zqsealqz.txt": "zqinsealqz",
        "zqstrayqz.txt": "zqinstrayqz",
    }


def write_hidden(root: Path, show: Iterable[str] = (), more: str = "") -> Path:
    """Writes the journal below `root`."""
    return write(root, files(show, more))


def planted() -> frozenset[str]:
    """Every marker of the journal: in its names, words, and pictures; money beside them."""
    found = set(COSTS)
    for path, data in files().items():
        whole = path.encode() + b"\n" + (data if isinstance(data, bytes) else data.encode())
        found.update(markers_in(whole))
    return frozenset(found)


def markers_in(data: bytes) -> set[str]:
    """The markers in some bytes, be they written in 8 or in 16 bits, plain or percent-encoded."""
    forms = (data, data.replace(b"\0", b""), unquote_to_bytes(data))
    found = {word.decode().lower() for form in forms for word in MARKER.findall(form)}
    found.update(cost for cost in COSTS if cost.encode() in data)
    return found


def words_of_picture(file: Path | io.BytesIO) -> bytes:
    """What a picture says beside its pixels, as its library and its profile tell it."""
    with Image.open(file) as image:
        told = [repr(image.info), *map(repr, image.getexif().items())]
        told += [
            repr(dict(image.getexif().get_ifd(part)))
            for part in (ExifTags.IFD.Exif, ExifTags.IFD.GPSInfo)
        ]
        if icc := image.info.get("icc_profile"):
            described = ImageCms.ImageCmsProfile(io.BytesIO(icc)).profile.profile_description
            told.append(str(described))
    return "\n".join(told).encode("utf-8", "backslashreplace")


def embedded(data: bytes) -> Iterator[bytes]:
    """What pages hold in `data:` addresses, and what the pictures among it say beside pixels."""
    for kind, text in EMBEDDED.findall(data):
        held = base64.b64decode(unquote_to_bytes(text))
        yield held
        if kind.startswith(b"image/") and not kind.startswith(b"image/svg"):
            yield words_of_picture(io.BytesIO(held))


def searched(folder: Path) -> tuple[set[str], int]:
    """The markers anywhere in a folder's names, bytes and pictures' words; the bytes searched."""
    found: set[str] = set()
    size = 0
    for file in sorted(folder.rglob("*")):
        data = [file.relative_to(folder).as_posix().encode()]
        if file.is_file():
            data.append(file.read_bytes())
            data += embedded(data[-1])
        if file.suffix in (".webp", ".jpg", ".png"):
            data.append(words_of_picture(file))
        for piece in data:
            found |= markers_in(piece)
            size += len(piece)
    return found, size
